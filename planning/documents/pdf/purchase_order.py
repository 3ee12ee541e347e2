"""The purchase order: one supplier, everything the month buys there."""

from collections.abc import Iterator

from reportlab.platypus import Flowable, KeepTogether

from kits.catalogue import Material, Supplier
from kits.measures import Currency, format_amount
from planning.buying import Purchase, SupplierOrder
from planning.documents.pdf.look import words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.tables import Cell, Column, Row, facts, notice, side_by_side, table
from planning.documents.pdf.words import count, day, material_words, packs, short_day
from planning.documents.stamp import Stamp
from planning.month import Month

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
MOST_LINES = 12  # of an address; more would push the order itself off its page
CONFIRM = (
    "Please confirm quantities, prices and the day of delivery, and quote the order number on your papers."
)


def purchase_order(month: Month, order: SupplierOrder, stamp: Stamp, number: str) -> bytes:
    """Return the order as a PDF. Amounts are in the club's currency, named once above the lines."""
    head = Letterhead(club=month.club, title=f"Purchase order {number}", stamp=stamp)
    materials = {one.code: one for one in month.materials}
    rows = [order_row(line, materials[line.need.material], month) for line in order.lines]
    story = [
        words(head.title, "title"),
        side_by_side(addressee(order.supplier), [terms(month, order, number, head)], head.page_width),
        *notice(late_words(order), head.page_width),
        words(f"All amounts in {month.club.currency}", "heading"),
        table(COLUMNS, rows, head.page_width),
        KeepTogether([totals(month, order, head.page_width), words(CONFIRM, "small")]),
    ]
    return build(head, story)


def addressee(supplier: Supplier) -> list[Flowable]:
    """Return whom the order goes to."""
    lines = [line for line in (*supplier.address.splitlines(), supplier.email) if line.strip()]
    return [words("To", "small"), words(supplier.name, "strong"), *map(words, lines[:MOST_LINES])]


def terms(month: Month, order: SupplierOrder, number: str, head: Letterhead) -> Flowable:
    """Return the order's number and days."""
    needed = min(line.need.need_by for line in order.lines)
    pairs: list[tuple[str, Cell]] = [
        ("Order", number),
        ("From", month.club.name),
        *delivery(month.club.address),
        ("For", f"{month.club.kit_name}, {month.club.month.title}"),
        (
            "Order by",
            words(f"{day(order.order_by)}: already past", "need") if order.late else day(order.order_by),
        ),
        ("First needed by", day(needed)),
    ]
    return facts(pairs, head.page_width / 2)


def delivery(address: str) -> Iterator[tuple[str, Cell]]:
    """Yield where the goods go, where the club says so."""
    if lines := [line for line in address.splitlines() if line.strip()]:
        yield "Deliver to", [words(line) for line in lines[:MOST_LINES]]


def late_words(order: SupplierOrder) -> Iterator[str]:
    """Yield a warning where lines of the order come too late."""
    if late := sum(line.late for line in order.lines):
        yield f"{count(late, 'line')} cannot arrive by the day needed: ask for a quicker delivery."


def order_row(line: Purchase, material: Material, month: Month) -> Row:
    """Return one material's line."""
    offer, places = line.offer, Currency(month.club.currency).exponent
    return Row(
        (
            offer.code,
            [words(line.need.name), *detail(line, material, places)],
            short_day(line.need.need_by),
            f"{line.quantity:,}",
            line.need.unit,
            packs(line.quantity, offer.pack) if offer.pack > 1 else "",
            format_amount(line.price, places) if len(line.bands) == 1 else "as listed",
            format_amount(line.goods, places),
        ),
        need=line.late,
    )


def detail(line: Purchase, material: Material, places: int) -> Iterator[Flowable]:
    """Yield what stands under a material's name: what it is, which units have which price, and that it is late."""
    if text := material_words(material):
        yield words(text, "small")
    if len(line.bands) > 1:
        bands = (f"{units:,} at {format_amount(price, places)}" for units, price in line.bands)
        yield words(", ".join(bands), "small")
    if line.late:
        yield words(f"Late: had to be ordered by {day(line.order_by)}. Expected {day(line.arrives)}.", "need")


def totals(month: Month, order: SupplierOrder, width: float) -> Flowable:
    """Return the sum from goods to total."""
    places = Currency(month.club.currency).exponent
    setups = [(f"Set-up, {line.offer.code}", line.setup) for line in order.lines if line.setup]
    summands = [("Goods", order.goods), *setups, ("Freight", order.freight)]
    rows = [Row((name, format_amount(amount, places))) for name, amount in summands]
    rows.append(Row((f"Total in {month.club.currency}", format_amount(order.total, places)), strong=True))
    sums = table((Column("Sum", 60), Column("Amount", 34, number=True)), rows, width * 0.42)
    sums.hAlign = "RIGHT"
    return sums
