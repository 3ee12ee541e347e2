"""The page every paper stands on: club and title above, the plan's stamp and "page x of y" below."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from planning.documents.pdf.fonts import STRONG, TEXT, load_fonts, printable
from planning.documents.pdf.look import FOOTER, HAIRLINE, HEADER, INK, MARGIN, RULE, SOFT, page_size
from planning.documents.stamp import Stamp
from planning.month import Club

rl_config.useA85 = 0  # one switch for the whole library: a quarter smaller, and quicker to write

LANGUAGE = "en"
CREATOR = "Kit production planning"
PAD = 6  # points that a frame keeps free on every side
Story = Callable[[], Sequence[Flowable]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Letterhead:
    """What stands on every page of a paper. title: what the paper is, and which one."""

    club: Club
    title: str
    stamp: Stamp

    @property
    def page_width(self) -> float:
        """What a page has between its margins, in points."""
        return page_size(self.club.paper)[0] - 2 * MARGIN


def build(head: Letterhead, story: Story) -> bytes:
    """Set a paper: the same bytes for the same words.

    The footer tells how many pages there are, so a paper of more than one is set again once that is known.
    """
    pages = 1
    while True:
        file, found = set_once(head, story(), pages)
        if found == pages:
            return file
        pages = found


def set_once(head: Letterhead, story: Sequence[Flowable], pages: int) -> tuple[bytes, int]:
    """Return the paper with `pages` in its footers, and how many pages it took."""
    load_fonts()
    wide, high = size = page_size(head.club.paper)
    file = BytesIO()
    setter = BaseDocTemplate(
        file,
        pagesize=size,
        title=head.title,
        author=head.club.name,
        subject=head.stamp.text,
        creator=CREATOR,
        lang=LANGUAGE,
        displayDocTitle=True,
        initialFontName=TEXT,  # the library's own would be named in every file without being embedded
        invariant=1,
        pageCompression=1,
    )
    body = Frame(MARGIN - PAD, FOOTER, wide - 2 * (MARGIN - PAD), high - HEADER - FOOTER)

    def furnish(canvas: Canvas, _: BaseDocTemplate) -> None:
        draw_header(canvas, head)
        draw_footer(canvas, head, canvas.getPageNumber(), pages)

    setter.addPageTemplates([PageTemplate(frames=[body], onPage=furnish)])
    setter.build(list(story))
    return file.getvalue(), setter.page


def open_canvas(file: BytesIO, head: Letterhead, size: tuple[float, float]) -> Canvas:
    """Return a canvas for a paper that is drawn line by line, its title and language set."""
    load_fonts()
    font: Any = TEXT  # the library's type stubs take it for a number
    canvas = Canvas(file, size, pageCompression=1, invariant=1, lang=LANGUAGE, initialFontName=font)
    canvas.setTitle(head.title)
    canvas.setAuthor(head.club.name)
    canvas.setSubject(head.stamp.text)
    canvas.setCreator(CREATOR)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def draw_header(canvas: Canvas, head: Letterhead) -> None:
    """Draw club and title, and a hairline below them."""
    wide, high = page_size(head.club.paper)
    base = high - HEADER + 6
    canvas.setFillColor(INK)
    canvas.setFont(STRONG, 10)
    canvas.drawString(MARGIN, base, printable(head.club.name))
    canvas.setFont(TEXT, 9)
    canvas.setFillColor(SOFT)
    canvas.drawRightString(wide - MARGIN, base, printable(head.title))
    hairline(canvas, MARGIN, wide - MARGIN, high - HEADER)


def draw_footer(canvas: Canvas, head: Letterhead, page: int, pages: int) -> None:
    """Draw the plan's stamp and the page's number, and a hairline above them."""
    wide, _ = page_size(head.club.paper)
    hairline(canvas, MARGIN, wide - MARGIN, FOOTER)
    canvas.setFillColor(SOFT)
    canvas.setFont(TEXT, 8)
    canvas.drawString(MARGIN, FOOTER - 11, printable(head.stamp.text))
    canvas.drawRightString(wide - MARGIN, FOOTER - 11, f"page {page} of {pages}")


def hairline(canvas: Canvas, left: float, right: float, y: float) -> None:
    """Draw a thin line from left to right."""
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(HAIRLINE)
    canvas.line(left, y, right, y)
