"""The cutter's sheets: the tickets, what comes out of them, the plans there were, every piece from need to knife."""

from collections.abc import Mapping
from dataclasses import dataclass

from kits.kit import Direction
from kits.measures import Currency, format_length, round_money
from planning.cutting import Choice, CuttingTicket, Group, OnTicket
from planning.documents.pdf.words import size
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Month
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts, tier_of
from planning.requirements import Kind, Requirement, code_of, item, kind_of

CUT, OUT_OF_SHEETS, WAYS, PIECES = "Cut", "Out of sheets", "Ways to cut", "Pieces"
MINUTES_AN_HOUR = 60

OUT = "Pieces of this kind in the drawing of the ticket."
PER_LIFT = "The lift height of the machine, divided by the sheet's thickness; whole sheets."
SPARE = "What filling sheets or rolls yields beyond what is wanted."
MINUTES = "Lifts x (minutes a lift + cuts a lift x minutes a cut + turns x minutes a turn), by the machine's own figures."
COST = "Minutes x the machine's cost per hour / 60."
PAPER = "What these sheets add to the orders, and what those on the shelf are worth."
GOOD = "Pieces that go into boxes: the last column has the sum."
OVERS = "Extra for spoilage: the piece's percent of the good count, rounded up, and its fixed count."
SHELF = "Finished pieces left from earlier months, used first."


@dataclass(frozen=True, slots=True)
class OutOf:
    """One kind of piece on one ticket. number: of the ticket."""

    number: int
    ticket: CuttingTicket
    one: OnTicket


def cut_table(month: Month, plan: MonthPlan) -> Table[CuttingTicket]:
    """Return a row for every cutting ticket."""
    money, cents = month.club.currency, Currency(month.club.currency).exponent
    numbers = {id(ticket): number for number, ticket in enumerate(plan.cutting.tickets, 1)}
    col = Column[CuttingTicket]
    return Table(
        name=CUT,
        says="One ticket for all sheets cut alike: which sheet, how many lifts and cuts. Only trained staff "
        "cut, by the machine's manual and local rules; the printed tickets carry drawings and cautions.",
        empty="Nothing to cut this month.",
        rows=plan.cutting.tickets,
        columns=(
            col("pieces", "Pieces", lambda one: one.name, width=36),
            col("ticket", "Ticket", lambda one: numbers[id(one)], Look.COUNT, width=7),
            col("sheet", "From sheet", lambda one: one.sheet.name, width=23),
            col("of", "Sheet size", lambda one: size(one.sheet.width, one.sheet.height), width=15),
            col("sheets", "Sheets", lambda one: one.sheets, Look.COUNT, total=True),
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
        ),
    )


def minutes_sum(ticket: CuttingTicket) -> str:
    """Return the formula of a ticket's minutes."""
    machine = ticket.machine
    each = f"{{cuts_each}}*{machine.minutes_per_cut:f}+{{turns_each}}*{machine.minutes_per_turn:f}"
    return f"={{lifts}}*({machine.minutes_per_lift:f}+{each})"


def out_table(plan: MonthPlan) -> Table[OutOf]:
    """Return a row for every kind of piece on every ticket."""
    col = Column[OutOf]
    return Table(
        name=OUT_OF_SHEETS,
        says="What each ticket's sheets yield: several piece sizes may come out of one sheet.",
        empty="Nothing to cut this month.",
        rows=tuple(
            OutOf(number, ticket, one)
            for number, ticket in enumerate(plan.cutting.tickets, 1)
            for one in ticket.pieces
        ),
        columns=(
            col("piece", "Piece", lambda row: row.one.job.name, width=26),
            col("code", "Code", lambda row: code_of(row.one.job.item), width=16),
            col("ticket", "Ticket", lambda row: row.number, Look.COUNT, width=7),
            col("size", "Piece size", lambda row: size(row.one.job.width, row.one.job.height), width=19),
            col("direction", "Direction", direction, width=16),
            col("sheet", "From sheet", lambda row: row.ticket.sheet.name, width=23),
            col("out", "Out of one sheet", lambda row: row.one.out, Look.COUNT, width=9, note=OUT),
            col("sheets", "Sheets", lambda row: row.ticket.sheets, Look.COUNT),
            col(
                "made",
                "Made",
                lambda row: row.ticket.made_of(row.one.job.item),
                Look.COUNT,
                "={out}*{sheets}",
                total=True,
            ),
        ),
    )


