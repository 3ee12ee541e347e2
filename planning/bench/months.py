"""Random months to buy for, and two buyers to compare with: one who tries everything, one who takes what looks cheapest."""

import random
from collections.abc import Iterator
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from itertools import product
from math import lcm
from typing import TypeAlias

from kits.catalogue import Breaks, Offer, PriceBreak, Supplier, Terms
from planning.buying import BuyingProblem, Need
from planning.calendar import Weekday, WorkingCalendar

PLANNED_ON, NEED_BY = date(2027, 3, 1), date(2027, 3, 26)
OFFICE = WorkingCalendar(frozenset(tuple(Weekday)[:5]))
CENT = Decimal("0.01")
MOST_MORE = (
    14  # units more than enough that are tried: none costs less than 0.18 net, and freight is at most 2.00
)

Goods: TypeAlias = tuple[Decimal | None, ...]
"""By supplier what its order's goods cost; None where nothing is ordered there."""


def random_month(
    seed: int, materials: int, suppliers: int, breaks: int, *, split: bool = False
) -> BuyingProblem:
    """Return a month of goods for hundreds or thousands, from 0.02 to 1.00 each, in which freight matters."""
    dice = random.Random(seed)  # noqa: S311 - the same months on every run
    names = [f"S{number}" for number in range(suppliers)]
    needs, terms = [], []
    for number in range(materials):
        code, base = f"M{number}", 0.02 * 50 ** dice.random()
        count = dice.choice((dice.randint(20, 400), dice.randint(200, 3_000)))
        needs.append(_need(code, count, split=split))
        for name in names:
            offer = _offer(dice, name, code, (1, 10, 25, 50, 100), (0, 0, 100))
            starts = dice.sample((100, 250, 500, 1_000, 2_000, 2_500, 5_000, 10_000), breaks - 1)
            terms.append(_terms(dice, offer, sorted((1, *starts)), base * dice.uniform(0.94, 1.08)))
    free_from = (250, 500, 1_000, 2_000)
    return _problem(dice, names, needs, terms, (800, 6_000), free_from)


def small_month(seed: int) -> BuyingProblem:
    """Return a month so small that every choice can be tried."""
    dice = random.Random(seed)  # noqa: S311
    names = ["S0", "S1", "S2"][: dice.randint(1, 3)]
    needs, terms = [], []
    for number in range(dice.randint(1, 3)):
        code, base = f"M{number}", dice.uniform(0.8, 2)
        needs.append(_need(code, dice.randint(1, 12), split=dice.random() < 0.5))
        for name in dice.sample(names, dice.randint(1, min(2, len(names)))):
            offer = _offer(dice, name, code, (1, 2, 3, 5), (0, 0, 4), (None, None, 15, 8), (0, 10, 18, 25))
            starts = sorted({1, dice.randint(2, 8), dice.randint(6, 14)})
            terms.append(_terms(dice, offer, starts, base * dice.uniform(0.8, 1.2)))
    worth = dice.choice((0, 0, 50))
    return _problem(dice, names, needs, terms, (20, 200), (4, 8, 15, None), worth)


def _need(code: str, count: int, *, split: bool) -> Need:
    return Need(material=code, name=code, unit="sheet", in_boxes=count, need_by=NEED_BY, split=split)


def _offer(
    dice: random.Random,
    supplier: str,
    material: str,
    packs: tuple[int, ...],
    minima: tuple[int, ...],
    maxima: tuple[int | None, ...] = (None,),
    leads: tuple[int, ...] = (0, 5, 10, 15, 18),
) -> Offer:
    pack, minimum = dice.choice(packs), dice.choice(minima)
    return Offer(
        code=f"{material}-{supplier}",
        supplier=supplier,
        material=material,
        pack=pack,
        minimum=minimum,
        lead_days=dice.choice(leads),
        setup_charge=Decimal(dice.choice((0, 0, 0, 2))),
        maximum=dice.choice(maxima),
        breaks=dice.choice((Breaks.ALL_UNITS, Breaks.ALL_UNITS, Breaks.INCREMENTAL)),
    )


def _terms(dice: random.Random, offer: Offer, starts: list[int], price: float) -> Terms:
    breaks = []
    for start in starts:
        breaks.append(PriceBreak(offer=offer.code, from_quantity=start, price=Decimal(str(round(price, 4)))))
        price *= dice.uniform(0.75, 0.98)
    return Terms(offer=offer, breaks=tuple(breaks))


def _problem(
    dice: random.Random,
    names: list[str],
    needs: list[Need],
    terms: list[Terms],
    freight: tuple[int, int],  # in cents
    free_from: tuple[int | None, ...],
    worth: int = 0,
) -> BuyingProblem:
    suppliers = []
    for name in names:
        amount, free = Decimal(dice.randint(*freight)) / 100, dice.choice(free_from)
        threshold = None if free is None else Decimal(free)
        suppliers.append(Supplier(code=name, name=name, freight=amount, free_freight_from=threshold))
    return BuyingProblem(
        needs=tuple(needs),
        terms=tuple(terms),
        suppliers=tuple(suppliers),
        calendar=OFFICE,
        planned_on=PLANNED_ON,
        leftover_percent=Decimal(worth),
    )


