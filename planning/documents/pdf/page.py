"""The page every paper stands on: club and title above, the plan's stamp and "page x of y" below."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from planning.documents.pdf.fonts import STRONG, TEXT, load_fonts, printable
from planning.documents.pdf.look import FOOTER, HAIRLINE, HEADER, INK, MARGIN, RULE, SOFT, page_size
from planning.documents.pdf.typeset import shrunk
from planning.documents.pdf.version_mark import draw_version_mark
from planning.documents.stamp import Stamp
from planning.month import Club

rl_config.useA85 = 0  # one switch for the whole library: a quarter smaller, and quicker to write

LANGUAGE = "en"
CREATOR = "Kit production planning"
PAD = 6  # points that a frame keeps free on every side
REFERENCE = 10.5  # the size of a page's number where it is referred to


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


class HeldPages(Canvas):
    """A canvas that holds its pages back until it is known how many there are, and then gives each its footer."""

    def __init__(self, *args: Any, head: Letterhead, **options: Any) -> None:
        super().__init__(*args, **options)
        self.head = head
        self.held: list[dict[str, Any]] = []
        self.landmarks: dict[str, int] = {}  # the page of each
        self.references: list[tuple[int, float, float, str]] = []  # page and place, and to which landmark

    def showPage(self) -> None:  # noqa: N802 (the library's own name)
        """Put a finished page aside."""
        self.held.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]  # the library's stubs leave it out

    def save(self) -> None:
        """Finish all pages and the file."""
        for number, page in enumerate(self.held, 1):
            self.__dict__.update(page)
            draw_footer(self, self.head, number, len(self.held))
            self._draw_references(number)
            for name in (name for name, page_number in self.landmarks.items() if page_number == number):
                self.bookmarkPage(f"page-{number}")
                self.addOutlineEntry(printable(name), f"page-{number}")
            super().showPage()
        super().save()

    def _draw_references(self, number: int) -> None:
        self.setFillColor(INK)
        self.setFont(TEXT, REFERENCE)
        for page, x, y, name in self.references:
            if page == number and name in self.landmarks:
                self.drawRightString(x, y, f"{self.landmarks[name]}")


class Landmark(Flowable):
    """A place that references lead to, and the file's own list of contents."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name
        self.width = self.height = 0.0

    def draw(self) -> None:
        """Remember the page."""
        self.canv.landmarks.setdefault(self.name, self.canv.getPageNumber())  # type: ignore[attr-defined]


class Reference(Flowable):
    """The number of a landmark's page, at the right of its cell; written once all pages are known."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name
        self.height = REFERENCE

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the width there is."""
        self.width = width
        return width, self.height

    def draw(self) -> None:
        """Remember the place."""
        x, y = self.canv.absolutePosition(self.width, 0)
        self.canv.references.append((self.canv.getPageNumber(), x, y, self.name))  # type: ignore[attr-defined]


def build(head: Letterhead, story: Sequence[Flowable], *, cover: bool = False) -> bytes:
    """Set a paper between the header and the footer of its pages: the same bytes for the same words.

    cover: the first page goes without the header, and no page has the mark of a plan's version: it is for subscribers.
    """
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

    def begin(canvas: Canvas, _: object) -> None:
        if not cover or canvas.getPageNumber() > 1:
            draw_header(canvas, head)
        if not cover:
            draw_version_mark(canvas, size, head.stamp)

    setter.addPageTemplates([PageTemplate(frames=[body], onPage=begin)])
    setter.build(list(story), canvasmaker=partial(HeldPages, head=head))
    return file.getvalue()


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
    base, half = high - HEADER + 6, head.page_width / 2 - PAD
    club, title = printable(head.club.name), printable(head.title)
    canvas.setFillColor(INK)
    canvas.setFont(STRONG, shrunk(club, STRONG, 10, half))
    canvas.drawString(MARGIN, base, club)
    canvas.setFillColor(SOFT)
    canvas.setFont(TEXT, shrunk(title, TEXT, 9, half))
    canvas.drawRightString(wide - MARGIN, base, title)
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
