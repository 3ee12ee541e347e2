"""Cutting tickets: a page (or more) for every job at the guillotine, and one for the lengths cut from rolls."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from kits.catalogue import Material
from kits.drawing import Drawing
from kits.guillotine.draw import draw_sheet
from kits.kit import Direction
from kits.measures import Ruler, ruler, stack_height
from planning.cutting import CuttingResult, CuttingTicket, LengthTicket, OnTicket, PieceJob
from planning.documents.cuts import NOTE, Move, moves_of
from planning.documents.pdf.cutting_steps import cuts_table
from planning.documents.pdf.drawn import Drawn
from planning.documents.pdf.handling import blade_caution, guillotine_cautions, lifting_cautions
from planning.documents.pdf.look import heading, words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.tables import Cell, Column, Row, facts, notice, side_by_side, table
from planning.documents.pdf.words import count, grain, height, long_length, rounded, size
from planning.documents.stamp import Stamp
from planning.month import Month

DRAWING_SHARE = 0.56
TALLEST_DRAWING = 95 * mm
MOST_TALLIED = 60  # lines of a tally
PIECES = (
    Column("Piece", 50),
    Column("Size", 38),
    Column("Lies", 34),
    Column("Out of a sheet", 20, number=True),
    Column("To come", 20, number=True),
)
IN_ALL = (
    Column("Piece", 62),
    Column("Good", 18, number=True),
    Column("Overs", 16, number=True),
    Column("To cut", 18, number=True),
    Column("Tickets", 24),
    Column("To come", 20, number=True),
    Column("Surplus", 18, number=True),
)
LIFTS = (
    Column("Lift", 14, number=True),
    Column("Sheets", 16, number=True),
    Column("Piece", 42),
    Column("To come", 20, number=True),
    Column("Good", 28, write=True),
    Column("Spoiled", 28, write=True),
    Column("Cut by", 36, write=True),
)
LENGTHS = (
    Column("Length", 52),
    Column("Good", 18, number=True),
    Column("Overs", 16, number=True),
    Column("From a roll", 20, number=True),
    Column("Rolls", 15, number=True),
    Column("Spare", 15, number=True),
    Column("Cut", 22, write=True),
    Column("Spoiled", 22, write=True),
)
ANY_WAY = {
    Direction.ANY: "either way round",
    Direction.NOT_TURNED: "not turned",
    Direction.GRAIN_ALONG_WIDTH: "grain along its width",
    Direction.GRAIN_ALONG_HEIGHT: "grain along its height",
}


def cutting_tickets(month: Month, cutting: CuttingResult, stamp: Stamp) -> bytes:
    """Return all tickets of the month as one PDF, in the order of the plan."""
    title = f"Cutting tickets, {month.club.kit_name}, {month.club.month.title}"
    head = Letterhead(club=month.club, title=title, stamp=stamp)
    return build(head, story(month, cutting, head))


def story(month: Month, cutting: CuttingResult, head: Letterhead) -> list[Flowable]:
    """Return every ticket on a page of its own, then all pieces in one table, then the lengths."""
    materials = {one.code: one for one in month.materials}
    pages = [
        ticket_page(one, f"Ticket {number} of {len(cutting.tickets)}", materials[one.sheet.material], head)
        for number, one in enumerate(cutting.tickets, 1)
    ]
    if cutting.tickets:
        pages.append(pieces_page(cutting, head))
    if cutting.lengths:
        pages.append(lengths_page(cutting.lengths, head))
    if not pages:
        return [words("Cutting tickets", "title"), words("Nothing is cut before packing this month.")]
    return [
        thing for number, page in enumerate(pages) for thing in (*([PageBreak()] if number else []), *page)
    ]


# --- A ticket ---


def work_words(ticket: CuttingTicket) -> str:
    """Return what one lift takes at the machine."""
    turns = ticket.turns_per_lift
    return f"{count(ticket.cuts_per_lift, 'cut')}, {count(turns, 'quarter turn') if turns else 'no turn'}"


def ticket_page(ticket: CuttingTicket, name: str, material: Material, head: Letterhead) -> list[Flowable]:
    """Return one ticket: drawing and figures, the pieces, the cuts in order, the tally, the cautions."""
    marks, width = ruler(head.club.ruler), head.page_width
    drawing = Drawn(ticket_drawing(ticket, marks), width * DRAWING_SHARE - 14, TALLEST_DRAWING)
    figures = facts(list(ticket_figures(ticket, head.club.paper)), width * (1 - DRAWING_SHARE), label=0.32)
    beside = [figures, words("Before you cut", "heading"), *guillotine_cautions()]
    moves = moves_of(ticket.lines, ticket.machine.smallest_strip)
    return [
        words(ticket.name, "title"),
        words(f"{name}, on {ticket.machine.name}", "small"),
        side_by_side([drawing], beside, width, DRAWING_SHARE),
        *notice(cautions(ticket, moves, material, head.club.paper), width),
        table(PIECES, [piece_row(one, ticket) for one in ticket.pieces], width),
        *heading(f"Cuts in order, for every lift: {work_words(ticket)}"),
        words(NOTE, "small"),
        cuts_table(moves, marks, width),
        *heading(f"Tally: {count(ticket.made, 'piece')} to come from {count(ticket.sheets, 'sheet')}"),
        table(LIFTS, list(lift_rows(ticket)), width),
    ]


def ticket_drawing(ticket: CuttingTicket, marks: Ruler) -> Drawing:
    """Return the sheet with its cuts."""
    title = f"{ticket.name} from {ticket.sheet.name}"
    return draw_sheet(ticket.tree, marks, title, ticket.sheet.grain)


def ticket_figures(ticket: CuttingTicket, paper: str) -> Iterator[tuple[str, Cell]]:
    """Yield the ticket's figures by name."""
    sheet = ticket.sheet
    yield "Cut from", words(sheet.name, "strong")
    yield "Sheet", size(sheet.width, sheet.height)
    yield "Grain", grain(sheet.grain, sheet.width, sheet.height)
    if sheet.trim:
        yield "Edge trim", f"{height(Fraction(sheet.trim), paper)} off each edge first"
    yield "Sheets", words(f"{ticket.sheets:,}", "strong")
    yield "Lifts", words(lift_words(ticket), "strong")
    yield "Lift height", lift_height(ticket, paper)
    minutes = rounded(Fraction(ticket.minutes), 0)
    yield "Cuts", f"{ticket.cuts_per_lift:,} a lift, {ticket.cuts:,} in all, about {minutes} minutes"
    if ticket.machine.smallest_strip:
        yield "Smallest strip", height(Fraction(ticket.machine.smallest_strip), paper)


