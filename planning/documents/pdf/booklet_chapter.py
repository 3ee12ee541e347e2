"""One recipe in the booklet: what it looks like, what it takes, its cuts one by one, its pages, its offcuts."""

from collections.abc import Iterator, Sequence

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Table

from kits.measures import Ruler
from kits.recipe import TrimStep, draw_cut_sheet, draw_page, draw_spread, draw_step, say_step
from planning.documents.booklet import Booklet, Chapter, LaidPage, LaidPiece, ListedPiece, Work
from planning.documents.booklet.words import (
    chapter_name,
    could_give,
    effort,
    goes_to,
    in_boxes,
    lift_words,
    not_drawn,
    nothing_left,
    photo_line,
    sheet_title,
    sheets,
    whole_sheets,
)
from planning.documents.pdf.booklet_look import GUTTER, LONGEST_STEP, gap, say, short, side_by_side
from planning.documents.pdf.drawn import Drawn
from planning.documents.pdf.page import Landmark
from planning.documents.pdf.tables import CLOSE, Column, Row, table

SPREAD, SHEET, STEP, PAGE = 115 * mm, 108 * mm, 52 * mm, 92 * mm  # the tallest that each drawing may be
PAGE_ROOM = 112 * mm
STEPS_ACROSS, SHEETS_ACROSS = 3, 2
FEW_PIECES, SHORT_NAME = 12, 40  # of a page whose list stands beside its drawing


def chapter_story(said: Booklet, number: int, width: float) -> list[Flowable]:
    """Return a chapter. number: its place, from 0."""
    one = said.chapters[number]
    story: list[Flowable] = [
        Landmark(chapter_name(said, number)),
        say(f"Spread {number + 1}", "kicker"),
        say(one.title or one.code, "chapter"),
    ]
    if one.note.strip():
        story.append(say(one.note, "lead"))
    if words := in_boxes(one):
        story.append(say(words, "small"))
    return [*story, *(work_story(one, one.work, width) if one.work else pieces_story(one, width))]


def work_story(one: Chapter, work: Work, width: float) -> Iterator[Flowable]:
    """Yield a recipe whose cuts are known."""
    if work.pages:
        yield gap(2)
        yield Drawn(draw_spread(work.design), width, SPREAD)
    yield from needs(one, work, width)
    yield from left_story(work, width)
    yield from sheets_story(work, width)
    yield from cuts_story(work, width)
    yield from pages_story(work, width)


def pieces_story(one: Chapter, width: float) -> Iterator[Flowable]:
    """Yield a recipe of which only the pieces are known."""
    yield from needs(one, None, width)
    yield say("The pieces", "part")
    yield say(not_drawn(one))
    columns = (
        Column("Piece", 60),
        Column("Size", 50),
        Column("How many", 20, number=True),
        Column("Goes to", 50),
    )
    yield table(columns, [piece_row(piece) for piece in one.pieces], width)


def piece_row(piece: ListedPiece) -> Row:
    """Return a piece's line."""
    ready = ", ready cut" if piece.ready_cut else ""
    return Row((short(piece.name), piece.size, f"{piece.count:,}", short(goes_to(piece)) + ready))


# --- What it takes ---


def needs(one: Chapter, work: Work | None, width: float) -> Iterator[Flowable]:
    """Yield the papers, the pieces that come ready cut, the photos and what the trimmer does."""
    yield say("You need", "part")
    papers = [
        Row((short(paper.name), paper.size, sheets(paper.sheets))) for paper in one.papers if paper.sheets
    ]
    papers += [Row((short(piece.name), piece.size, f"{piece.count:,} ready cut")) for piece in one.ready_cut]
    yield table((Column("From the box", 80), Column("Size", 60), Column("How many", 40)), papers, width)
    if line := photo_line(one):
        yield say(line, first="Photos")
    if work:
        yield say(f"{effort(work)}.", first="At the trimmer")


def left_story(work: Work, width: float) -> Iterator[Flowable]:
    """Yield every offcut and what it could still give; many go on over the page."""
    yield say("It leaves", "part")
    if words := nothing_left(work):
        yield say(words)
        return
    columns = (Column("Of", 66), Column("Offcut", 46), Column("Could still give", 68))
    rows = [Row((short(one.sheet), one.size, short(could_give(one)))) for one in work.left]
    yield table(columns, rows, width)


# --- Sheets and cuts ---


