"""The buyer's sheets: every material with the decision about it, and the orders to place."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from kits.measures import Currency
from planning.buying import BuyLine, Purchase, SupplierOrder
from planning.documents.codes import order_number
from planning.documents.pdf.words import day
from planning.documents.workbook.table import Column, Look, Table, Value
from planning.flow import MonthPlan
from planning.month import Month

BUY, ORDERS = "Buy", "Orders"

IN_BOXES = (
    "Units that go whole into boxes: boxes x units in each, added up over every kind of box. The Contents sheet has "
    "the products."
)
OVERS = "Extra for spoilage: the material's percent of the good count, rounded up, and its fixed count."
BESIDES = "Chosen to have beyond what the month uses: more boxes may come, or a later month needs it."
IN_CUTTING = "Sheets for the tickets of the Cut sheet, rolls for the lengths of the Pieces sheet."
DUE_IN = "Units of open orders that arrive by the day they are needed."
DUE_LATE = (
    "Units of open orders that arrive later and are waited for: what is on order is not bought twice. The last column says "
    "what ordering it again would bring and cost."
)
CUT_INSTEAD = "Cut by the club from larger sheets instead of being bought; the Cut sheet has the tickets."
TO_ORDER = "Needed, less on hand, less cut, less due in, in time or late; never below 0."
ORDERED = (
    "In the supplier's packs, multiples and minimum; more than needed where a price break makes more cheaper. The last "
    "column says why."
)
PRICE = "Of the price break the order reaches, for the whole order; the average where breaks are incremental."
AMOUNT = (
    "Ordered x price each, or with incremental breaks the units of each price, rounded to the smallest coin. Set-up and "
    "freight are on the Orders sheet."
)
ORDER_BY = (
    "Needed by, less the supplier's lead time in days from Monday to Friday that are not everyone's days off."
)
ARRIVES = (
    "If ordered on the order-by day, or on the day of the plan where that is past; the day the last open order is due "
    "where that is later."
)
GOODS = "The amounts of the Buy sheet that carry this order's number."
FREIGHT = "Paid once an order; none where the goods reach the supplier's free-freight amount."


@dataclass(frozen=True, slots=True)
class BuyRow:
    """A material with what one supplier is asked for of it. first: the row that says what is needed of it."""

    line: BuyLine
    part: Purchase | None
    first: bool = True


def buy_rows(lines: tuple[BuyLine, ...]) -> Iterator[BuyRow]:
    """Yield a row for every material, and one more for each further supplier of it."""
    for line in lines:
        for number, part in enumerate(line.bought or (None,)):
            yield BuyRow(line, part, first=number == 0)


def first_of(figure: Callable[[BuyLine], Value]) -> Callable[[BuyRow], Value]:
    """Return a figure that stands on a material's first row only."""
    return lambda row: figure(row.line) if row.first else None


def part_of(figure: Callable[[Purchase], Value]) -> Callable[[BuyRow], Value]:
    """Return a figure of what is ordered; nothing where nothing is."""
    return lambda row: None if row.part is None else figure(row.part)


def on_first(formula: str) -> Callable[[BuyRow], str]:
    """Return a formula that stands on a material's first row only."""
    return lambda row: formula if row.first else ""


def buy_table(month: Month, plan: MonthPlan) -> Table[BuyRow]:
    """Return a row for every material of the catalogue."""
    money, cents = month.club.currency, Currency(month.club.currency).exponent
    suppliers = {one.code: one.name for one in month.suppliers}
    numbers = {order.supplier.code: number for number, order in enumerate(plan.buying.orders, 1)}
    col = Column[BuyRow]
    return Table(
        name=BUY,
        says="What the month needs of each material, what is there, and what to order by when.",
        empty="No materials yet: fill in the Materials sheet of the month file.",
        rows=tuple(buy_rows(plan.buying.lines)),
        columns=(
            col("material", "Material", lambda row: row.line.need.name, width=25),
            col("unit", "Unit", lambda row: row.line.need.unit, width=8),
            col("in_boxes", "In boxes", first_of(lambda line: line.need.in_boxes), Look.COUNT, note=IN_BOXES),
            col("overs", "Overs", first_of(lambda line: line.need.overs), Look.COUNT, note=OVERS),
            col(
                "in_cutting",
                "Into cutting",
                first_of(lambda line: line.need.in_cutting),
                Look.COUNT,
                note=IN_CUTTING,
            ),
            col(
                "needed",
                "Needed",
                first_of(lambda line: line.need.total),
                Look.COUNT,
                on_first("={in_boxes}+{overs}+{in_cutting}"),
            ),
            col("extra", "Besides", first_of(lambda line: line.need.extra), Look.COUNT, note=BESIDES),
            col("on_hand", "On hand", first_of(lambda line: line.need.on_hand), Look.COUNT),
            col("cut", "Cut", first_of(lambda line: line.need.cut), Look.COUNT, note=CUT_INSTEAD),
            col("due_in", "Due in", first_of(lambda line: line.due_in), Look.COUNT, note=DUE_IN),
            col(
                "due_late",
                "Due late",
                first_of(lambda line: line.due_late),
                Look.COUNT,
                needs_you=lambda row: row.first and row.line.due_late > 0,
                note=DUE_LATE,
            ),
            col(
                "to_order",
                "To order",
                first_of(lambda line: line.net),
                Look.COUNT,
                on_first("=MAX(0,{needed}+{extra}-{on_hand}-{cut}-{due_in}-{due_late})"),
                note=TO_ORDER,
            ),
            col(
                "ordered",
                "Ordered",
                lambda row: 0 if row.part is None else row.part.quantity,
                Look.COUNT,
                note=ORDERED,
            ),
            col("pack", "Pack", part_of(lambda part: part.offer.pack), Look.COUNT, width=6),
            col(
                "price",
                f"Price each ({money})",
                part_of(lambda part: part.price),
                Look.PRICE,
                width=9,
                note=PRICE,
            ),
            col(
                "amount",
                f"Amount ({money})",
                lambda row: Decimal(0) if row.part is None else row.part.goods,
                Look.MONEY,
                lambda row: amount_formula(row, cents),
                width=11,
                total=True,
                note=AMOUNT,
            ),
            col(
                "supplier",
                "Supplier",
                part_of(lambda part: suppliers.get(part.offer.supplier, part.offer.supplier)),
                width=16,
            ),
            col(
                "order",
                "Order no.",
                part_of(lambda part: numbers[part.offer.supplier]),
                Look.COUNT,
                width=6,
            ),
            col("need_by", "Needed by", lambda row: row.line.need.need_by, Look.DAY, width=12),
            col(
                "order_by",
                "Order by",
                part_of(lambda part: part.order_by),
                Look.DAY,
                width=12,
                needs_you=lambda row: row.part is not None and row.part.late,
                note=ORDER_BY,
            ),
            col(
                "arrives",
                "Arrives",
                arrives,
                Look.DAY,
                width=12,
                needs_you=lambda row: row.line.late_day is not None,
                note=ARRIVES,
            ),
            col("state", "Late or short?", state, needs_you=lambda row: bool(state(row)), width=9),
            col("why", "Why", why, width=34),
        ),
    )