# --- Who tries everything ---


def brute_force(problem: BuyingProblem) -> Decimal:
    """Return what the best of all choices costs, less the worth of what it leaves over. For small months only.

    Months in which all offers late or too small for a need are weighed too are not for it: see `can_be_tried`.
    """
    nothing: Goods = (None,) * len(problem.suppliers)
    states = {nothing: Decimal(0)}
    for need in problem.needs:
        more: dict[Goods, Decimal] = {}
        for before, cost in states.items():
            for goods, added in ways(problem, need):
                both = tuple(_sum(one, other) for one, other in zip(before, goods, strict=True))
                more[both] = min(cost + added, more.get(both, cost + added))
        states = more
    return min(cost + freights(problem, goods) for goods, cost in states.items())


def can_be_tried(problem: BuyingProblem) -> bool:
    """Tell whether every need can be met in time, so that what is late or too little need not be weighed."""
    return all(any(True for _ in ways(problem, need)) for need in problem.needs)


def ways(problem: BuyingProblem, need: Need) -> Iterator[tuple[Goods, Decimal]]:
    """Yield every way to meet a need in time: goods by supplier, and cost with set-up, less the worth of leftovers."""
    offers = [
        one for one in problem.terms if one.offer.material == need.material and one.offer.lead_days <= 18
    ]
    worth = worth_each(problem, need)
    for choice in product(*([0, *sold(one, need.total + MOST_MORE)] for one in offers)):
        ordered = [(terms, count) for terms, count in zip(offers, choice, strict=True) if count]
        units = sum(choice)
        if units < need.total or (len(ordered) > 1 and not need.split):
            continue
        goods: list[Decimal | None] = [None] * len(problem.suppliers)
        cost = -worth * (units - need.total)
        for terms, count in ordered:
            place = [one.code for one in problem.suppliers].index(terms.offer.supplier)
            goods[place] = _sum(goods[place], price_of(terms, count))
            cost += price_of(terms, count) + terms.offer.setup_charge
        yield tuple(goods), cost


def worth_each(problem: BuyingProblem, need: Need) -> Decimal:
    """Return what one unit left over is worth: a share of the lowest price, to a millionth."""
    prices = [
        one.price for terms in problem.terms if terms.offer.material == need.material for one in terms.breaks
    ]
    return (min(prices) * problem.leftover_percent / 100).quantize(Decimal("0.000001"), "ROUND_FLOOR")


def sold(terms: Terms, most: int) -> list[int]:
    """Return every quantity of an offer up to so many units."""
    offer, lot = terms.offer, lcm(terms.offer.pack, terms.offer.multiple)
    high = most + lot if offer.maximum is None else min(most + lot, offer.maximum)
    return [
        count
        for count in range(lot, high + 1, lot)
        if count >= max(offer.minimum, terms.breaks[0].from_quantity)
    ]


def price_of(terms: Terms, count: int) -> Decimal:
    """Return what so many units cost, unit by unit, to the cent."""
    reached = [one for one in terms.breaks if one.from_quantity <= count]
    if terms.offer.breaks is Breaks.ALL_UNITS:
        return (count * reached[-1].price).quantize(CENT, ROUND_HALF_UP)
    units = (
        next((one.price for one in reversed(reached) if one.from_quantity <= unit), reached[0].price)
        for unit in range(1, count + 1)
    )
    return sum(units, Decimal(0)).quantize(CENT, ROUND_HALF_UP)


def freights(problem: BuyingProblem, goods: Goods) -> Decimal:
    """Return the freight of all orders."""
    return sum(
        (
            one.freight
            for one, amount in zip(problem.suppliers, goods, strict=True)
            if amount is not None
            and not (one.free_freight_from is not None and amount >= one.free_freight_from)
        ),
        Decimal(0),
    )


def _sum(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return other if one is None else one if other is None else one + other


# --- Who takes what looks cheapest ---


def greedy(problem: BuyingProblem) -> Decimal:
    """Return what the orders cost of a buyer who takes for each material the offer in time that is cheapest by itself.

    Ordering just enough is compared with each price break above; freight comes on top afterwards.
    """
    goods: dict[str, Decimal] = {}
    charges = Decimal(0)
    for need in problem.needs:
        orders = [
            (price_of(terms, count), terms)
            for terms in problem.terms
            if terms.offer.material == need.material and terms.offer.lead_days <= 18
            for count in tempting(terms, need.total)
        ]
        cost, terms = min(orders, key=lambda one: one[0] + one[1].offer.setup_charge)
        goods[terms.offer.supplier] = goods.get(terms.offer.supplier, Decimal(0)) + cost
        charges += terms.offer.setup_charge
    return sum(goods.values(), charges) + freights(
        problem, tuple(goods.get(one.code) for one in problem.suppliers)
    )


def tempting(terms: Terms, wanted: int) -> Iterator[int]:
    """Yield just enough, and the smallest order of each price break above."""
    lot = lcm(terms.offer.pack, terms.offer.multiple)
    for start in (0, *(one.from_quantity for one in terms.breaks)):
        floor = max(wanted, start, terms.offer.minimum, terms.breaks[0].from_quantity)
        yield -(-floor // lot) * lot
