"""The purchase order: one supplier, everything bought there, its sums with tax, and what an amended order changes."""

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable, KeepTogether

from kits.measures import format_amount, round_money
from planning.buying import SupplierOrder
from planning.documents.pdf.look import words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.tables import Cell, Column, Row, facts, notice, side_by_side, table
from planning.documents.pdf.words import count, day, material_words, packs, short_day
from planning.documents.stamp import Stamp
from planning.month import Club, Month
from planning.orders import Difference, LineKind, Order, OrderLine, draft, gross, tax_table

COLUMNS = (
    Column("Offer", 27),
    Column("Material", 58),
    Column("Needed by", 22),
    Column("Quantity", 16, number=True),
    Column("Unit", 12),
    Column("In packs", 27),
    Column("Price each", 18, number=True),
    Column("Amount", 20, number=True),
)
CHANGES = (Column("Line", 60), Column("What", 30), Column("Before", 45), Column("Now", 45))
MOST_LINES = 12  # of an address; more would push the order itself off its page
CONFIRM = (
    "Please confirm quantities, prices and the day of delivery, and quote the order number on your papers."
)


def purchase_order(month: Month, bought: SupplierOrder, stamp: Stamp, number: str) -> bytes:
    """Return the order that a plan asks for as a PDF."""
    about = {one.code: material_words(one) for one in month.materials}
    return order_pdf(month.club, draft(month.club, bought, number, about), stamp)


def order_pdf(club: Club, order: Order, stamp: Stamp, changes: Sequence[Difference] = ()) -> bytes:
    """Return an order as a PDF. Amounts are in the order's currency, named once above the lines.

    changes: what an amended order asks for otherwise than the version before it.
    """
    title = f"Purchase order {order.number}"
    if order.version > 1:
        title = f"Amended purchase order {order.number}, version {order.version}"
    head = Letterhead(club=club, title=title, stamp=stamp)
    story = [
        words(head.title, "title"),
        side_by_side(addressee(order), [terms(club, order, head)], head.page_width),
        *notice(late_words(order), head.page_width),
        *amended(order, changes, head.page_width),
        words(f"All amounts in {order.currency}", "heading"),
        table(COLUMNS, [order_row(line, order.exponent) for line in order.goods], head.page_width),
        KeepTogether([totals(order, head.page_width), words(CONFIRM, "small")]),
    ]
    return build(head, story)


def addressee(order: Order) -> list[Flowable]:
    """Return whom the order goes to."""
    lines = [line for line in (*order.address.splitlines(), order.email) if line.strip()]
    return [words("To", "small"), words(order.supplier_name, "strong"), *map(words, lines[:MOST_LINES])]


def terms(club: Club, order: Order, head: Letterhead) -> Flowable:
    """Return the order's number and days."""
    needed = [line.need_by for line in order.goods if line.need_by]
    pairs: list[tuple[str, Cell]] = [
        ("Order", order.number),
        ("From", club.name),
        *delivery(club.address),
        ("For", f"{club.kit_name}, {club.month.title}" if order.month == str(club.month) else order.month),
    ]
    if order.order_by:
        pairs.append(("Order by", day(order.order_by)))
    if needed:
        pairs.append(("First needed by", day(min(needed))))
    return facts(pairs, head.page_width / 2)


def delivery(address: str) -> Iterator[tuple[str, Cell]]:
    """Yield where the goods go, where the club says so."""
    if lines := [line for line in address.splitlines() if line.strip()]:
        yield "Deliver to", [words(line) for line in lines[:MOST_LINES]]


def is_late(line: OrderLine) -> bool:
    """Tell whether a line comes after the day it is needed."""
    return bool(line.expected and line.need_by and line.expected > line.need_by)


def late_words(order: Order) -> Iterator[str]:
    """Yield what to ask of the supplier where lines of the order would come too late."""
    if late := sum(map(is_late, order.goods)):
        yield f"We need {count(late, 'line')} sooner than you usually deliver. Please tell us the earliest day."


def amended(order: Order, changes: Sequence[Difference], width: float) -> Iterator[Flowable]:
    """Yield what an amended order changes."""
    if changes:
        yield words("What changes; this order takes the place of the one before", "heading")
        yield table(CHANGES, [Row((one.line, one.what, one.before, one.after)) for one in changes], width)


def order_row(line: OrderLine, exponent: int) -> Row:
    """Return one material's line."""
    is_plain = round_money(line.quantity * line.price, exponent) == line.amount
    return Row(
        (
            line.offer,
            [words(line.name), *detail(line)],
            short_day(line.need_by) if line.need_by else "",
            f"{line.quantity:,}",
            line.unit,
            packs(line.quantity, line.pack) if line.pack > 1 else "",
            format_amount(line.price, exponent) if is_plain else "as listed",
            format_amount(line.amount, exponent),
        ),
        need=is_late(line),
    )


def detail(line: OrderLine) -> Iterator[Flowable]:
    """Yield what stands under a material's name: what it is, and that it is needed sooner."""
    if line.about:
        yield words(line.about, "small")
    if is_late(line):
        yield words(f"Needed sooner: as usual it would come {day(line.expected)}.", "need")


def totals(order: Order, width: float) -> Flowable:
    """Return the sum from goods to total, tax by its rates."""
    charges = [
        (f"Set-up, {line.offer}" if line.offer else line.name, line.amount)
        for line in order.of_kind(LineKind.SETUP)
    ]
    freight = order.amount_of(LineKind.FREIGHT)
    summands = [("Goods", order.amount_of(LineKind.GOODS)), *charges, ("Freight", freight)]
    taxes = tax_table(order)
    if taxes:
        summands.append(("Without tax", order.net))
        summands += [(f"Tax, {one.rate.normalize():f} % of {one.base:,}", one.tax) for one in taxes]
    rows = [Row((name, format_amount(amount, order.exponent))) for name, amount in summands]
    total = format_amount(gross(order), order.exponent)
    rows.append(Row((f"Total in {order.currency}", total), strong=True))
    sums = table((Column("Sum", 60), Column("Amount", 34, number=True)), rows, width * 0.42)
    sums.hAlign = "RIGHT"
    return sums
