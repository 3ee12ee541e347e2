"""Pages written as the operators of a PDF (ISO 32000-1, 8 and 9, from memory), behind what a canvas has drawn once.

A canvas keeps an object for everything it draws, and works out anew what is the same on every page. Here a page is one
text: the library only embeds the typeface and writes what all pages share.
"""

import re
import zlib
from collections.abc import Iterable, Sequence
from functools import lru_cache, partial
from typing import Any

from reportlab.lib.rl_accel import escapePDF, fp_str
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFResourceDictionary, xObjectName
from reportlab.pdfgen.canvas import Canvas

from planning.documents.pdf.appended import Pages, with_pages
from planning.documents.pdf.fonts import text_width
from planning.documents.pdf.typeset import LEADING, Block

FIGURES = str.maketrans("123456789", "000000000")
ELSEWHERE = "\n"  # which no text that is shown holds
NOT_AS_IT_IS = re.compile(r"[()\\]|[^ -~]")
REMEMBERED = 4_000  # places and sizes: a wave's slips have them in common
SHARE_BELOW = 0.3  # of a size: how far a line's foot lies below its letters


@lru_cache(maxsize=REMEMBERED)
def figures(*values: float) -> str:
    """Return numbers as a PDF has them."""
    return str(fp_str(*values))


class Letters(dict[int, str]):
    """How each character, by its number, is written in the first 256 of a typeface's in the file; else ELSEWHERE."""

    def __init__(self, font: str, document: Any) -> None:
        super().__init__()
        self._split = partial(typeface(font).splitString, doc=document)
        self[ord(" ")]  # from now on the typeface is in the file

    def __missing__(self, code: int) -> str:
        [(subset, byte)] = self._split(chr(code))
        self[code] = ELSEWHERE if subset else escapePDF(byte)
        return self[code]


def typeface(font: str) -> Any:
    """Return a typeface as the library keeps it; its type stubs know nothing of how letters are numbered."""
    return pdfmetrics.getFont(font)


def width_of(text: str, font: str, size: float) -> float:
    """Return how wide a text runs, in points. Figures are all equally wide, so that counts need no measuring anew."""
    return width_alike(text.translate(FIGURES), font, size)


@lru_cache(maxsize=REMEMBERED)
def width_alike(text: str, font: str, size: float) -> float:
    """Return how wide a text runs, and every text that differs in its figures alone."""
    return text_width(text, font, size)


class ReadyPages:
    """Pages to come behind the forms of a canvas, all of one size and all with every form at hand."""

    def __init__(self, canvas: Canvas, forms: Iterable[str], fonts: Iterable[str]) -> None:
        self._canvas: Any = canvas
        self._document: Any = canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001 - no public way leads to it
        self._letters = {font: Letters(font, self._document) for font in fonts}
        self._names = {font: self._name_of(font) for font in self._letters}
        self._resources = self._document.Reference(self._resources_of(forms))
        self._streams: list[bytes] = []

    def add(self, marks: Sequence[str]) -> None:
        """Add a page."""
        self._streams.append(zlib.compress("\n".join(marks).encode("ascii")))

    def finish(self) -> bytes:
        """Return the file: what the canvas makes of the forms, then the pages."""
        file: bytes = self._canvas.getpdfdata()
        parent = self._number(self._document.Reference(self._document.Pages))
        wide, high = self._canvas._pagesize  # noqa: SLF001
        shared = Pages(parent, self._number(self._resources), f"[ 0 0 {figures(wide, high)} ]".encode())
        return with_pages(file, shared, self._streams)

    def form(self, name: str) -> str:
        """Return the mark of a form."""
        return f"/{xObjectName(name)} Do"

    def text(self, x: float, y: float, font: str, size: float, text: str, spread: float = 0) -> str:
        """Return the mark of a text that begins at x. spread: points between its characters."""
        spacing, end = (f"{figures(spread)} Tc ", " 0 Tc") if spread else ("", "")
        return (
            f"BT {spacing}{figures(x, y)} Td {self._set(font, size)} {self._shown(text, font, size)}{end} ET"
        )

    def right(self, x: float, y: float, font: str, size: float, text: str) -> str:
        """Return the mark of a text that ends at x."""
        return self.text(x - width_of(text, font, size), y, font, size, text)

    def centred(self, x: float, y: float, font: str, size: float, text: str, spread: float = 0) -> str:
        """Return the mark of a text with its middle at x."""
        width = width_of(text, font, size) + spread * (len(text) - 1)
        return self.text(x - width / 2, y, font, size, text, spread)

    def block(self, x: float, top: float, block: Block) -> str:
        """Return the mark of a block of lines that reaches down from `top`."""
        font, size, step = block.font, block.size, block.size * LEADING
        lines = " T* ".join([self._shown(line, font, size) for line in block.lines])
        return f"BT {figures(x, top - step + size * SHARE_BELOW)} Td {self._set(font, size)} {figures(step)} TL {lines} ET"

    def _shown(self, text: str, font: str, size: float) -> str:
        shown = text if not NOT_AS_IT_IS.search(text) else text.translate(self._letters[font])
        return f"({shown}) Tj" if ELSEWHERE not in shown else self._in_runs(text, font, size)

    def _in_runs(self, text: str, font: str, size: float) -> str:
        shown, current = list[str](), 0
        for subset, run in typeface(font).splitString(text, self._document):
            shown += [self._set(font, size, subset)] if subset != current else []
            shown.append(f"({escapePDF(run)}) Tj")
            current = subset
        return " ".join([*shown, *([self._set(font, size)] if current else [])])

    def _set(self, font: str, size: float, subset: int = 0) -> str:
        return f"{self._names[font]}+{subset} {figures(size)} Tf"

    def _name_of(self, font: str) -> str:
        name: str = typeface(font).getSubsetInternalName(0, self._document)
        return name.partition("+")[0]

    def _resources_of(self, forms: Iterable[str]) -> Any:
        resources: Any = PDFResourceDictionary()
        resources.basicFonts()
        resources.XObject = self._document.xobjDict(list(forms))
        return resources

    def _number(self, reference: Any) -> int:
        return int(self._document.idToObjectNumberAndVersion[reference.name][0])
