"""The cutting step: how to get the pieces out of the sheets."""

from django.http import HttpRequest, HttpResponse

from kits.catalogue import Grain
from kits.drawing import Drawing as Shapes
from kits.drawing import Rect, Style, svg
from kits.guillotine import Cut, Piece, draw_sheet, walk
from kits.measures import ruler
from planning.cutting import Choice, CuttingResult, CuttingTicket, Group, OnTicket, PieceJob
from planning.month import Club
from planning.run import Planned
from planning.views import buying, words
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Strip, Table, number, text
from planning.views.steps import step_page

LONGER_SIDE = 100.0  # mm
CAUTION = (
    "Guards and two-hand start stay in place, one person works the machine, and hands stay clear of clamp and knife. "
    "The machine's manual, local rules and trained staff come before anything on this page."
)


def cutting(request: HttpRequest, month: int) -> HttpResponse:
    """Show how the pieces are cut."""
    return step_page(request, month, "cutting", page)


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result = planned.plan.cutting
    pieces = sum(ticket.made for ticket in result.tickets)
    main = max(result.tickets, key=lambda ticket: ticket.sheets, default=None)
    return Strip(
        figure=Figure(
            words.count(result.sheets),
            f"sheets into {pieces:,} pieces, {words.minutes(result.minutes)} at the guillotine",
        ),
        words=f"{words.counted(len(result.tickets), 'ticket')}. {words.sentence(result.ended)}",
        drawing="" if main is None else svg(mark(main), "cutting"),
        needs=tuple(
            f"Ticket {number}, {ticket.name}: {ticket.narrow_words}."
            for number, ticket in enumerate(result.tickets, 1)
            if ticket.narrow_words
        ),
        blocked=buying.blocks(planned, {ticket.sheet.material for ticket in result.tickets}),
    )


def page(planned: Planned) -> Page:
    """Return the step's own page."""
    result = planned.plan.cutting
    made = sum(ticket.made for ticket in result.tickets)
    return Page(
        figures=(
            Figure(
                words.count(result.sheets),
                "sheets to cut",
                words.added((ticket.sheets for ticket in result.tickets), result.sheets),
            ),
            Figure(
                words.count(made), "pieces", words.added((ticket.made for ticket in result.tickets), made)
            ),
            Figure(
                words.minutes(result.minutes),
                "at the guillotine",
                words.added((f"{ticket.minutes} min" for ticket in result.tickets), f"{result.minutes} min"),
            ),
        ),
        ended=words.sentence(result.ended),
        caution=CAUTION if result.tickets else "",
        sections=(
            *(
                ticket_section(number, ticket, planned.club)
                for number, ticket in enumerate(result.tickets, 1)
            ),
            pieces_section(result),
            *(group_section(group, planned.club) for group in result.groups),
            Section("Lengths from rolls", tables=(length_table(planned),)),
        ),
    )


def group_section(group: Group, club: Club) -> Section:
    """Return the plans there were for some jobs, the one on the tickets first."""
    return Section(f"Ways to cut: {', '.join(group.names)}", tables=(choices_table(group, club),))


def choices_table(group: Group, club: Club) -> Table:
    """Return the plans of a group as a table to compare."""
    return Table(
        words.sentence(group.proof),
        (
            text("Way"),
            number("Sheets"),
            number("Tickets"),
            number("Time"),
            number("Paper", club.currency),
            number("Knife", club.currency),
            number("Both", club.currency),
        ),
        [
            Line(
                (
                    Cell(f"{one.words}{', on the tickets' if one.is_taken else ''}", narrow(one)),
                    f"{one.sheets:,}",
                    f"{one.patterns:,}",
                    words.minutes(one.minutes),
                    words.money(one.paper, club),
                    words.money(one.knife, club),
                    words.money(one.cost, club),
                )
            )
            for one in group.choices
        ],
    )


def narrow(one: Choice) -> str:
    """Say that a plan asks the machine to hold less than it is set for."""
    return "holds strips narrower than the machine is set for" if one.narrow else ""


def ticket_section(place: int, ticket: CuttingTicket, club: Club) -> Section:
    """Return one ticket: the drawing of its sheet, and the same in numbers."""
    return Section(
        f"Ticket {place}: {ticket.name}",
        tables=(ticket_table(ticket, club),),
        drawings=(ticket_drawing(place, ticket, club),),
        href=f"cutting/{place}",
        link=f"Ticket {place} at the machine: every cut in order, and the tally",
    )


def ticket_drawing(place: int, ticket: CuttingTicket, club: Club) -> Drawing:
    """Draw a ticket's sheet with its cuts."""
    grain = None if ticket.sheet.grain is Grain.NONE else str(ticket.sheet.grain)
    title = f"{ticket.name}: {ticket.out:,} from a sheet of {ticket.sheet.name}"
    return Drawing(svg(draw_sheet(ticket.tree, ruler(club.ruler), title, grain), f"ticket-{place}"))


