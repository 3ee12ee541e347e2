"""The cutter's sheets: the tickets, and every piece and length from need to knife."""

from collections.abc import Mapping

from kits.kit import Direction
from kits.measures import Currency, format_length, round_money
from planning.cutting import CuttingTicket
from planning.documents.pdf.words import size
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Month
from planning.problems.requirements import all_pre_cuts, length_code
from planning.requirements import Kind, Requirement, code_of, item, kind_of

CUT, PIECES = "Cut", "Pieces"
MINUTES_AN_HOUR = 60

OUT = "Pieces one sheet yields. Proved: no way of cutting the sheet from edge to edge yields more."
PER_LIFT = "The lift height of the machine, divided by the sheet's thickness; whole sheets."
SPARE = "What filling the last sheet or roll yields beyond what is wanted."
MINUTES = "Lifts x (minutes a lift + cuts a lift x minutes a cut), by the machine's own figures."
COST = "Minutes x the machine's cost per hour / 60."
GOOD = "Pieces that go into boxes: the last column has the sum."
OVERS = "Extra for spoilage: the piece's percent of the good count, rounded up, and its fixed count."
SHELF = "Finished pieces left from earlier months, used first."


def cut_table(month: Month, plan: MonthPlan) -> Table[CuttingTicket]:
    """Return a row for every cutting ticket."""
    money, cents = month.club.currency, Currency(month.club.currency).exponent
    numbers = {ticket.job.item: number for number, ticket in enumerate(plan.cutting.tickets, 1)}
    col = Column[CuttingTicket]
    return Table(
        name=CUT,
        says="One ticket per piece: which sheet, how many come out of it, how many lifts and cuts. Only trained staff "
        "cut, by the machine's manual and local rules; the printed tickets carry drawings and cautions.",
        empty="Nothing to cut this month.",
        rows=plan.cutting.tickets,
        columns=(
            col("piece", "Piece", lambda one: one.job.name, width=23),
            col("ticket", "Ticket", lambda one: numbers[one.job.item], Look.COUNT, width=7),
            col("size", "Piece size", lambda one: size(one.job.width, one.job.height), width=19),
            col("direction", "Direction", direction, width=11),
            col("sheet", "From sheet", lambda one: one.sheet.name, width=23),
            col("of", "Sheet size", lambda one: size(one.sheet.width, one.sheet.height), width=15),
            col("good", "Good", lambda one: one.job.count, Look.COUNT),
            col("overs", "Overs", lambda one: one.job.overs, Look.COUNT, width=7),
            col("wanted", "To cut", lambda one: one.job.wanted, Look.COUNT, "={good}+{overs}"),
            col("out", "Out of one sheet", lambda one: one.out, Look.COUNT, width=9, note=OUT),
            col(
                "sheets",
                "Sheets",
                lambda one: one.sheets,
                Look.COUNT,
                "=ROUNDUP({wanted}/{out},0)",
                total=True,
            ),
            col("made", "Made", lambda one: one.made, Look.COUNT, "={out}*{sheets}"),
            col("spare", "Spare", lambda one: one.spare, Look.COUNT, "={made}-{wanted}", width=7, note=SPARE),
            col("per_lift", "Sheets a lift", lambda one: one.sheets_per_lift, Look.COUNT, note=PER_LIFT),
            col(
                "lifts",
                "Lifts",
                lambda one: one.lifts,
                Look.COUNT,
                "=ROUNDUP({sheets}/{per_lift},0)",
                width=7,
                total=True,
            ),
            col("cuts_each", "Cuts a lift", lambda one: one.cuts_per_lift, Look.COUNT, width=7),
            col("turns_each", "Turns a lift", lambda one: one.turns_per_lift, Look.COUNT, width=7),
            col(
                "cuts", "Cuts", lambda one: one.cuts, Look.COUNT, "={lifts}*{cuts_each}", width=7, total=True
            ),
            col("machine", "Machine", lambda one: one.machine.name, width=17),
            col(
                "minutes",
                "Minutes",
                lambda one: one.minutes,
                Look.HUNDREDTHS,
                minutes_sum,
                total=True,
                note=MINUTES,
            ),
            col(
                "cost",
                f"Cost ({money})",
                lambda one: round_money(one.cost, cents),
                Look.MONEY,
                lambda one: (
                    f"=ROUND({{minutes}}*{one.machine.cost_per_hour.normalize():f}/{MINUTES_AN_HOUR},{cents})"
                ),
                width=10,
                total=True,
                note=COST,
            ),
            col("proof", "Number out", proof, width=11, needs_you=lambda one: not one.proved),
        ),
    )


def direction(ticket: CuttingTicket) -> str:
    """Return how the pieces may lie on the sheet; nothing where that is free."""
    return "" if ticket.job.direction is Direction.ANY else ticket.job.direction


