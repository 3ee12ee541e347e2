"""Text set into the room there is: smaller and wrapped rather than cut."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from reportlab.pdfgen.canvas import Canvas

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

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Draw the lines downwards from `top`."""
        canvas.setFont(self.font, self.size)
        for row, line in enumerate(self.lines, 1):
            canvas.drawString(x, top - row * self.size * LEADING + self.size * 0.3, line)


def fit(lines: Sequence[str], font: str, sizes: Sequence[float], width: float, height: float) -> Block:
    """Return the lines at the largest of falling sizes at which they fit into a room (points), wrapped if need be.

    Where not even the smallest will do, the last line says that the text goes on elsewhere.
    """
    for size in sizes:
        rows = int(height / (size * LEADING))
        broken = tuple(islice((part for line in lines for part in wrap(line, font, size, width)), rows + 1))
        torn = len(broken) > len(lines) and size > sizes[-1] and tears(lines, font, size, width)
        if len(broken) <= rows and not torn:
            return Block(font, size, broken)
    return Block(font, size, (*broken[: rows - 1], GOES_ON))


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
