"""Text set into the room there is: smaller and wrapped rather than cut."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice

from planning.documents.pdf.fonts import text_width

LEADING = 1.22
GOES_ON = "… (see the roster)"


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of one size, as they break."""

    font: str
    size: float
    lines: tuple[str, ...]

    @property
    def height(self) -> float:
        """Points from the top of the first line to the foot of the last."""
        return len(self.lines) * self.size * LEADING


def fit(lines: Sequence[str], font: str, sizes: Sequence[float], width: float, height: float) -> Block:
    """Return the lines at the largest of falling sizes at which they fit into a room (points), wrapped if need be.

    Where not even the smallest will do, the last line says that the text goes on elsewhere.
    """
    if len(lines) * sizes[0] * LEADING <= height and all(fits(line, font, sizes[0], width) for line in lines):
        return Block(font, sizes[0], tuple(lines))  # most, and the quickest told
    for size in sizes:
        rows = int(height / (size * LEADING))
        broken = tuple(islice((part for line in lines for part in wrap(line, font, size, width)), rows + 1))
        torn = len(broken) > len(lines) and size > sizes[-1] and tears(lines, font, size, width)
        if len(broken) <= rows and not torn:
            return Block(font, size, broken)
    return Block(font, size, (*broken[: rows - 1], GOES_ON))


def fits(text: str, font: str, size: float, width: float) -> bool:
    """Tell whether a text fits into one line; what is short enough for the widest of letters needs no measuring."""
    is_short = text.isascii() and len(text) * widest(font) * size <= width
    return is_short or text_width(text, font, size) <= width


@cache
def widest(font: str) -> float:
    """Return how wide the widest character of ASCII is, in sizes of the type."""
    return max(text_width(chr(code), font, 1) for code in range(32, 127))


def tears(lines: Sequence[str], font: str, size: float, width: float) -> bool:
    """Tell whether a word is too wide for a line of its own."""
    parts = (part for line in lines for part in line.replace("-", "- ").split())
    return any(text_width(part, font, size) > width for part in parts)


def shrunk(text: str, font: str, size: float, width: float) -> float:
    """Return the size at which a text fits into one line, at most the size given."""
    return size * min(1.0, width / max(text_width(text, font, size), 1.0))


def wrap(text: str, font: str, size: float, width: float) -> Iterator[str]:
    """Yield a text in lines no wider than `width` (points), broken between words or, if need be, within one."""
    while text_width(text, font, size) > width:
        end = fitting(text, font, size, width)
        end = max(text.rfind(" ", 1, end + 1), text.rfind("-", 0, end) + 1, 0) or end
        yield text[:end].rstrip()
        text = text[end:].lstrip()
    yield text


def fitting(text: str, font: str, size: float, width: float) -> int:
    """Return how many characters from the start fit, at least one."""
    low, high = 1, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle], font, size) <= width:
            low = middle
        else:
            high = middle - 1
    return low
