"""The booklet: what is in the box, then every recipe from its sheets to its pages, for the subscriber to keep."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, HRFlowable, PageBreak

from kits.recipe import draw_spread, draw_step
from planning.documents.booklet import Booklet, BoxContents, PaperRest
from planning.documents.booklet.words import (
    ALL_CUT,
    CAUTIONS,
    HOW_TO_READ,
    box_heads,
    chapter_name,
    counted,
    in_boxes,
    offcuts,
    sheets,
)
from planning.documents.pdf.booklet_chapter import chapter_story
from planning.documents.pdf.booklet_look import GUTTER, boxed, gap, say, short, side_by_side
from planning.documents.pdf.drawn import Drawn
from planning.documents.pdf.look import HAIRLINE, RULE
from planning.documents.pdf.page import Landmark, Letterhead, Reference, build
from planning.documents.pdf.tables import Column, Row, table
from planning.documents.stamp import Stamp
from planning.month import Club

TIERS_ACROSS = 4  # more tiers go on in a table below
COVER_DRAWING = 105 * mm
NOTE_LINES = 8
BOX, REST = "What is in the box", "What is left of the papers"


def booklet_pdf(said: Booklet, club: Club, paper: str, stamp: Stamp) -> bytes:
    """Return a month's booklet as a PDF. paper: A4 or Letter, whichever its reader prints on."""
    head = Letterhead(club=replace(club, paper=paper), title=f"{said.kit}, {said.month}", stamp=stamp)
    return build(head, story(said, head.page_width), cover=True)


def story(said: Booklet, width: float) -> list[Flowable]:
    """Return all of it, from the cover to what is left."""
    parts = [
        list(cover(said, width)),
        [Landmark(BOX), *box_page(said.box, width), *before_you_cut(said, width)],
        *(chapter_story(said, number, width) for number in range(len(said.chapters))),
    ]
    if said.rest:
        parts.append([Landmark(REST), *rest_page(said.rest, width)])
    return [
        thing for number, part in enumerate(parts) for thing in (*([PageBreak()] if number else []), *part)
    ]


# --- Before the recipes ---


def cover(said: Booklet, width: float) -> Iterator[Flowable]:
    """Yield the first page: whose it is, what it is, what it looks like, where to find what."""
    yield gap(8)
    yield say(said.club, "club")
    yield gap(16)
    yield say(said.kit, "kit")
    yield say(said.month, "month")
    first = next((one.work.design for one in said.chapters if one.work and one.work.pages), None)
    if first is not None:
        yield Drawn(draw_spread(first), width, COVER_DRAWING)
        yield gap(6)
    if said.note.strip():
        yield say(said.note, "lead")
    yield gap(4)
    yield table((Column("Inside", 150), Column("Page", 20, number=True)), list(places(said)), width)


def places(said: Booklet) -> Iterator[Row]:
    """Yield the list of contents."""
    named = [(BOX, ""), *((chapter_name(said, n), in_boxes(one)) for n, one in enumerate(said.chapters))]
    for name, boxes in [*named, *([(REST, "")] if said.rest else [])]:
        told = [say(short(name)), *([say(short(boxes), "small")] if boxes else [])]
        yield Row((list[Flowable](told), Reference(name)))


def box_page(box: BoxContents, width: float) -> Iterator[Flowable]:
    """Yield what is in the box, a column for each tier."""
    yield say(BOX, "chapter")
    for first in range(0, max(len(box.tiers), 1), TIERS_ACROSS):
        some = slice(first, first + TIERS_ACROSS)
        heads = box_heads(box.tiers)[some]
        columns = (Column("", 90), *(Column(short(head), 26, number=True) for head in heads))
        yield table(columns, list(box_rows(box, some)), width)


def box_rows(box: BoxContents, tiers: slice) -> Iterator[Row]:
    """Yield the lines of these tiers' boxes, kind by kind."""
    for group in box.groups:
        blank = ("",) * len(box_heads(box.tiers)[tiers])
        yield Row((group.title, *blank), group=True)
        for line in group.lines:
            told = say(short(line.name), "step", beside=short(line.detail))
            yield Row((told, *(counted(count) for count in line.counts[tiers])))


def before_you_cut(said: Booklet, width: float) -> Iterator[Flowable]:
    """Yield how the cuts are told, with the picture of one beside it, and the cautions."""
    told = [say(line) for line in HOW_TO_READ]
    example = next((one.work for one in said.chapters if one.work and one.work.lifts), None)
    yield CondPageBreak(90 * mm)
    yield say("How the cuts are told", "part")
    if example is None:
        yield from told
    else:
        picture = draw_step(example.lifts[0].steps[0], example.design.ruler)
        yield side_by_side([told, [Drawn(picture, width * 0.4 - GUTTER, COVER_DRAWING)]], width, (60, 40))
    yield CondPageBreak(40 * mm)
    yield say("Before you cut", "part")
    yield boxed([say(f"• {line}") for line in CAUTIONS], width)


# --- After them ---


def rest_page(rest: Sequence[PaperRest], width: float) -> Iterator[Flowable]:
    """Yield what is left of every paper."""
    yield say(REST, "chapter")
    yield say(ALL_CUT, "lead")
    columns = (
        Column("Paper", 60),
        Column("Sheets", 20, number=True),
        Column("On your pages", 28, number=True),
        Column("Left over", 72),
    )
    rows = [Row((short(one.name), sheets(one.sheets), one.used, short(offcuts(one)))) for one in rest]
    yield table(columns, rows, width)
    yield CondPageBreak(60 * mm)
    yield say("Your notes", "part")
    for _ in range(NOTE_LINES):
        yield HRFlowable("100%", HAIRLINE, color=RULE, spaceBefore=9 * mm, spaceAfter=0)
