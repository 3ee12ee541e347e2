"""The subscriber's booklet as a page: the same words as in print, every drawing with its own in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from kits.drawing import Drawing, svg
from kits.measures import Currency, round_money
from kits.models import Month
from kits.recipe import draw_cut_sheet, draw_page, draw_spread, draw_step, say_step
from planning import load
from planning.documents.booklet import Booklet, BoxContents, Chapter, LaidPage, PaperRest, Work
from planning.documents.booklet import booklet as booklet_of
from planning.documents.booklet import words as told
from planning.flow import MonthPlan
from planning.models import Plan
from planning.month import Month as Book
from planning.recipe_costs import RolePaper, role_papers
from planning.recipes import kit_recipes
from planning.views import gate, words
from planning.views.parts import Line, Table, number, text


@dataclass(frozen=True, slots=True)
class CutShown:
    """A step at the trimmer."""

    said: str
    svg: str


@dataclass(frozen=True, slots=True)
class LiftShown:
    """Sheets in hand with their cuts. first: the number of the first."""

    title: str
    first: int
    cuts: tuple[CutShown, ...]


@dataclass(frozen=True, slots=True)
class SheetShown:
    """A sheet with its marks."""

    title: str
    svg: str


@dataclass(frozen=True, slots=True)
class PageShown:
    """A page of the album, and where its pieces go."""

    title: str
    svg: str
    pieces: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkShown:
    """How a recipe is made. nothing_left: said where no offcut is left."""

    effort: str
    spread: str
    left: Table
    nothing_left: str
    sheets: tuple[SheetShown, ...]
    whole: str
    lifts: tuple[LiftShown, ...]
    pages: tuple[PageShown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChapterShown:
    """A recipe. anchor: its place on the page; pieces, not_drawn: of one without work."""

    anchor: str
    name: str
    title: str
    note: str
    boxes: str
    needs: Table
    photos: str
    work: WorkShown | None
    pieces: Table
    not_drawn: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BookletShown:
    """All of it."""

    note: str
    box: tuple[Table, ...]
    how_to_read: tuple[str, ...]
    cautions: tuple[str, ...]
    chapters: tuple[ChapterShown, ...]
    rest: Table
    all_cut: str


@require_safe
def booklet(request: HttpRequest, month: int) -> HttpResponse:
    """Show the booklet of the month as its book stands now, with the printed ones of its latest plan."""
    row = gate.month_or_404(request, month)
    around: dict[str, object] = {"month": row, "step": "booklet", "said": shown(row.pk, row.fingerprint)}
    if plan := row.plans.first():
        around["printed"] = plan.papers.filter(name__startswith="booklet/").order_by("position")
    if plan := gate.readable_plan_or_none(request, row):
        around["costs"] = costs(row.pk, row.fingerprint, plan.pk)
    return render(request, "planning/booklet.html", around)


@lru_cache(maxsize=4)
def costs(pk: int, fingerprint: str, plan: int) -> Table:
    """Return what each recipe of a plan costs."""
    book = load.without_people(Month.objects.get(pk=pk))
    return costs_table(book, load.planned(Plan.objects.get(pk=plan)).plan)


@lru_cache(maxsize=4)  # the drawings of a month take longer than all the rest of its page
def shown(pk: int, fingerprint: str) -> BookletShown:
    """Return what the page of a month's booklet shows."""
    said = booklet_of(load.without_people(Month.objects.get(pk=pk)))
    return BookletShown(
        note=said.note,
        box=tuple(box_tables(said.box)),
        how_to_read=told.HOW_TO_READ,
        cautions=told.CAUTIONS,
        chapters=tuple(chapter_shown(said, place) for place in range(len(said.chapters))),
        rest=rest_table(said.rest),
        all_cut=told.ALL_CUT,
    )


def box_tables(box: BoxContents) -> Iterator[Table]:
    """Yield what is in the box, kind by kind, a column for each tier."""
    for group in box.groups:
        columns = (text(group.title), *map(number, told.box_heads(box.tiers)))
        lines = [Line((told.with_detail(line), *map(told.counted, line.counts))) for line in group.lines]
        yield Table(group.title, columns, lines)


def rest_table(rest: tuple[PaperRest, ...]) -> Table:
    """Return what is left of every paper."""
    columns = (text("Paper"), number("Sheets"), number("On your pages"), text("Left over"))
    lines = [Line((one.name, f"{one.sheets:,}", one.used, told.offcuts(one))) for one in rest]
    return Table("Left of every paper", columns, lines)


# --- A chapter ---


def chapter_shown(said: Booklet, place: int) -> ChapterShown:
    """Return a chapter. place: from 0."""
    one = said.chapters[place]
    return ChapterShown(
        anchor=anchor(place),
        name=told.chapter_name(said, place),
        title=one.title or one.code,
        note=one.note,
        boxes=told.in_boxes(one),
        needs=needs_table(one, place),
        photos=told.photo_line(one),
        work=work_shown(one.work, place) if one.work else None,
        pieces=pieces_table(one, place),
        not_drawn="" if one.work else told.not_drawn(one),
    )