def piece_row(one: OnTicket, ticket: CuttingTicket) -> Row:
    """Return one kind of piece on a ticket."""
    job = one.job
    sizes = size(job.width, job.height)
    return Row(
        (one.label, sizes, ANY_WAY[job.direction], f"{one.out:,}", f"{ticket.sheets * one.out:,}"),
    )


def first_lift(ticket: CuttingTicket) -> int:
    """Return the sheets of the first lift, and so of the tallest."""
    return min(ticket.sheets, ticket.sheets_per_lift)


def lift_words(ticket: CuttingTicket) -> str:
    """Return how many lifts of how many sheets: `4 lifts: 3 of 150 sheets, the last of 62`."""
    full, rest = divmod(ticket.sheets, first_lift(ticket))
    sheets = count(first_lift(ticket), "sheet")
    if not rest:
        return f"{count(full, 'lift')} of {sheets}"
    if full == 1:
        return f"2 lifts, of {sheets} and of {rest:,}"
    return f"{full + 1:,} lifts: {full:,} of {sheets}, the last of {rest:,}"


def lift_height(ticket: CuttingTicket, paper: str) -> str:
    """Return how high the tallest lift stands, and what the machine is set for."""
    most = height(Fraction(ticket.machine.lift_height), paper)
    if ticket.sheet.thickness is None:
        return "caliper not known, so one sheet at a time"
    tallest = stack_height(first_lift(ticket), ticket.sheet.thickness)
    return f"{height(tallest, paper)}, at most {most}"


