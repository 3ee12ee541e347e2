"""From the month's plan to orders: what the buying step decided, as lines somebody can send."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from kits.measures import Currency, format_amount, round_money
from planning.buying import Purchase, SupplierOrder
from planning.month import Club
from planning.orders.model import LineKind, Order, OrderLine

Same = tuple[LineKind, str, str]


def draft(club: Club, bought: SupplierOrder, number: str, about: Mapping[str, str] | None = None) -> Order:
    """Return the order that the plan asks of a supplier, without tax. about: material -> size, weight, grain in words."""
    exponent = Currency(club.currency).exponent
    lines = [
        *(goods_line(line, about or {}, exponent) for line in bought.lines),
        *(setup_line(line, exponent) for line in bought.lines if line.setup),
        *freight_lines(bought.freight, exponent),
    ]
    return Order(
        number=number,
        month=str(club.month),
        supplier=bought.supplier.code,
        supplier_name=bought.supplier.name,
        email=bought.supplier.email,
        address=bought.supplier.address,
        currency=club.currency,
        order_by=bought.order_by,
        lines=tuple(replace(line, key=key) for key, line in enumerate(lines, 1)),
    )


def goods_line(line: Purchase, about: Mapping[str, str], exponent: int) -> OrderLine:
    """Return the line of a material; where prices go in steps, with which units have which price."""
    steps = ", ".join(f"{units:,} at {format_amount(price, exponent)}" for units, price in line.bands)
    words = (about.get(line.need.material, ""), steps if len(line.bands) > 1 else "")
    return OrderLine(
        key=0,
        material=line.need.material,
        name=line.need.name,
        about="; ".join(one for one in words if one),
        offer=line.offer.code,
        unit=line.need.unit,
        pack=line.offer.pack,
        quantity=line.quantity,
        price=line.price,
        amount=line.goods,
        need_by=line.need.need_by,
        expected=line.arrives,
    )


def setup_line(line: Purchase, exponent: int) -> OrderLine:
    """Return the charge for setting a material up."""
    return OrderLine(
        key=0,
        kind=LineKind.SETUP,
        material=line.need.material,
        name=f"Set-up, {line.need.name}",
        offer=line.offer.code,
        price=line.setup,
        amount=round_money(line.setup, exponent),
    )


def freight_lines(freight: Decimal, exponent: int) -> Iterator[OrderLine]:
    """Yield the freight, where there is any."""
    if freight:
        yield OrderLine(
            key=0, kind=LineKind.FREIGHT, name="Freight", price=freight, amount=round_money(freight, exponent)
        )


def keyed_like(before: Order, fresh: Order) -> Order:
    """Return a fresh order with an earlier version's number, and keys, taxes and days of its lines where they are alike.

    A line is alike that charges for the same material by the same offer; other lines get keys of their own. The price that
    was agreed stands where as many are ordered.
    """
    old = {same(one): one for one in reversed(before.lines)}
    free = iter(range(max((one.key for one in before.lines), default=0) + 1, 1_000_000))
    lines = []
    for one in fresh.lines:
        like = old.pop(same(one), None)
        if like is None:
            lines.append(replace(one, key=next(free)))
        else:
            kept = replace(one, key=like.key, tax_rate=like.tax_rate, recovered=like.recovered)
            if one.quantity == like.quantity:
                kept = replace(kept, price=like.price, amount=like.amount)
            lines.append(replace(kept, expected=like.expected or one.expected))
    return replace(fresh, number=before.number, version=before.version, lines=tuple(lines))


def same(line: OrderLine) -> Same:
    """Return what makes lines of two versions alike."""
    return line.kind, line.material, line.offer


def with_quantity(line: OrderLine, quantity: int, exponent: int) -> OrderLine:
    """Return a line for another quantity, in whole packs, at its own price."""
    if quantity == line.quantity:
        return line
    packed = -(-quantity // line.pack) * line.pack
    return replace(line, quantity=packed, amount=round_money(max(0, packed) * line.price, exponent))


def with_taxes(fresh: Order, earlier: Iterable[OrderLine]) -> Order:
    """Return an order with the taxes of earlier lines to the same supplier, the latest last.

    A line is taxed as the offer was last, else as its kind of line was last; without either it has no tax.
    """
    by_offer: dict[tuple[LineKind, str], OrderLine] = {}
    by_kind: dict[LineKind, OrderLine] = {}
    for one in earlier:
        by_offer[one.kind, one.offer] = by_kind[one.kind] = one
    lines = []
    for one in fresh.lines:
        like = by_offer.get((one.kind, one.offer)) or by_kind.get(one.kind) or one
        lines.append(replace(one, tax_rate=like.tax_rate, recovered=like.recovered))
    return replace(fresh, lines=tuple(lines))
