"""Words on a recipe's drawings: inside their room, on a clear ground where there is hatching beneath."""

from collections.abc import Iterator, Sequence

from kits.drawing import Rect, Shape, Style, Text, fitted, text_width

SIZES = (4.2, 3.8, 3.4, 3.0, 2.7)
NOTE = 3.4
LINE = 5.0
GAP = 1.2


def label(choices: Sequence[Sequence[str]], room: Rect, *, ground: bool = False) -> Iterator[Shape]:
    """Yield the first of the choices that fits in the room, with a clear ground behind it if asked."""
    texts = fitted(choices, room, SIZES)
    if ground:
        yield from (blank(text) for text in texts)
    yield from texts


def blank(text: Text) -> Rect:
    """Return a clear ground for a text that stands around its middle."""
    half, rise, drop = text_width(text.text, text.size) / 2 + 0.4, text.size * 0.86, text.size * 0.32
    if text.upwards:
        return Rect(text.x - rise, text.y - half, rise + drop, 2 * half, Style.BLANK)
    return Rect(text.x - half, text.y - rise, 2 * half, rise + drop, Style.BLANK)


def shortened(text: str, size: float, width: float) -> str:
    """Return a text, cut off with a mark so that it ends within the width."""
    shown = text
    while text_width(shown, size) > width and len(shown) > 1:
        shown = shown.removesuffix("…")[:-1] + "…"
    return shown
