"""The booklet's type: larger and calmer than that of the papers people work from, for reading at a kitchen table."""

from collections.abc import Sequence
from typing import Literal
from xml.sax.saxutils import escape

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from planning.documents.pdf.fonts import STRONG, TEXT, load_fonts, printable
from planning.documents.pdf.look import FAINT, INK, SOFT, style
from planning.documents.pdf.tables import CLOSE, OUR_FONT

GUTTER = 12  # points between things side by side
LONGEST = 240  # characters of a name in a narrow column; more would make a row taller than a page
LONGEST_STEP = 1_000

Say = Literal[
    "club", "kit", "month", "kicker", "chapter", "part", "lift", "lead", "body", "small", "step", "number"
]

SAID = {
    "club": style(STRONG, 13),
    "kit": style(STRONG, 36, after=1 * mm),
    "month": style(TEXT, 16, SOFT, after=8 * mm),
    "kicker": style(STRONG, 10, SOFT),
    "chapter": style(STRONG, 24, after=2 * mm),
    "part": style(STRONG, 14, before=6 * mm, after=2 * mm),
    "lift": style(STRONG, 11, before=3 * mm, after=2 * mm),
    "lead": style(TEXT, 12, after=3 * mm),
    "body": style(TEXT, 10.5, after=1.5 * mm),
    "small": style(TEXT, 9, SOFT),
    "step": style(TEXT, 9.5),
    "number": style(TEXT, 10.5, right=True),
}


def say(text: str, as_: Say = "body", *, first: str = "", beside: str = "") -> Paragraph:
    """Return a text as it stands, however long. first: before it, in strong type; beside: after it, in soft type."""
    load_fonts()
    begin = f'<font name="{STRONG}">{escape(printable(first))}</font>&#160; ' if first else ""
    end = f' <font color="{SOFT.hexval()}" size="9">{escape(printable(beside))}</font>' if beside else ""
    return Paragraph(begin + escape(printable(text)) + end, SAID[as_])


def short(text: str, longest: int = LONGEST) -> str:
    """Return a text that fits into a narrow column."""
    return text if len(text) <= longest else text[:longest] + "…"


def side_by_side(cells: Sequence[Sequence[Flowable]], width: float, shares: Sequence[float]) -> Table:
    """Set stacks of things beside each other, with a gutter between them."""
    whole = sum(shares)
    return Table(
        [[list(cell) for cell in cells]],
        colWidths=[width * share / whole for share in shares],
        style=[*CLOSE, ("RIGHTPADDING", (0, 0), (-2, -1), GUTTER)],
        hAlign="LEFT",
    )


def boxed(lines: Sequence[Flowable], width: float) -> Table:
    """Set lines apart in a frame, on the faint ground; a long frame goes on over the page."""
    return Table(
        [[line] for line in lines],
        colWidths=[width],
        style=[
            OUR_FONT,
            ("BACKGROUND", (0, 0), (-1, -1), FAINT),
            ("BOX", (0, 0), (-1, -1), 0.8, INK),
            ("LEFTPADDING", (0, 0), (-1, -1), 10),
            ("RIGHTPADDING", (0, 0), (-1, -1), 10),
            ("TOPPADDING", (0, 0), (-1, -1), 2),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ("TOPPADDING", (0, 0), (-1, 0), 8),
            ("BOTTOMPADDING", (0, -1), (-1, -1), 8),
        ],
        hAlign="LEFT",
    )


def gap(millimetres: float) -> Spacer:
    """Return empty room."""
    return Spacer(1, millimetres * mm)
