"""Grounds by which papers are told apart in grey as in colour: plain, and lines of several directions."""

from kits.drawing import Path, Point, Rect, Shape, Style

APART = 2.4
CLEAR = 0.2  # a line nearer to an edge would run into its outline


def ground(rect: Rect, number: int) -> tuple[Shape, ...]:
    """Return a piece of the paper with that number: its rectangle, and the lines of its ground. They repeat after 6."""
    lines: list[tuple[Point, ...]] = []
    for way in _WAYS[number % len(_WAYS)]:
        lines += way(rect)
    return (rect, Path(tuple(lines), Style.HATCH)) if lines else (rect,)


def _level(rect: Rect) -> list[tuple[Point, ...]]:
    return [((rect.x, y), (rect.x + rect.width, y)) for y in _places(rect.y, rect.height)]


def _upright(rect: Rect) -> list[tuple[Point, ...]]:
    return [((x, rect.y), (x, rect.y + rect.height)) for x in _places(rect.x, rect.width)]


def _rising(rect: Rect) -> list[tuple[Point, ...]]:
    """Lines on which x + y stays the same."""
    right, bottom = rect.x + rect.width, rect.y + rect.height
    lines: list[tuple[Point, ...]] = []
    for total in _places(rect.x + rect.y, rect.width + rect.height):
        start = (rect.x, total - rect.x) if total - rect.x <= bottom else (total - bottom, bottom)
        end = (right, total - right) if total - right >= rect.y else (total - rect.y, rect.y)
        lines.append((start, end))
    return lines


def _falling(rect: Rect) -> list[tuple[Point, ...]]:
    """The same lines in a mirror."""
    middle = 2 * rect.x + rect.width
    return [tuple((middle - x, y) for x, y in line) for line in _rising(rect)]


def _places(start: float, length: float) -> list[float]:
    """Return places inside a length, off its ends; counted from zero, so that the lines of neighbours meet."""
    first = int((start + CLEAR) / APART) + 1
    return [number * APART for number in range(first, int((start + length - CLEAR) / APART) + 1)]


_WAYS = ((), (_rising,), (_level,), (_upright,), (_falling,), (_level, _upright))
