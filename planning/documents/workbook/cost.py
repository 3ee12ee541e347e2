"""The cost sheets: the table by tier and heading, and every entry it adds up."""

from kits.measures import Currency
from planning.cost import ColumnCost, CostEntry, Heading
from planning.documents.workbook.table import Column, Look, Table, Value
from planning.documents.workbook.words import sentence
from planning.flow import MonthPlan
from planning.month import Month

COST, ENTRIES = "Cost", "Entries"

NOTES = {
    Heading.PAPER: "Sheets and cut pieces that go into boxes, at what they cost.",
    Heading.CUTTING: "The knife's minutes, ticket by ticket, at the machine's cost per hour.",
    Heading.EXTRAS: "Beads, ribbon, prints and the like that go into boxes.",
    Heading.PACKAGING: "Cartons and wrapping.",
    Heading.PACKING: "The crew's minutes at the bench, at the club's cost per hour.",
    Heading.POSTAGE: "By load, at the carrier's rate.",
    Heading.SPOILAGE: "Overs, spares, and what is left over and of no use later.",
    Heading.OVERTIME: "The crew's minutes beyond their hours.",
    Heading.FEES: "What taking the members' payments costs.",
    Heading.DAMAGE: "Boxes that are damaged in the post, made and sent again.",
    Heading.DESIGN: "The month's design, shared by the kits.",
    Heading.FIXED: "What the month costs whatever it sends, shared by the kits.",
    Heading.FREIGHT: "Each order's freight and set-up, shared by what its lines cost.",
}
COLUMN = "The number the Entries sheet books this row's amounts under."
EACH = "Total / kits, rounded to the smallest coin."
MARGIN = "Price of one kit less its cost."

Numbered = tuple[int, ColumnCost]


def cost_table(month: Month, plan: MonthPlan) -> Table[Numbered]:
    """Return a row for every tier, and one for what was ordered once; headings across."""
    money, cents = month.club.currency, Currency(month.club.currency).exponent
    col = Column[Numbered]
    first, last = (key_of(heading) for heading in (Heading.PAPER, Heading.FIXED))
    return Table(
        name=COST,
        says=" ".join(
            (
                f"What the month costs, in {money}, by tier and heading, and what one kit costs.",
                *map(sentence, plan.cost.notes),
            )
        ),
        empty="No tiers yet: fill in the Tiers sheet of the month file.",
        rows=tuple(enumerate(plan.cost.columns, 1)),
        columns=(
            col("tier", "Tier", lambda row: row[1].name, width=22),
            col("column", "No.", lambda row: row[0], Look.COUNT, width=5, note=COLUMN),
            *(heading_column(heading, money) for heading in Heading),
            col(
                "total",
                f"Total ({money})",
                lambda row: row[1].total,
                Look.MONEY,
                f"=SUM({{{first}}}:{{{last}}})",
                width=12,
                total=True,
            ),
            col("kits", "Kits", lambda row: row[1].boxes or None, Look.COUNT, total=True),
            col(
                "each",
                f"Cost of one kit ({money})",
                lambda row: row[1].each,
                Look.MONEY,
                lambda row: f"=ROUND({{total}}/{{kits}},{cents})" if row[1].boxes else "",
                width=12,
                note=EACH,
            ),
            col(
                "price",
                f"Price of one ({money})",
                lambda row: row[1].price if row[1].boxes else None,
                Look.MONEY,
                width=12,
            ),
            col(
                "margin",
                f"Margin of one ({money})",
                lambda row: row[1].margin,
                Look.MONEY,
                lambda row: "={price}-{each}" if row[1].boxes else "",
                width=12,
                needs_you=lambda row: (row[1].margin or 0) < 0,
                note=MARGIN,
            ),
            col(
                "income",
                f"Price of all ({money})",
                lambda row: row[1].price * row[1].boxes,
                Look.MONEY,
                "={kits}*{price}",
                width=12,
                total=True,
            ),
        ),
    )


def heading_column(heading: Heading, money: str) -> Column[Numbered]:
    """Return the column of one heading."""

    def amount(row: Numbered) -> Value:
        return dict(row[1].by_heading)[heading]

    formula = f'=SUMIFS({{Entries.amount}},{{Entries.heading}},"{heading}",{{Entries.column}},{{column}})'
    return Column(
        key_of(heading), heading, amount, Look.MONEY, formula, width=12, total=True, note=NOTES[heading]
    )


def key_of(heading: Heading) -> str:
    """Return the key of a heading's column."""
    return heading.name.lower()


def entries_table(month: Month, plan: MonthPlan) -> Table[CostEntry]:
    """Return a row for every amount in the cost table."""
    numbers = {column.code: number for number, column in enumerate(plan.cost.columns, 1)}
    names = {column.code: column.name for column in plan.cost.columns}
    col = Column[CostEntry]
    return Table(
        name=ENTRIES,
        says="Every amount the Cost sheet adds up. Amounts are shared by largest remainder, so the parts make the whole.",
        empty="The month costs nothing.",
        rows=plan.cost.entries,
        columns=(
            col("heading", "Heading", lambda entry: entry.heading, width=20),
            col("what", "For", lambda entry: entry.what, width=44),
            col("tier", "Tier", lambda entry: names[entry.column], width=22),
            col("column", "No.", lambda entry: numbers[entry.column], Look.COUNT, width=6, note=COLUMN),
            col(
                "amount",
                f"Amount ({month.club.currency})",
                lambda entry: entry.amount,
                Look.MONEY,
                width=13,
                total=True,
            ),
        ),
    )