def ticket_table(ticket: CuttingTicket, club: Club) -> Table:
    """Return a ticket's numbers, each with the sum it came from."""
    sheet = ticket.sheet
    lines = (
        ("Sheet", "", f"{sheet.name}, {words.size(sheet.width, sheet.height, club)}"),
        *(
            (("Edge trim", "", f"{words.length(sheet.trim, club)} off each edge first"),)
            if sheet.trim
            else ()
        ),
        *(piece_line(one, ticket, club) for one in ticket.pieces),
        ("Sheets", f"{ticket.sheets:,}", "all cut alike"),
        (
            "Lifts",
            f"{ticket.lifts:,}",
            f"{ticket.sheets:,} ÷ at most {ticket.sheets_per_lift:,} sheets, rounded up",
        ),
        ("Cuts", f"{ticket.cuts:,}", f"{ticket.lifts:,} × {ticket.cuts_per_lift:,} in a lift"),
        (
            "Turns",
            f"{ticket.turns:,}",
            f"{ticket.lifts:,} × {ticket.turns_per_lift:,} in a lift, a half counted twice",
        ),
        ("Time", words.minutes(ticket.minutes), minutes_sum(ticket)),
        ("Cost of the time", words.money(ticket.cost, club), f"{club.currency}, at {ticket.machine.name}"),
    )
    return Table(
        f"{ticket.name} from {sheet.name}",
        (text("What"), number("Figure"), text("How worked out")),
        [Line(line) for line in lines],
    )


def piece_line(one: OnTicket, ticket: CuttingTicket, club: Club) -> tuple[str, str, str]:
    """Return one kind of piece: how many come, and from what."""
    job = one.job
    how = f"{ticket.sheets:,} × {one.out:,} out of a sheet; {words.size(job.width, job.height, club)}"
    return one.label, f"{ticket.sheets * one.out:,}", how


def pieces_section(result: CuttingResult) -> Section:
    """Return every piece: what is wanted, on which tickets it is cut, and what is cut beyond that."""
    made, spare = result.made, result.spare
    return Section(
        "All pieces",
        tables=(
            Table(
                "Surplus is what filling the sheets yields beyond good pieces and overs",
                (
                    text("Piece"),
                    number("Good"),
                    number("Overs"),
                    text("Tickets"),
                    number("Cut"),
                    number("Surplus"),
                ),
                [
                    Line(
                        (
                            Cell(
                                job.name, f"{made[job.item]:,} cut − {job.count:,} good − {job.overs:,} overs"
                            ),
                            f"{job.count:,}",
                            f"{job.overs:,}",
                            ", ".join(
                                str(n) for n, one in enumerate(result.tickets, 1) if job.item in one.items
                            ),
                            f"{made[job.item]:,}",
                            f"{spare[job.item]:,}",
                        )
                    )
                    for job in result.jobs
                    if isinstance(job, PieceJob)
                ],
                empty="No pieces are cut this month.",
            ),
        ),
    )


def minutes_sum(ticket: CuttingTicket) -> str:
    """Return the sum behind a ticket's time."""
    machine = ticket.machine
    cuts = f"{ticket.cuts_per_lift:,} cuts × {machine.minutes_per_cut} min"
    turns = f"{ticket.turns_per_lift:,} turns × {machine.minutes_per_turn} min"
    return f"{ticket.lifts:,} × ({machine.minutes_per_lift} min + {cuts} + {turns})"


def length_table(planned: Planned) -> Table:
    """Return the lengths cut from rolls."""
    club = planned.club
    return Table(
        "A length never runs over from one roll to the next",
        (
            text("Length"),
            text("Roll"),
            number("From one roll"),
            number("Wanted"),
            number("Rolls"),
            number("To spare"),
        ),
        [
            Line(
                (
                    words.length(one.job.length, club),
                    one.roll.name,
                    f"{one.out:,}",
                    f"{one.job.wanted:,}",
                    f"{one.rolls:,}",
                    f"{one.spare:,}",
                )
            )
            for one in planned.plan.cutting.lengths
        ],
        empty="No lengths are cut from rolls this month.",
    )


def mark(ticket: CuttingTicket) -> Shapes:
    """Draw a cut sheet small and without words."""
    sheet = ticket.sheet
    scale = LONGER_SIDE / max(sheet.width, sheet.height)
    shapes = tuple(
        Rect(
            placed.x * scale + 0.3,
            placed.y * scale + 0.3,
            placed.part.width * scale,
            placed.part.height * scale,
            Style.PIECE if isinstance(placed.part, Piece) else Style.OFFCUT,
        )
        for placed in walk(ticket.tree)
        if not isinstance(placed.part, Cut)
    )
    said = f"{ticket.out:,} pieces ({ticket.name}) from a sheet of {sheet.name}"
    return Shapes(
        sheet.width * scale + 0.6, sheet.height * scale + 0.6, "The main cutting pattern", said, shapes
    )
