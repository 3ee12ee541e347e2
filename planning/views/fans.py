"""A fan of what may come, and how far each uncertainty swings a figure, on the same display list as the other drawings."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from kits.drawing import Anchor, Drawing, Line, Path, Point, Rect, Shape, Style, Text
from planning.views.curves import BOTTOM, LEFT, Axis, grid, place
from planning.views.drawings import LETTERS, LOW, WIDE

HIGH = LOW + 8
ROW = 13.0  # of a swing, its name above it
NAMED = 6  # months between those that are named below


@dataclass(frozen=True, slots=True)
class Ahead:
    """A month to come: counts not passed with 10, 25, 50, 75 and 90 percent."""

    name: str
    counts: tuple[int, int, int, int, int]


def fan(
    title: str, past: Sequence[tuple[str, int]], ahead: Sequence[Ahead], y: Axis, description: str
) -> Drawing:
    """Draw what was as a line, and what may come as bands around the middle, each month a step to the right."""
    months = [*(name for name, _ in past), *(one.name for one in ahead)]
    x = Axis(0, max(len(months) - 1, 1), ("", ""))
    last = [(len(past) - 1.0, float(past[-1][1]))] if past else []

    def edge(of: int) -> list[Point]:
        return last + [(float(len(past) + at), float(one.counts[of])) for at, one in enumerate(ahead)]

    shapes: list[Shape] = [*grid(x, y)]
    for low, high, style in ((0, 4, Style.PIECE), (1, 3, Style.PHOTO)):
        corners = [*edge(low), *reversed(edge(high))]
        shapes.append(Path((tuple(place(one, x, y) for one in corners),), style, closed=True))
    was = tuple(place((at, count), x, y) for at, (_, count) in enumerate(past))
    shapes += [Path((was,), Style.EDGE)] if len(was) > 1 else []
    shapes.append(Path((tuple(place(one, x, y) for one in edge(2)),), Style.CUT))
    return Drawing(WIDE, HIGH, title, description, (*shapes, *months_named(months, x)))


def months_named(months: Sequence[str], x: Axis) -> Iterator[Shape]:
    """Yield the names of some months below, the last always."""
    for at in range(len(months) - 1, -1, -NAMED):
        left, _ = place((at, 0), x, Axis(0, 1, ()))
        anchor = Anchor.END if at == len(months) - 1 else Anchor.MIDDLE if at else Anchor.START
        yield Line(left, HIGH - BOTTOM, left, HIGH - BOTTOM + 1.2, Style.TICK)
        yield Text(left, HIGH - BOTTOM + 1.6 + LETTERS, months[at], LETTERS, anchor)


@dataclass(frozen=True, slots=True)
class Swung:
    """What a figure is with one thing at its low end and at its high end; each end also as it is written."""

    name: str
    at_low: float
    at_high: float
    words: tuple[str, str]


def tornado(title: str, rows: Sequence[Swung], middle: float, description: str) -> Drawing:
    """Draw a bar for each uncertainty from one end to the other, the widest at the top, around what is expected."""
    ends = [middle, *(one.at_low for one in rows), *(one.at_high for one in rows)]
    low, high = min(ends), max(ends)
    x = Axis(low, high if high > low else low + 1, ())

    def across(value: float) -> float:
        return LEFT + x.share(value) * (WIDE - 2 * LEFT)

    shapes: list[Shape] = []
    for number, one in enumerate(rows):
        shapes += swung(one, number * ROW, across, middle)
    return Drawing(WIDE, max(len(rows), 1) * ROW, title, description, tuple(shapes))


def swung(one: Swung, top: float, across: Callable[[float], float], middle: float) -> Iterator[Shape]:
    """Yield one bar: its name above, the part at its low end darker, and both ends in figures."""
    yield Text(0, top + LETTERS * 1.1, one.name, LETTERS)
    y, high = top + LETTERS * 1.6, ROW - LETTERS * 1.6 - 2
    for value, style in ((one.at_low, Style.NOTE), (one.at_high, Style.PHOTO)):
        left, right = sorted((across(value), across(middle)))
        yield Rect(left, y, right - left, high, style)
        yield Rect(left, y, right - left, high, Style.OUTLINE)
    yield Line(across(middle), y - 0.8, across(middle), y + high + 0.8, Style.EDGE)
    (left, word), (right, other) = sorted(
        zip((across(one.at_low), across(one.at_high)), one.words, strict=True)
    )
    base = y + high / 2 + LETTERS * 0.35
    yield Text(min(left, across(middle)) - 1, base, word, LETTERS, Anchor.END)
    yield Text(max(right, across(middle)) + 1, base, other, LETTERS)
