"""Rules for the club's money: other costs, price points, what happened, and what variants change."""

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from planning.cost.rows import ActualKind, ChangeKind, ChargeKind, VariantLine
from planning.faults.book import Book
from planning.faults.hints import did_you_mean
from planning.faults.model import TITLES, Fault

OF_NOTHING = (ChargeKind.DESIGN, ChargeKind.FIXED)
MOST_DAYS, MOST_CREW, MOST_BOXES = 60, 1_000, 100_000_000


def rates_of_nothing(book: Book) -> Iterator[Fault]:
    """Design and fixed costs are no percentage of anything."""
    for index, row in enumerate(book.month.charges):
        if row.kind in OF_NOTHING and row.percent:
            why = f"is a percentage, and a {row.kind.value} cost is one of nothing"
            advice = "Empty it, and write the cost each kit or once a month."
            yield Fault("charges", index, "percent", f"{row.percent} %", why, advice)


def prices_below_nothing(book: Book) -> Iterator[Fault]:
    """A price point lies less than a step below a multiple of it, so that no price is negative."""
    for index, row in enumerate(book.month.price_points):
        if row.less >= row.step > 0:
            advice = f"Write less than {row.step}."
            yield Fault("price_points", index, "less", str(row.less), "is a whole step or more", advice)


WHERE = {
    ActualKind.BOUGHT: ("materials",),
    ActualKind.SPOILED: ("materials", "pre_cuts"),
    ActualKind.POSTAGE: ("services",),
}


def things_that_did_not_happen(book: Book) -> Iterator[Fault]:
    """What was bought or spoiled is a thing of this month, postage went by one of its services, minutes are of nothing."""
    for index, row in enumerate(book.month.actuals):
        tables = WHERE.get(row.kind)
        if tables is None:
            if row.item:
                why = f"stands beside {row.kind.value}, which are not told by item"
                yield Fault("actuals", index, "item", row.item, why, "Empty it.")
        else:
            yield from not_among("actuals", index, "item", row.item, tables, book)


def not_among(
    table: str, index: int, field: str, code: str, tables: tuple[str, ...], book: Book
) -> Iterator[Fault]:
    """Yield the fault of a code that is in none of some tables."""
    known = {str(name) for one in tables for (name,) in book.keys(one, "code")}
    if "pre_cuts" in tables:
        known |= set(book.club_pieces)
    if code not in known and not any(book.blurred(one, ("code",)) for one in tables):
        sheets = " or ".join(TITLES[one] for one in tables)
        advice = did_you_mean(code, frozenset(known)) or "Add it there, or write one that is."
        yield Fault(table, index, field, code or '""', f"is not on the {sheets} sheet", advice)


OF = {
    ChangeKind.PRICE: ("tiers",),
    ChangeKind.OFFER: ("offers",),
    ChangeKind.SUPPLIER: ("materials",),
    ChangeKind.MATERIAL: ("materials",),
}
TO = {ChangeKind.SUPPLIER: ("suppliers",), ChangeKind.MATERIAL: ("materials",)}
HIGHEST = {ChangeKind.BOXES: MOST_BOXES, ChangeKind.DAYS: MOST_DAYS, ChangeKind.CREW: MOST_CREW}


def changes_of_nothing(book: Book) -> Iterator[Fault]:
    """A variant changes something of this month, to a number that can be or to a thing that is there."""
    for index, row in enumerate(book.month.variants):
        if row.change in OF:
            yield from not_among("variants", index, "item", row.item, OF[row.change], book)
        if row.change in TO:
            yield from not_among("variants", index, "value", row.value, TO[row.change], book)
        elif why := not_a_number(row):
            most = HIGHEST.get(row.change)
            allowed = f"Write a whole number from 0 to {most:,}." if most else "Write an amount from 0 up."
            yield Fault("variants", index, "value", row.value, why, allowed)


def not_a_number(row: VariantLine) -> str:
    """Say what is wrong with the number of a change, nothing where it is right."""
    try:
        number = Decimal(row.value)
    except InvalidOperation:
        return "is not a number"
    most = HIGHEST.get(row.change, 1_000_000_000)
    if not number.is_finite():
        return "is not a number"
    if number < 0:
        return "is negative"
    if number > most:
        return f"is more than {most:,}"
    if row.change in HIGHEST and number % 1:
        return "is not a whole number"
    return "has more than 6 decimals" if number.as_tuple().exponent < -6 else ""  # type: ignore[operator]
