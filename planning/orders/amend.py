"""What differs between two versions of an order, in words people can check."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from kits.measures import format_amount
from planning.orders.model import NOTHING, LineKind, Order, OrderLine, Received

MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing that differs. line: its name; what: the column; before and after in words, empty where there is none."""

    line: str
    what: str
    before: str
    after: str
    change: str = ""


def differences(before: Order, after: Order) -> tuple[Difference, ...]:
    """Return what differs, line by line; nothing for two versions that ask for the same."""
    old = {one.key: one for one in before.lines}
    new = {one.key: one for one in after.lines}
    found: list[Difference] = []
    for key in sorted(old.keys() | new.keys()):
        if key not in new:
            found.append(Difference(line=old[key].name, what="line", before=asked(old[key]), after="dropped"))
        elif key not in old:
            found.append(
                Difference(line=new[key].name, what="line", before="not ordered", after=asked(new[key]))
            )
        else:
            found += line_differences(old[key], new[key])
    return tuple(found)


def asked(line: OrderLine) -> str:
    """Return what a line asks for: 40 at 0.25."""
    if line.kind is not LineKind.GOODS:
        return format_amount(line.amount)
    return f"{line.quantity:,} at {plain(line.price)}"


def line_differences(old: OrderLine, new: OrderLine) -> Iterator[Difference]:
    """Yield what differs in one line."""
    name = new.name
    if old.quantity != new.quantity:
        more = new.quantity - old.quantity
        change = f"{'+' if more > 0 else MINUS}{abs(more):,}"
        yield Difference(
            line=name, what="quantity", before=f"{old.quantity:,}", after=f"{new.quantity:,}", change=change
        )
    pairs: tuple[tuple[str, str, str], ...] = (
        ("material", old.name, new.name),
        ("offer", old.offer, new.offer),
        ("price each", plain(old.price), plain(new.price)),
        ("tax", tax_words(old), tax_words(new)),
        ("needed by", day(old.need_by), day(new.need_by)),
        ("expected", day(old.expected), day(new.expected)),
    )
    for what, one, other in pairs:
        if one != other:
            yield Difference(line=name, what=what, before=one, after=other)
    is_repriced = old.price != new.price or old.quantity != new.quantity
    if old.amount != new.amount and not is_repriced:
        yield Difference(
            line=name, what="amount", before=format_amount(old.amount), after=format_amount(new.amount)
        )


def plain(number: Decimal) -> str:
    """Return a number without trailing noughts beyond the second decimal."""
    return format_amount(number, 2)


def tax_words(line: OrderLine) -> str:
    """Return a line's tax: 20 %, recovered."""
    if not line.tax_rate:
        return "no tax"
    return f"{line.tax_rate.normalize():f} %, {'recovered' if line.recovered else 'not recovered'}"


def day(when: date | None) -> str:
    """Return a day, or that there is none."""
    return f"{when.day} {when:%b %Y}" if when else "no day"


def amendment_faults(
    before: Order, after: Order, received: Mapping[int, Received]
) -> Iterator[tuple[int, str]]:
    """Yield lines (by key) of an amended order that ask for less than has come already."""
    new = {one.key: one.quantity for one in after.goods}
    for one in before.goods:
        came = received.get(one.key, NOTHING).good
        if new.get(one.key, 0) < came:
            yield one.key, f"{one.name}: {came:,} have come already, so the order cannot ask for fewer"