def needs_table(one: Chapter, place: int) -> Table:
    """Return what a recipe takes out of the box."""
    papers = [
        Line((paper.name, paper.size, told.sheets(paper.sheets))) for paper in one.papers if paper.sheets
    ]
    ready = [Line((piece.name, piece.size, f"{piece.count:,} ready cut")) for piece in one.ready_cut]
    columns = (text("From the box"), text("Size"), text("How many"))
    return Table(f"{spread(place)}: from the box", columns, [*papers, *ready])


def pieces_table(one: Chapter, place: int) -> Table:
    """Return the pieces of a recipe whose cuts are not known."""
    columns = (text("Piece"), text("Size"), number("How many"), text("Goes to"), text("Comes"))
    lines = [
        Line(
            (
                piece.name,
                piece.size,
                f"{piece.count:,}",
                told.goes_to(piece),
                "ready cut" if piece.ready_cut else "on a sheet",
            )
        )
        for piece in one.pieces
    ]
    return Table(f"{spread(place)}: its pieces", columns, lines)


def work_shown(work: Work, place: int) -> WorkShown:
    """Return a recipe's work with its drawings."""
    sheets = [sheet for lift in work.lifts for sheet in lift.sheets]
    return WorkShown(
        effort=f"{told.effort(work)}.",
        spread=drawn(draw_spread(work.design), place, "all", 0) if work.pages else "",
        left=left_table(work, place),
        nothing_left=told.nothing_left(work),
        sheets=tuple(
            SheetShown(told.sheet_title(sheet), drawn(draw_cut_sheet(work.design, sheet), place, "sheet", at))
            for at, sheet in enumerate(sheets)
        ),
        whole=told.whole_sheets(work),
        lifts=tuple(lifts_shown(work, place)),
        pages=tuple(page_shown(work, laid, at, place) for at, laid in enumerate(work.pages)),
    )


def drawn(drawing: Drawing, place: int, what: str, at: int) -> str:
    """Return a drawing under ids of its own."""
    return svg(drawing, f"{anchor(place)}-{what}-{at}")


def anchor(place: int) -> str:
    """Return what leads to a chapter."""
    return f"spread-{place + 1}"


def spread(place: int) -> str:
    """Return what tells a chapter's tables from those of others."""
    return f"Spread {place + 1}"


def left_table(work: Work, place: int) -> Table:
    """Return every offcut and what it could still give."""
    columns = (text("Of"), text("Offcut"), text("Could still give"))
    lines = [Line((one.sheet, one.size, told.could_give(one))) for one in work.left]
    return Table(f"{spread(place)}: left over", columns, lines)


def lifts_shown(work: Work, place: int) -> Iterator[LiftShown]:
    """Yield the cuts, lift by lift."""
    on = work.design.ruler
    for lift in work.lifts:
        cuts = tuple(
            CutShown(say_step(step, on), drawn(draw_step(step, on), place, "cut", step.number))
            for step in lift.steps
        )
        yield LiftShown(told.lift_words(lift), lift.steps[0].number, cuts)


def page_shown(work: Work, laid: LaidPage, at: int, place: int) -> PageShown:
    """Return a page with the list of its pieces, the lowest first."""
    columns = (
        text("Lay down in this order"),
        text("Paper and size"),
        number("From left"),
        number("From top"),
        text("Photo"),
    )
    lines = [
        Line(
            (
                piece.name,
                f"{piece.paper}, {piece.size}{', turned' if piece.turned else ''}",
                piece.left,
                piece.top,
                "; ".join(piece.photos),
            )
        )
        for piece in laid.pieces
    ]
    title = f"Page {laid.page.name}, {laid.size}"
    drawing = drawn(draw_page(work.design, laid.page), place, "page", at)
    return PageShown(title, drawing, Table(f"{spread(place)}, page {laid.page.name}", columns, lines))


# --- For the club ---


def costs_table(book: Book, plan: MonthPlan) -> Table:
    """Return how well each recipe uses its papers and what they cost, at the prices of a plan."""
    columns = (
        text("Recipe"),
        number("Sheets", "in a kit"),
        number("Used"),
        number("Papers", f"{book.club.currency} a kit"),
    )
    papers = role_papers(book, plan)
    lines = [
        Line((recipe.title, *costs_cells([one for one in papers if one.recipe == recipe.code], book)))
        for recipe in kit_recipes(book)
    ]
    return Table("Each recipe made once", columns, lines, ("All", *costs_cells(papers, book)))


def costs_cells(papers: Sequence[RolePaper], book: Book) -> tuple[str, str, str]:
    """Return sheets, the share of them used and their cost; of papers without a price that there is more."""
    known = [one.cost for one in papers if one.cost is not None]
    exponent = Currency(book.club.currency).exponent
    cost = words.money(round_money(sum(known, Fraction(0)), exponent), book.club)
    used, area = sum(one.used for one in papers), sum(one.area for one in papers)
    more = " and more" if len(known) < len(papers) else ""
    return (
        words.tenths(sum((one.taken for one in papers), Fraction(0))),
        words.percent(used, area),
        cost + more,
    )
