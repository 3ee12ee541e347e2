"""Words that stay inside their rectangle: smaller, broken into more lines, turned upwards, fewer, or none."""

from collections.abc import Iterator, Sequence

from kits.drawing.letters import text_width
from kits.drawing.shapes import Anchor, Rect, Text

LEADING = 1.25
BASELINE = 0.36  # from the middle of a line of text down to its baseline
MARGIN = 0.8


def fitted(choices: Sequence[Sequence[str]], room: Rect, sizes: Sequence[float]) -> tuple[Text, ...]:
    """Return the first of the choices, each some lines of text, that fits in the middle of the room.

    Each is tried in every size, level before upwards, as given before its first line is broken into words.
    Nothing is returned where none fits.
    """
    for choice in choices:
        for lines, upwards in _ways(choice):
            wide, high = (room.height, room.width) if upwards else (room.width, room.height)
            for size in sizes:
                if _fits(lines, size, wide, high):
                    return _set(lines, room, size, upwards=upwards)
    return ()


def _ways(lines: Sequence[str]) -> Iterator[tuple[Sequence[str], bool]]:
    broken = [*(lines[0].split() or [""]), *lines[1:]]
    for upwards in (False, True):
        yield lines, upwards
        yield broken, upwards


def _fits(lines: Sequence[str], size: float, wide: float, high: float) -> bool:
    longest = max(text_width(line, size) for line in lines)
    return longest + 2 * MARGIN <= wide and size + (len(lines) - 1) * size * LEADING + MARGIN <= high


def _set(lines: Sequence[str], room: Rect, size: float, *, upwards: bool) -> tuple[Text, ...]:
    x, y = room.x + room.width / 2, room.y + room.height / 2
    first = size * BASELINE - (len(lines) - 1) / 2 * size * LEADING
    texts = []
    for number, line in enumerate(lines):
        down = first + number * size * LEADING
        place = (x + down, y) if upwards else (x, y + down)
        texts.append(Text(*place, line, size, Anchor.MIDDLE, upwards))
    return tuple(texts)
