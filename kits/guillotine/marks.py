"""The marks along the two edges of a sheet that touch the machine, set so that none is written over another.

Sizes too: on the ruler's marks where they lie on some, else in millimetres, as such a sheet is sold.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kits.drawing import text_width
from kits.guillotine.tree import Cut, Direction, Part, walk
from kits.measures import MM, Length, LengthUnit, Ruler, format_length

TEXT = 3.4  # mm
APART = 1.15 * TEXT
TENTHS = 10  # of a millimetre; nobody measures what is left over more finely


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
    labels = _labels(levels, ruler)
    widths = {mark: text_width(label, TEXT) + TEXT / 2 for mark, label in labels.items()}
    if len(_thinned(levels, scale, widths)) == len(levels):
        marks = tuple(Mark(mark * scale, labels[mark], mark * scale) for mark in sorted(levels))
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


def _labels(levels: Mapping[Length, int], ruler: Ruler) -> dict[Length, str]:
    """Return what is written at each place; the end of a sheet is said exactly, as nothing is cut there."""
    end = max(levels)
    return {mark: side(mark, ruler) if mark == end else ruler.marks(mark) for mark in levels}


def _close(levels: Mapping[Length, int], ruler: Ruler, scale: float, *, upwards: bool) -> Axis:
    """Return labels one below the other: all of them if they have room somewhere near, else those cut first."""
    end = max(levels) * scale
    chosen = sorted(levels)
    if len(chosen) * APART > end:
        chosen = sorted(_thinned(levels, scale, dict.fromkeys(levels, APART)))
    places = dict(zip(chosen, spread([mark * scale for mark in chosen], APART, end), strict=True))
    labels = _labels(levels, ruler)
    marks = tuple(Mark(mark * scale, labels[mark], places.get(mark)) for mark in sorted(levels))
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


# --- Sizes ---


def side(length: Length, ruler: Ruler, *, unit: bool = False) -> str:
    """Return a length on the ruler's marks, its unit only if asked for; beside them as `size` says it."""
    if ruler.holds(length):
        return f"{ruler.marks(length)} {ruler.unit}" if unit else ruler.marks(length)
    return _in_one_unit(length)[0]


def size(width: Length, height: Length, ruler: Ruler, *, unit: bool = False) -> str:
    """Return a width and a height in one unit in which both are exact: `12 × 12`, `210 × 297 mm`.

    Where there is none they are in millimetres, to a tenth.
    """
    if ruler.holds(width) and ruler.holds(height):
        return f"{ruler.marks(width)} × {side(height, ruler, unit=unit)}"
    first, second = _in_one_unit(width, height)
    return f"{first.rpartition(' ')[0]} × {second}"


def _in_one_unit(*lengths: Length) -> list[str]:
    inches = [format_length(length) for length in lengths]  # in mm where they are no fraction of an inch
    is_metric = all(length * TENTHS % MM == 0 for length in lengths)
    if is_metric or not all(text.endswith(LengthUnit.INCH) for text in inches):
        return [_millimetres(length) for length in lengths]
    return inches


def _millimetres(length: Length) -> str:
    """Return a length in millimetres, to a tenth and marked as rounded where it is finer."""
    tenths = (2 * TENTHS * length + MM) // (2 * MM)
    whole, rest = divmod(tenths, TENTHS)
    about = "≈" if tenths * MM != TENTHS * length else ""
    return f"{about}{whole}{f'.{rest}' if rest else ''} {LengthUnit.MM}"