def cautions(ticket: CuttingTicket, moves: Sequence[Move], material: Material, paper: str) -> Iterator[str]:
    """Yield a caution where a lift is heavy, or strips are narrower than the machine is set to hold."""
    grams = first_lift(ticket) * material.weight_each()
    yield from lifting_cautions(grams, paper, "One lift weighs about")
    if narrow := sum(move.narrow for move in moves):
        smallest = height(Fraction(ticket.machine.smallest_strip), paper)
        yield (
            f"{count(narrow, 'cut')} of each lift would hold less than the smallest strip of {smallest} that this "
            "machine is set for. Do not make them here: cut these strips another way, as trained staff decide."
        )


def lift_rows(ticket: CuttingTicket) -> Iterator[Row]:
    """Yield a line a lift and piece to write the counts in, and what they should come to; of very many lifts, several a
    line.
    """
    step = -(-ticket.lifts * len(ticket.pieces) // MOST_TALLIED)
    for first in range(0, ticket.lifts, step):
        last = min(first + step, ticket.lifts)
        sheets = min(last * ticket.sheets_per_lift, ticket.sheets) - first * ticket.sheets_per_lift
        numbers = f"{last:,}" if last == first + 1 else f"{first + 1:,}-{last:,}"
        yield from tally_rows(numbers, sheets, ticket)
    if ticket.lifts > 1:
        yield from tally_rows("All", ticket.sheets, ticket, strong=True)


def tally_rows(name: str, sheets: int, ticket: CuttingTicket, *, strong: bool = False) -> Iterator[Row]:
    """Yield the lines of some lifts: a line for each kind of piece."""
    for number, one in enumerate(ticket.pieces):
        lift, count_of = (name, f"{sheets:,}") if number == 0 else ("", "")
        yield Row((lift, count_of, one.label, f"{sheets * one.out:,}", "", "", ""), strong=strong)


# --- All pieces ---


def pieces_page(cutting: CuttingResult, head: Letterhead) -> list[Flowable]:
    """Return the page of all pieces: what is wanted of each, on which tickets it is cut, and what is cut beyond that."""
    return [
        words("All pieces", "title"),
        words("Surplus is what filling the sheets yields beyond the good pieces and the overs.", "small"),
        table(IN_ALL, list(all_rows(cutting)), head.page_width),
    ]


def all_rows(cutting: CuttingResult) -> Iterator[Row]:
    """Yield a line for each job."""
    made, spare = cutting.made, cutting.spare
    for job in cutting.jobs:
        tickets = [str(n) for n, ticket in enumerate(cutting.tickets, 1) if job.item in ticket.items]
        if isinstance(job, PieceJob):
            figures = (f"{job.count:,}", f"{job.overs:,}", f"{job.wanted:,}")
            yield Row((job.name, *figures, ", ".join(tickets), f"{made[job.item]:,}", f"{spare[job.item]:,}"))


# --- Lengths ---


def lengths_page(lengths: Sequence[LengthTicket], head: Letterhead) -> list[Flowable]:
    """Return the page of lengths cut from rolls."""
    return [
        words("Lengths from rolls", "title"),
        words("A length never runs over from one roll to the next.", "small"),
        table(LENGTHS, [length_row(one) for one in lengths], head.page_width),
        words("Before you cut", "heading"),
        *blade_caution(),
    ]


def length_row(ticket: LengthTicket) -> Row:
    """Return one length's line, with room for the tally."""
    job, roll = ticket.job, ticket.roll
    what: list[Flowable] = [
        words(job.name, "strong"),
        words(f"{long_length(job.length)} from rolls of {long_length(roll.length)}", "small"),
    ]
    figures = (job.count, job.overs, ticket.out, ticket.rolls, ticket.spare)
    return Row((what, *(f"{figure:,}" for figure in figures), "", ""))
