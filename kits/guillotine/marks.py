"""The marks along the two edges of a sheet that touch the machine, set so that none is written over another."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kits.drawing import text_width
from kits.guillotine.tree import Cut, Direction, Part, walk
from kits.measures import Length, Ruler

TEXT = 3.4  # mm
APART = 1.15 * TEXT


@dataclass(frozen=True, slots=True)
class Mark:
    """A place where something is cut, or the end of the sheet.

    at: mm along the edge. label_at: where its label stands, which may be moved a little; None without a label.
    """

    at: float
    label: str
    label_at: float | None


@dataclass(frozen=True, slots=True)
class Axis:
    """Marks along one edge. upwards: labels are turned to stand closer. room: mm that labels need beside it."""

    marks: tuple[Mark, ...]
    upwards: bool
    room: float


def above(tree: Part, ruler: Ruler, scale: float) -> Axis:
    """Return the marks along the top edge. scale: mm of the drawing per length."""
    levels = _levels(tree, Direction.UPRIGHT)
    widths = {mark: text_width(ruler.marks(mark), TEXT) + TEXT / 2 for mark in levels}
    if len(_thinned(levels, scale, widths)) == len(levels):
        marks = tuple(Mark(mark * scale, ruler.marks(mark), mark * scale) for mark in sorted(levels))
        return Axis(marks, upwards=False, room=TEXT)
    return _close(levels, ruler, scale, upwards=True)


def beside(tree: Part, ruler: Ruler, scale: float) -> Axis:
    """Return the marks along the left edge."""
    return _close(_levels(tree, Direction.LEVEL), ruler, scale, upwards=False)


def _levels(tree: Part, direction: Direction) -> dict[Length, int]:
    """Return each place with how early it is cut: 0 for the end of the sheet, then 1 and on."""
    levels = {tree.width if direction is Direction.UPRIGHT else tree.height: 0}
    for placed in walk(tree):
        if isinstance(placed.part, Cut) and placed.part.direction is direction:
            start = placed.x if direction is Direction.UPRIGHT else placed.y
            for mark in placed.part.marks:
                levels[start + mark] = min(placed.level + 1, levels.get(start + mark, placed.level + 1))
    return levels


def _close(levels: Mapping[Length, int], ruler: Ruler, scale: float, *, upwards: bool) -> Axis:
    """Return labels one below the other: all of them if they have room somewhere near, else those cut first."""
    end = max(levels) * scale
    chosen = sorted(levels)
    if len(chosen) * APART > end:
        chosen = sorted(_thinned(levels, scale, dict.fromkeys(levels, APART)))
    places = dict(zip(chosen, spread([mark * scale for mark in chosen], APART, end), strict=True))
    marks = tuple(Mark(mark * scale, ruler.marks(mark), places.get(mark)) for mark in sorted(levels))
    room = max(text_width(mark.label, TEXT) for mark in marks if mark.label_at is not None)
    return Axis(marks, upwards, room)


def _thinned(levels: Mapping[Length, int], scale: float, needs: Mapping[Length, float]) -> list[Length]:
    """Return the places that have room for what they need along the edge, those cut first before others."""
    chosen: list[Length] = []
    for mark in sorted(levels, key=lambda mark: (levels[mark], mark)):
        if all(abs(mark - other) * scale >= (needs[mark] + needs[other]) / 2 for other in chosen):
            chosen.append(mark)
    return chosen


def spread(wanted: Sequence[float], apart: float, end: float) -> list[float]:
    """Return places at least so far apart and none beyond the end, as near as can be to those wanted (rising).

    Those that would touch form a block around the middle of what its members want.
    """
    blocks: list[list[float]] = []
    for place in wanted:
        blocks.append([place])
        while len(blocks) > 1 and _start(blocks[-2], apart, end) + len(blocks[-2]) * apart > _start(
            blocks[-1], apart, end
        ):
            blocks[-2:] = [blocks[-2] + blocks[-1]]
    return [_start(block, apart, end) + number * apart for block in blocks for number in range(len(block))]


def _start(block: Sequence[float], apart: float, end: float) -> float:
    middle = sum(place - number * apart for number, place in enumerate(block)) / len(block)
    return min(middle, end - (len(block) - 1) * apart)
