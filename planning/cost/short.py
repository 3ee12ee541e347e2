"""What the cost leaves out: goods that nobody sells enough of, what they might cost, and which boxes hold them."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from kits.measures import round_money, split
from planning.buying import BuyLine
from planning.cost.books import Books, key
from planning.cost.model import ShortGoods
from planning.packing import BoxSpec


def short_goods(books: Books) -> Iterator[ShortGoods]:
    """Yield every short material. At its last known price, if there is one, each kit would bear what it uses of it."""
    for line in books.problem.buying.short:
        price = books.facts[key(line)].last_price
        missing = None if price is None else round_money(line.short * price, books.exponent)
        holding = [spec for spec in books.problem.packing.boxes if holds(spec, line, books)]
        yield ShortGoods(
            material=line.need.material,
            name=line.need.name,
            units=line.short,
            price=price,
            missing=missing,
            each=tuple(by_kit(line, missing or Decimal(0), books)),
            boxes=sum(spec.boxes for spec in holding),
            kinds=len(holding),
            tiers=tuple(sorted({spec.contents.tier for spec in holding})),
            exponent=books.exponent,
        )


def holds(spec: BoxSpec, line: BuyLine, books: Books) -> bool:
    """Tell whether boxes hold a material, a piece or a length cut from it, or are made of it."""
    wanted = {key(line), *(name for ticket in books.tickets[key(line)] for name in ticket.items)}
    return bool(wanted & spec.held.keys())


def by_kit(line: BuyLine, missing: Decimal, books: Books) -> Iterator[tuple[str, Decimal]]:
    """Share an amount by what each tier uses of a material, and yield what that comes to for one kit."""
    users, boxes = books.users_of(key(line)), Counter({one.code: one.boxes for one in books.problem.tiers})
    names = sorted(column for column, weight in users.items() if weight)
    if not missing or not names:
        return
    for column, part in zip(
        names, split(missing, [users[one] for one in names], books.exponent), strict=True
    ):
        if boxes[column]:
            yield column, round_money(part / boxes[column], books.exponent)