def amount_formula(row: BuyRow, cents: int) -> str:
    """Return the sum behind an amount: price by price where breaks reprice only the units from there on."""
    bands = row.part.bands if row.part is not None else ()
    if len(bands) < 2:
        return f"=ROUND({{ordered}}*{{price}},{cents})"
    last = sum(units for units, _ in bands[:-1])
    before = "".join(f"{units}*{price:f}+" for units, price in bands[:-1])
    return f"=ROUND({before}({{ordered}}-{last})*{bands[-1][1]:f},{cents})"


def arrives(row: BuyRow) -> Value:
    """Return the day all of it is in; of one supplier among several, the day its part is."""
    several = row.part is not None and len(row.line.bought) > 1
    return row.part.arrives if several and row.part else row.line.late_day or row.line.arrives


def state(row: BuyRow) -> str:
    """Say whether a material comes too late, or not all of it at all."""
    line = row.line
    short = [f"short {line.short:,}"] if line.short else []
    return ", ".join([*short, *(["late"] if line.late_day else [])]) if row.first else ""


def why(row: BuyRow) -> str:
    """Say why this quantity, and what is waited for."""
    line, several = row.line, len(row.line.bought) > 1
    reason = row.part.reason if row.part is not None and several and not row.first else line.reason
    return "; ".join(words for words in (reason, line.waits if row.first else "") if words)


def orders_table(month: Month, plan: MonthPlan) -> Table[tuple[int, SupplierOrder]]:
    """Return a row for every order, with its number."""
    money = month.club.currency
    col = Column[tuple[int, SupplierOrder]]
    return Table(
        name=ORDERS,
        says="One order per supplier, to be placed by the earliest day any of its lines asks for.",
        empty="Nothing to order: stock and open orders cover the month.",
        rows=tuple(enumerate(plan.buying.orders, 1)),
        columns=(
            col("supplier", "Supplier", lambda row: row[1].supplier.name, width=28),
            col(
                "number",
                "Order",
                lambda row: order_number(month.club.code, month.club.month, row[0]),
                width=15,
            ),
            col("order", "Order no.", lambda row: row[0], Look.COUNT, width=7),
            col(
                "lines", "Lines", lambda row: len(row[1].lines), Look.COUNT, "=COUNTIFS({Buy.order},{order})"
            ),
            col(
                "goods",
                f"Goods ({money})",
                lambda row: row[1].goods,
                Look.MONEY,
                "=SUMIFS({Buy.amount},{Buy.order},{order})",
                width=12,
                total=True,
                note=GOODS,
            ),
            col("setup", f"Set-up ({money})", lambda row: row[1].setup, Look.MONEY, width=12, total=True),
            col(
                "freight",
                f"Freight ({money})",
                lambda row: row[1].freight,
                Look.MONEY,
                width=12,
                total=True,
                note=FREIGHT,
            ),
            col(
                "total",
                f"Total ({money})",
                lambda row: row[1].total,
                Look.MONEY,
                "={goods}+{setup}+{freight}",
                width=12,
                total=True,
            ),
            col(
                "order_by",
                "Order by",
                lambda row: row[1].order_by,
                Look.DAY,
                width=12,
                needs_you=lambda row: row[1].late,
            ),
            col("late", "Late?", late_words, width=29, needs_you=lambda row: row[1].late),
        ),
    )


def late_words(row: tuple[int, SupplierOrder]) -> str:
    """Say on which day the last of an order's late lines arrives."""
    days = [line.arrives for line in row[1].lines if line.late and line.arrives]
    return f"late: arrives {day(max(days))}" if days else ""
