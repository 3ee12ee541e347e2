"""Hatching, so that an area is told apart without its colour."""

from math import ceil

from kits.drawing.look import Style
from kits.drawing.shapes import Path, Point

APART = 3.0


def hatched(x: float, y: float, width: float, height: float) -> Path:
    """Return slanted lines across a rectangle. Those of neighbours meet, so they read as one ground."""
    lines: list[tuple[Point, ...]] = []
    right, bottom = x + width, y + height
    total = APART * ceil((x + y) / APART)  # along one line x + y stays the same
    while total < right + bottom:
        left_end = (x, total - x) if total - x <= bottom else (total - bottom, bottom)
        right_end = (right, total - right) if total - right >= y else (total - y, y)
        if left_end != right_end:
            lines.append((left_end, right_end))
        total += APART
    return Path(tuple(lines), Style.HATCH)