def sheets_story(work: Work, width: float) -> Iterator[Flowable]:
    """Yield the sheets that are cut, each with its marks and its pieces."""
    each = (width - GUTTER * (SHEETS_ACROSS - 1)) / SHEETS_ACROSS
    drawings = [
        Drawn(draw_cut_sheet(work.design, sheet), each, SHEET) for lift in work.lifts for sheet in lift.sheets
    ]
    yield CondPageBreak(max((drawing.height for drawing in drawings), default=0) + 22 * mm)
    yield say("The sheets", "part")
    titles = [say(short(sheet_title(sheet)), "lift") for lift in work.lifts for sheet in lift.sheets]
    for first in range(0, len(drawings), SHEETS_ACROSS):
        some = slice(first, first + SHEETS_ACROSS)
        cells = [[title, drawing] for title, drawing in zip(titles[some], drawings[some], strict=True)]
        yield grid([cells], width, SHEETS_ACROSS)
    if words := whole_sheets(work):
        yield gap(2)
        yield say(words)


def cuts_story(work: Work, width: float) -> Iterator[Flowable]:
    """Yield the cuts in order, each with its picture."""
    if not work.lifts:
        return
    yield CondPageBreak(100 * mm)
    yield say("The cuts, in order", "part")
    for lift in work.lifts:
        yield CondPageBreak(90 * mm)
        yield say(short(lift_words(lift)), "lift")
        for first in range(0, len(lift.steps), STEPS_ACROSS):
            yield step_row(lift.steps[first : first + STEPS_ACROSS], work.design.ruler, width)


def step_row(steps: Sequence[TrimStep], on: Ruler, width: float) -> Table:
    """Return some steps side by side: pictures above, words below."""
    each = (width - GUTTER * (STEPS_ACROSS - 1)) / STEPS_ACROSS
    pictures: list[list[Flowable]] = [[Drawn(draw_step(step, on), each, STEP)] for step in steps]
    told: list[list[Flowable]] = [
        [say(short(say_step(step, on), LONGEST_STEP), "step", first=f"{step.number}")] for step in steps
    ]
    return grid([pictures, told], width, STEPS_ACROSS)


def grid(rows: Sequence[Sequence[Sequence[Flowable]]], width: float, across: int) -> Table:
    """Set rows of cells with gutters between them; pictures stand on what is below them."""
    gutter = [("RIGHTPADDING", (0, 0), (across - 2, -1), GUTTER), ("VALIGN", (0, 0), (-1, 0), "BOTTOM")]
    each = (width - GUTTER * (across - 1)) / across
    filled = [[*(list(cell) for cell in row), *([""] * (across - len(row)))] for row in rows]
    style = [*CLOSE, *gutter, ("NOSPLIT", (0, 0), (-1, -1)), ("BOTTOMPADDING", (0, -1), (-1, -1), 12)]
    return Table(filled, colWidths=[*[each + GUTTER] * (across - 1), each], style=style, hAlign="LEFT")


# --- Pages ---


def pages_story(work: Work, width: float) -> Iterator[Flowable]:
    """Yield each page with where its pieces go."""
    if work.pages:
        yield CondPageBreak(min(len(work.pages), 2) * PAGE_ROOM)  # so that a spread's pages are seen together
        yield say("The pages", "part")
    for laid in work.pages:
        yield CondPageBreak(PAGE_ROOM)
        yield KeepTogether(page_story(work, laid, width))


def page_story(work: Work, laid: LaidPage, width: float) -> list[Flowable]:
    """Return a page's drawing and its list: beside each other where the list is short."""
    title = say(f"Page {short(laid.page.name)}, {laid.size}", "lift")
    names = [len(f"{piece.name} {piece.paper}") for piece in laid.pieces]
    drawing = draw_page(work.design, laid.page)
    if len(names) <= FEW_PIECES and max(names, default=0) <= SHORT_NAME:
        drawn, listed = Drawn(drawing, width * 0.48 - GUTTER, PAGE), page_table(laid, width * 0.52)
        return [title, side_by_side([[drawn], [listed]], width, (48, 52))]
    return [title, Drawn(drawing, width, PAGE), page_table(laid, width)]


def page_table(laid: LaidPage, width: float) -> Table:
    """Return where each piece of a page goes, the lowest first."""
    columns = (
        Column("Lay down in this order", 52),
        Column("From left", 22, number=True),
        Column("From top", 22, number=True),
    )
    return table(columns, [laid_row(piece) for piece in laid.pieces], width)


def laid_row(piece: LaidPiece) -> Row:
    """Return a piece's line."""
    told: list[Flowable] = [say(short(piece.name), "step")]
    turned = ", turned" if piece.turned else ""
    told.append(say(short(f"{piece.paper}, {piece.size}{turned}"), "small"))
    told += [say(short(f"photo: {photo}"), "small") for photo in piece.photos]
    return Row((told, piece.left, piece.top))
