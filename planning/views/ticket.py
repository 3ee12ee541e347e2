"""A cutting ticket on screen: what the printed one says, for a tablet at the machine."""

from collections.abc import Iterator

from django.http import Http404, HttpRequest, HttpResponse

from kits.measures import ruler
from planning.cutting import CuttingTicket
from planning.documents.cuts import NOTE, TOO_NARROW, CutRow, cut_rows, moves_of
from planning.month import Club
from planning.run import Planned
from planning.views import words
from planning.views.cutting import CAUTION, ticket_drawing, ticket_table
from planning.views.parts import Cell, Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

MOST_LIFTS = 100  # shown one by one


def ticket(request: HttpRequest, month: int, ticket: int) -> HttpResponse:
    """Show a cutting ticket of the month's plan by its number."""

    def page(planned: Planned) -> Page:
        tickets = planned.plan.cutting.tickets
        if not 1 <= ticket <= len(tickets):
            raise Http404
        return ticket_page(ticket, tickets[ticket - 1], planned.club)

    return step_page(request, month, "cutting", page, "ticket", {"number": ticket})


def ticket_page(place: int, one: CuttingTicket, club: Club) -> Page:
    """Return a ticket: drawing and figures, the cuts of a lift in order, what each lift should yield."""
    narrow = f" {words.sentence(one.narrow_words)}" if one.narrow_words else ""
    return Page(
        figures=(
            Figure(words.count(one.sheets), f"sheets of {one.sheet.name}"),
            Figure(words.count(one.lifts), f"lifts of at most {one.sheets_per_lift:,} sheets"),
            Figure(words.count(one.made), "pieces to come"),
            Figure(words.minutes(one.minutes), f"at {one.machine.name}"),
        ),
        caution=f"{CAUTION}{narrow}",
        sections=(
            Section("The sheet", (ticket_table(one, club),), (ticket_drawing(place, one, club),)),
            Section("Cuts in order, for every lift", (cuts_table(one, club),)),
            Section(
                "Tally",
                (tally_table(one),),
                href=f"../stock-cut?ticket={place}",
                link="Enter what was good and what was spoiled",
            ),
        ),
    )


def cuts_table(one: CuttingTicket, club: Club) -> Table:
    """Return the cuts of a lift, row by row as on paper."""
    moves = moves_of(one.lines, one.machine.smallest_strip)
    return Table(
        NOTE,
        (
            text("Cuts"),
            text("In hand"),
            text("First turn it"),
            text("At the stop"),
            text("Back gauge, in turn"),
            text("Comes off"),
        ),
        [cut_line(row) for row in cut_rows(moves, ruler(club.ruler))],
        empty="The sheet is the piece: nothing is cut.",
    )


def cut_line(row: CutRow) -> Line:
    """Return one row."""
    if row.like:
        return Line((row.numbers, row.in_hand, "", "", "", f"cut as {row.like}"))
    off = f"{row.off}; stays: {row.stays}" if row.stays else row.off
    cells = (row.numbers, row.in_hand, row.turn, row.stop, row.gauges, off)
    return Line(cells, needs=TOO_NARROW if row.narrow else "")


def tally_table(one: CuttingTicket) -> Table:
    """Return what each lift should yield of each piece."""
    return Table(
        f"{one.made:,} pieces to come from {one.sheets:,} sheets",
        (text("Lift"), number("Sheets"), *(number(piece.label) for piece in one.pieces)),
        list(lift_lines(one)),
        foot=("All", f"{one.sheets:,}", *(f"{one.sheets * piece.out:,}" for piece in one.pieces)),
    )


def lift_lines(one: CuttingTicket) -> Iterator[Line]:
    """Yield a line a lift; of very many, the first ones and the last."""
    for number_of in range(1, one.lifts + 1):
        if MOST_LIFTS < number_of < one.lifts:
            continue
        sheets = min(one.sheets_per_lift, one.sheets - (number_of - 1) * one.sheets_per_lift)
        yields = (f"{sheets} × {piece.out} = {sheets * piece.out:,}" for piece in one.pieces)
        yield Line((Cell(f"{number_of:,}"), f"{sheets:,}", *yields))
