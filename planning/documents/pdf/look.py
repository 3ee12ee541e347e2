"""The look of every paper: ink on white, hairlines, and one warm colour for "needs you" and nothing else."""

from typing import Literal
from xml.sax.saxutils import escape

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, Paragraph

from planning.documents.pdf.fonts import STRONG, TEXT, load_fonts, printable
from planning.documents.pdf.words import LETTER

BLACK = HexColor("#000000")
INK = HexColor("#20242B")
SOFT = HexColor("#575D68")
RULE = HexColor("#CBC4B5")
FAINT = HexColor("#F3EEE3")
NEED = HexColor("#A63C17")

HAIRLINE = 0.5
ROOM_BELOW_HEADING = 26 * mm
LONGEST = 1_000  # characters
MARGIN = 15 * mm
HEADER = 17 * mm  # from the top edge to the hairline under the club's name
FOOTER = 14 * mm  # from the bottom edge to the hairline over the plan's stamp

Look = Literal[
    "text",
    "number",
    "head",
    "number head",
    "small",
    "title",
    "heading",
    "need",
    "need number",
    "strong",
    "strong number",
]


def style(
    font: str = TEXT,
    size: float = 9.5,
    color: Color = INK,
    *,
    right: bool = False,
    before: float = 0,
    after: float = 0,
) -> ParagraphStyle:
    """Return a style with leading to match its size."""
    return ParagraphStyle(
        "",
        fontName=font,
        fontSize=size,
        leading=round(size * 1.28, 1),
        textColor=color,
        alignment=TA_RIGHT if right else TA_LEFT,
        spaceBefore=before,
        spaceAfter=after,
    )


STYLES: dict[Look, ParagraphStyle] = {
    "text": style(),
    "number": style(right=True),
    "head": style(STRONG, 8.5, SOFT),
    "number head": style(STRONG, 8.5, SOFT, right=True),
    "small": style(size=8.5, color=SOFT),
    "title": style(STRONG, 19, after=1 * mm),
    "heading": style(STRONG, 11.5, before=4 * mm, after=1.5 * mm),
    "need": style(STRONG, 9.5, NEED),
    "need number": style(STRONG, 9.5, NEED, right=True),
    "strong": style(STRONG),
    "strong number": style(STRONG, right=True),
}


def words(text: str, look: Look = "text") -> Paragraph:
    """Return a text as it stands: characters that mean something to the typesetter mean nothing here.

    Text that would fill a page goes no further than LONGEST, so that any row of a table fits on one.
    """
    load_fonts()
    shown = text if len(text) <= LONGEST else text[:LONGEST] + "…"
    return Paragraph(escape(printable(shown)), STYLES[look])


def heading(text: str) -> list[Flowable]:
    """Return a heading that stands on a page with the first lines of what it heads."""
    return [CondPageBreak(ROOM_BELOW_HEADING), words(text, "heading")]


def page_size(paper: str) -> tuple[float, float]:
    """Return the page of a club's papers, in points."""
    return letter if paper == LETTER else A4
