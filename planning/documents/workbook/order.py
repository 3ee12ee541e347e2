"""A purchase order as a workbook: its lines, tax by rate, and sums that are live formulas."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from kits.measures import round_money
from planning.documents.stamp import Stamp
from planning.documents.workbook.table import Column, Look, Table, Value
from planning.documents.workbook.write import Binding, bound
from planning.month import Club
from planning.orders import Order, OrderLine, tax_table

LINES, SUMS = "Order", "Sums"
AMOUNT = "Quantity x price each, rounded to the smallest coin. Where the supplier's prices go in steps, the amount agreed."
TAX_NOTE = "Worked out once for each rate, from the sum of all amounts taxed at it, and rounded once."


@dataclass(frozen=True, slots=True)
class Sum:
    """One line of the sums. rate: of a tax, else None."""

    what: str
    amount: Decimal
    formula: str = ""
    rate: Decimal | None = None


def order_workbook(club: Club, order: Order, stamp: Stamp) -> bytes:
    """Return an order as the bytes of an .xlsx file: the same order and stamp, the same bytes."""
    binding = Binding(
        title=f"{club.name} - purchase order {order.number}",
        author=club.name,
        paper=club.paper,
        exponent=order.exponent,
        stamp=stamp,
    )
    return bound((line_table(club, order), sum_table(order)), binding)


def line_table(club: Club, order: Order) -> Table[OrderLine]:
    """Return a row for every line, charges too."""
    money, cents = order.currency, order.exponent
    amended = (
        f", version {order.version}, which takes the place of the one before" if order.version > 1 else ""
    )
    place = ", ".join(line for line in club.address.splitlines() if line.strip())
    deliver = f" Deliver to {place}." if place else ""

    def formula(line: OrderLine) -> str:
        is_plain = round_money(line.quantity * line.price, cents) == line.amount
        return f"=ROUND({{quantity}}*{{price}},{cents})" if is_plain else ""

    col = Column[OrderLine]
    return Table(
        name=LINES,
        says=f"Purchase order {order.number}{amended}, from {club.name} to {order.supplier_name}.{deliver}",
        empty="Nothing is ordered.",
        rows=order.lines,
        columns=(
            col("line", "Material or charge", lambda line: line.name, width=32),
            col("about", "What it is", lambda line: line.about or None, width=34),
            col("offer", "Offer", lambda line: line.offer or None, width=16),
            col("quantity", "Quantity", lambda line: line.quantity, Look.COUNT, width=10),
            col("unit", "Unit", lambda line: line.unit or None, width=8),
            col("pack", "Pack", lambda line: line.pack if line.pack > 1 else None, Look.COUNT, width=7),
            col("price", f"Price each ({money})", lambda line: line.price, Look.PRICE, width=11),
            col(
                "amount",
                f"Amount ({money})",
                lambda line: line.amount,
                Look.MONEY,
                formula,
                width=12,
                total=True,
                note=AMOUNT,
            ),
            col("rate", "Tax (%)", lambda line: line.tax_rate.normalize(), Look.HUNDREDTHS, width=8),
            col("need_by", "Needed by", lambda line: line.need_by, Look.DAY, width=13),
        ),
    )


def sum_table(order: Order) -> Table[Sum]:
    """Return goods and charges, tax by rate, and what is to be paid."""
    col = Column[Sum]
    return Table(
        name=SUMS,
        says=f"What order {order.number} comes to.",
        empty="Nothing is ordered.",
        rows=tuple(sums(order)),
        columns=(
            col("what", "Sum", lambda one: one.what, width=30),
            col("rate", "Tax (%)", rate_of, Look.HUNDREDTHS, width=9),
            col(
                "amount",
                f"Amount ({order.currency})",
                lambda one: one.amount,
                Look.MONEY,
                lambda one: one.formula,
                width=15,
                total=True,
                note=TAX_NOTE,
            ),
        ),
    )


def rate_of(one: Sum) -> Value:
    """Return the rate of a tax, nothing for other sums."""
    return one.rate


def sums(order: Order) -> Iterator[Sum]:
    """Yield what adds up to what is to be paid."""
    yield Sum("Goods and charges", order.net, f"={{{LINES}.amount.total}}")
    for one in tax_table(order):
        base = f"SUMIFS({{{LINES}.amount}},{{{LINES}.rate}},{{rate}})"
        yield Sum("Tax", one.tax, f"=ROUND({base}*{{rate}}/100,{order.exponent})", one.rate.normalize())