def minutes_sum(ticket: CuttingTicket) -> str:
    """Return the formula of a ticket's minutes."""
    machine = ticket.machine
    each = f"{{cuts_each}}*{machine.minutes_per_cut:f}+{{turns_each}}*{machine.minutes_per_turn:f}"
    return f"={{lifts}}*({machine.minutes_per_lift:f}+{each})"


def proof(ticket: CuttingTicket) -> str:
    """Say whether the number out is proved."""
    return "proved" if ticket.proved else "not proved"


# --- Pieces ---


def pieces_table(month: Month, plan: MonthPlan) -> Table[Requirement]:
    """Return a row for every piece cut from sheets and every length cut from rolls."""
    sheets = {ticket.job.item: ticket for ticket in plan.cutting.tickets}
    rolls = {ticket.job.item: ticket for ticket in plan.cutting.lengths}
    names, sizes = names_of(month), sizes_of(month)

    def source(line: Requirement) -> str | None:
        if line.item in rolls:
            return rolls[line.item].roll.name
        return sheets[line.item].sheet.name if line.item in sheets else None

    def out(line: Requirement) -> int | None:
        ticket = sheets.get(line.item) or rolls.get(line.item)
        return ticket.out if ticket else None

    def units(line: Requirement) -> int | None:
        if line.item in rolls:
            return rolls[line.item].rolls
        return sheets[line.item].sheets if line.item in sheets else None

    def made(line: Requirement) -> int:
        return (out(line) or 0) * (units(line) or 0)

    col = Column[Requirement]
    return Table(
        name=PIECES,
        says="Every piece and every length the club cuts: what the boxes need, what the shelf has, what is made.",
        empty="No pre-cuts and no lengths in this month's kit.",
        rows=tuple(
            line for line in plan.requirements.lines if kind_of(line.item) in (Kind.PIECE, Kind.LENGTH)
        ),
        columns=(
            col("piece", "Piece or length", lambda line: names.get(line.item, code_of(line.item)), width=25),
            col("size", "Size", lambda line: sizes.get(line.item, ""), width=20),
            col("good", "In boxes", lambda line: line.good, Look.COUNT, note=GOOD),
            col("overs", "Overs", lambda line: line.overs, Look.COUNT, note=OVERS),
            col("needed", "Needed", lambda line: line.good + line.overs, Look.COUNT, "={good}+{overs}"),
            col("shelf", "From the shelf", lambda line: line.from_shelf, Look.COUNT, note=SHELF),
            col("to_cut", "To cut", lambda line: line.net, Look.COUNT, "={needed}-{shelf}"),
            col("source", "Cut from", source, width=24),
            col("out", "Out of one", out, Look.COUNT),
            col("units", "Sheets or rolls", units, Look.COUNT, width=9),
            col("made", "Made", made, Look.COUNT, "={out}*{units}"),
            col(
                "spare",
                "Spare",
                lambda line: made(line) - line.net,
                Look.COUNT,
                "={made}-{to_cut}",
                note=SPARE,
            ),
            col("for", "In boxes is the sum of", lambda line: asked_for(month, line), width=44),
        ),
    )


def names_of(month: Month) -> Mapping[str, str]:
    """Return the name of every piece and length."""
    names = {one.code: one.name for one in month.materials}
    pieces = {item(Kind.PIECE, one.code): one.name for one in all_pre_cuts(month)}
    lengths = {name: names[line_item] for name, line_item, _ in lengths_of(month)}
    return pieces | lengths


def sizes_of(month: Month) -> Mapping[str, str]:
    """Return the size of every piece and length."""
    pieces = {item(Kind.PIECE, one.code): size(one.width, one.height) for one in all_pre_cuts(month)}
    return pieces | {name: format_length(length) for name, _, length in lengths_of(month)}


def lengths_of(month: Month) -> list[tuple[str, str, int]]:
    """Return every length the kit asks for: its name in the bill, its roll, the length."""
    return [
        (item(Kind.LENGTH, length_code(line.item, line.length)), line.item, line.length)
        for line in month.kit_lines
        if line.length is not None
    ]


def asked_for(month: Month, line: Requirement) -> str:
    """Say which sum the good count is: `31 STD kits x 3 + 12 DLX kits x 3`."""
    return " + ".join(f"{one.parents:,} {parent(month, one.parent)} x {one.per:,}" for one in line.sources)


def parent(month: Month, name: str) -> str:
    """Return what asks for a piece, in words."""
    code = code_of(name)
    recipes = {one.code: one.title for one in month.recipes}
    match kind_of(name):
        case Kind.KIT:
            return f"{code} kits"
        case Kind.WELCOME:
            return f"{code} first boxes"
        case Kind.RECIPE:
            return f"{recipes.get(code, code)} recipes"
        case _:
            return "ordered once"
