"""What each lot of a material cost on the shelf: what lay there, what was on order, what this month orders."""

from collections.abc import Iterator
from decimal import Decimal

from kits.measures import round_money, split
from planning.buying import BuyLine, SupplierOrder
from planning.cost.books import Books, key
from planning.cost.model import LandedLot


def landed_lots(books: Books) -> Iterator[LandedLot]:
    """Yield the lots of every material, freight of this month's orders shared by what their lines cost."""
    freight = {
        (order.supplier.code, key(line)): share
        for order in books.problem.buying.orders
        for line, share in zip(order.lines, shares(order, books), strict=True)
    }
    names = {order.supplier.code: order.supplier.name for order in books.problem.buying.orders}
    for line in books.problem.buying.lines:
        yield from there(line, books)
        for one in line.bought:
            yield LandedLot(
                material=line.need.material,
                name=line.need.name,
                lot=f"ordered from {names[one.offer.supplier]}",
                units=one.quantity,
                goods=one.goods,
                setup=round_money(one.setup, books.exponent),
                freight=freight[one.offer.supplier, key(line)],
            )


def there(line: BuyLine, books: Books) -> Iterator[LandedLot]:
    """Yield the lot on the shelf and those on order."""
    need, fact = line.need, books.facts[key(line)]
    if need.on_hand:
        value = round_money(need.on_hand * fact.value_each, books.exponent)
        yield LandedLot(
            material=need.material, name=need.name, lot="on the shelf", units=need.on_hand, goods=value
        )
    for order in line.coming:
        yield LandedLot(
            material=need.material,
            name=need.name,
            lot=f"order {order.reference}",
            units=order.quantity,
            goods=round_money(order.quantity * order.price, books.exponent),
        )


def shares(order: SupplierOrder, books: Books) -> tuple[Decimal, ...]:
    """Share an order's freight by what its lines cost, equally where they cost nothing."""
    weights = [line.goods for line in order.lines] if order.goods else [1] * len(order.lines)
    return split(order.freight, weights, books.exponent)
