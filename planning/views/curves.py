"""A curve of cost against quantity, on the same display list as the other drawings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from kits.drawing import Anchor, Drawing, Line, Path, Rect, Shape, Style, Text
from planning.views.drawings import LETTERS, LOW, WIDE

LEFT, RIGHT, TOP, BOTTOM = 19.0, 4.0, 7.0, 11.0  # room for words around the curve
MARK = 2.2


@dataclass(frozen=True, slots=True)
class Spot:
    """A point that is named on the curve. above: its words stand above it, and not below."""

    name: str
    x: float
    y: float
    style: Style
    above: bool = True


@dataclass(frozen=True, slots=True)
class Axis:
    """The stretch of values shown, and how one is written."""

    low: float
    high: float
    words: Sequence[str]

    def share(self, value: float) -> float:
        """Return where a value lies between the ends."""
        return (value - self.low) / (self.high - self.low)


def curve(
    title: str,
    points: Sequence[tuple[float, float]],
    spots: Sequence[Spot],
    x: Axis,
    y: Axis,
    description: str,
) -> Drawing:
    """Draw a curve through points, with values along both axes and some points named."""
    line = tuple(place(one, x, y) for one in points)
    shapes: list[Shape] = [*grid(x, y), Path((line,), Style.CUT)]
    for spot in spots:
        shapes += named(spot, x, y)
    return Drawing(WIDE, LOW + 8, title, description, tuple(shapes))


def place(point: tuple[float, float], x: Axis, y: Axis) -> tuple[float, float]:
    """Return where a point lies on the drawing."""
    high = LOW + 8 - TOP - BOTTOM
    return LEFT + x.share(point[0]) * (WIDE - LEFT - RIGHT), TOP + (1 - y.share(point[1])) * high


def grid(x: Axis, y: Axis) -> Iterator[Shape]:
    """Yield the axes with their values, evenly spread."""
    bottom, right = LOW + 8 - BOTTOM, WIDE - RIGHT
    for at, word in enumerate(y.words):
        level = bottom - (bottom - TOP) * at / (len(y.words) - 1)
        yield Line(LEFT, level, right, level, Style.TICK)
        yield Text(LEFT - 1.5, level + LETTERS * 0.35, word, LETTERS, Anchor.END)
    for at, word in enumerate(x.words):
        place_x = LEFT + (right - LEFT) * at / (len(x.words) - 1)
        anchor = Anchor.END if at == len(x.words) - 1 else Anchor.MIDDLE
        yield Line(place_x, bottom, place_x, bottom + 1.2, Style.TICK)
        yield Text(place_x, bottom + 1.6 + LETTERS, word, LETTERS, anchor)


def named(spot: Spot, x: Axis, y: Axis) -> Iterator[Shape]:
    """Yield a mark on the curve with its words, kept inside the drawing."""
    left, top = place((spot.x, spot.y), x, y)
    yield Line(left, top, left, LOW + 8 - BOTTOM, Style.TICK)
    yield Rect(left - MARK / 2, top - MARK / 2, MARK, MARK, spot.style)
    anchor = Anchor.START if left < WIDE / 3 else Anchor.END if left > 2 * WIDE / 3 else Anchor.MIDDLE
    yield Text(left, top - 2.4 if spot.above else top + 2.4 + LETTERS, spot.name, LETTERS, anchor)