def direction(row: OutOf) -> str:
    """Return how the pieces may lie on the sheet; nothing where that is free."""
    return "" if row.one.job.direction is Direction.ANY else row.one.job.direction


def ways_table(month: Month, plan: MonthPlan) -> Table[tuple[Group, Choice]]:
    """Return a row for every plan there was to choose from."""
    money, cents = month.club.currency, Currency(month.club.currency).exponent
    col = Column[tuple[Group, Choice]]
    return Table(
        name=WAYS,
        says="The plans there were for pieces that may share a sheet. The first of each is the one on the tickets.",
        empty="Nothing to cut this month.",
        rows=tuple((group, choice) for group in plan.cutting.groups for choice in group.choices),
        columns=(
            col("pieces", "Pieces", lambda row: ", ".join(row[0].names), width=40),
            col("taken", "Taken", lambda row: "yes" if row[1].is_taken else "no"),
            col("words", "Way", lambda row: row[1].words, width=25),
            col("sheets", "Sheets", lambda row: row[1].sheets, Look.COUNT),
            col("patterns", "Tickets", lambda row: row[1].patterns, Look.COUNT),
            col("minutes", "Minutes", lambda row: row[1].minutes, Look.HUNDREDTHS),
            col(
                "paper",
                f"Paper ({money})",
                lambda row: round_money(row[1].paper, cents),
                Look.MONEY,
                width=10,
                note=PAPER,
            ),
            col(
                "knife",
                f"Knife ({money})",
                lambda row: round_money(row[1].knife, cents),
                Look.MONEY,
                width=10,
            ),
            col(
                "cost",
                f"Both ({money})",
                lambda row: round_money(row[1].paper, cents) + round_money(row[1].knife, cents),
                Look.MONEY,
                "={paper}+{knife}",
                width=10,
            ),
            col("proof", "Proved", lambda row: row[0].proof if row[1].is_taken else "", width=46),
        ),
    )


# --- Pieces ---


def pieces_table(month: Month, plan: MonthPlan) -> Table[Requirement]:
    """Return a row for every piece cut from sheets and every length cut from rolls."""
    names, sizes, cutting = names_of(month), sizes_of(month), plan.cutting
    sources, made = cutting.sources, cutting.made
    materials = {one.code: one.name for one in month.materials}
    rolls = {ticket.job.item: ticket for ticket in cutting.lengths}

    def cut(line: Requirement) -> int:
        return made[line.item]

    def made_formula(line: Requirement) -> str:
        if line.item in rolls:
            return f"={rolls[line.item].out}*{rolls[line.item].rolls}"
        return "=SUMPRODUCT(({Out of sheets.code}={code})*{Out of sheets.made})" if cutting.tickets else ""

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
            col("code", "Code", lambda line: code_of(line.item), width=16),
            col("size", "Size", lambda line: sizes.get(line.item, ""), width=20),
            col("good", "In boxes", lambda line: line.good, Look.COUNT, note=GOOD),
            col("overs", "Overs", lambda line: line.overs, Look.COUNT, note=OVERS),
            col("needed", "Needed", lambda line: line.good + line.overs, Look.COUNT, "={good}+{overs}"),
            col("shelf", "From the shelf", lambda line: line.from_shelf, Look.COUNT, note=SHELF),
            col("to_cut", "To cut", lambda line: line.net, Look.COUNT, "={needed}-{shelf}"),
            col(
                "source",
                "Cut from",
                lambda line: ", ".join(materials[code] for code in sources.get(line.item, ())) or None,
                width=24,
            ),
            col("made", "Made", cut, Look.COUNT, made_formula),
            col(
                "spare",
                "Spare",
                lambda line: cut(line) - line.net,
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
        case Kind.ADDED:
            return f"{tier_of(name)} boxes with more"
        case Kind.LEFT_OUT:
            return f"{tier_of(name)} boxes without"
        case Kind.RECIPE:
            return f"{recipes.get(code, code)} recipes"
        case _:
            return "ordered once"
