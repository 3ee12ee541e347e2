"""Arrows."""

from math import hypot

from kits.drawing.look import Style
from kits.drawing.shapes import Path, Point

HEAD = 2.0
SLANT = 0.5


def arrow_both_ways(start: Point, end: Point) -> Path:
    """Return a line with a head at both ends, for what runs along it in neither direction more than the other."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    return Path(
        ((start, end), _head(start, along), _head(end, (-along[0], -along[1]))),
        Style.ARROW,
    )


def _head(tip: Point, along: Point) -> tuple[Point, ...]:
    (x, y), (dx, dy) = tip, along
    one = (x + HEAD * (dx - SLANT * dy), y + HEAD * (dy + SLANT * dx))
    other = (x + HEAD * (dx + SLANT * dy), y + HEAD * (dy - SLANT * dx))
    return one, tip, other
