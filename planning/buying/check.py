"""The checker of the buying step. It shares no code with the search: prices, days and freight are worked out anew here."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import Breaks, Offer, PriceBreak
from planning.buying.larger import LargerProblem, LargerResult
from planning.buying.model import BuyingProblem, BuyingResult, BuyLine, Need, Purchase


def buying_faults(problem: BuyingProblem, result: BuyingResult) -> tuple[str, ...]:
    """Return every way in which the orders do not meet the needs on the suppliers' own terms."""
    faults = [fault for line in result.lines for fault in line_faults(problem, line)]
    if [line.need for line in result.lines] != list(problem.needs):
        faults.append("the lines do not answer the needs one by one")
    return (*faults, *order_faults(problem, result), *bound_faults(problem, result))


def line_faults(problem: BuyingProblem, line: BuyLine) -> Iterator[str]:
    """Check one line against its offers."""
    name = line.need.name
    yield from open_order_faults(problem, line)
    to_hand = line.need.on_hand + line.need.cut + sum(order.quantity for order in line.coming)
    ordered = sum(one.quantity for one in line.bought)
    wanted = line.need.total + line.need.extra
    if line.net != max(0, wanted - to_hand):
        yield f"{name}: {wanted} needed less {to_hand} to hand are not {line.net}"
    if ordered and not line.net:
        yield f"{name}: {ordered} ordered that nobody needs"
    if ordered < line.net and (more := most_to_be_had(problem, line.need)) > ordered:
        yield f"{name}: {ordered} ordered of {line.net}, though {more} are to be had"
    sources = [one.offer.code for one in line.bought]
    if len(set(sources)) < len(sources) or (len(sources) > 1 and not line.need.split):
        yield f"{name}: ordered from {', '.join(sources)}"
    for one in line.bought:
        yield from part_faults(problem, line.need, one)
    yield from late_faults(problem, line)


def part_faults(problem: BuyingProblem, need: Need, one: Purchase) -> Iterator[str]:
    """Check one supplier's part: how many are sold, at what price, by when."""
    name, offer = need.name, one.offer
    if one.need != need or offer.material != need.material:
        yield f"{name}: answered with {offer.code}, an offer of {offer.material}"
    most = offer.maximum if offer.maximum is not None else one.quantity
    if (
        one.quantity % offer.pack
        or one.quantity % offer.multiple
        or not offer.minimum <= one.quantity <= most
    ):
        sold = f"packs of {offer.pack}, multiples of {offer.multiple}, from {offer.minimum} to {most}"
        yield f"{name}: {one.quantity} is not sold ({sold})"
    breaks = next((terms.breaks for terms in problem.terms if terms.offer == offer), ())
    cost = Fraction(0) if not breaks else price_of(one.quantity, offer, breaks)
    if not breaks or one.quantity < breaks[0].from_quantity:
        yield f"{name}: {offer.code} has no price for {one.quantity}"
    if 2 * abs(Fraction(one.goods) - cost) > Fraction(1, 10**problem.exponent):
        yield f"{name}: {one.quantity} of {offer.code} do not cost {one.goods}"
    if sum(units for units, _ in one.bands) != one.quantity or cost != sum(
        units * Fraction(price) for units, price in one.bands
    ):
        yield f"{name}: its prices do not make what {one.quantity} of {offer.code} cost"
    if one.setup != offer.setup_charge:
        yield f"{name}: set-up of {offer.code} is not {one.setup}"
    if (one.order_by, one.arrives, one.late) != days_of(problem, need, offer):
        yield f"{name}: ordered by {one.order_by}, {offer.code} does not arrive {one.arrives}"


def price_of(quantity: int, offer: Offer, breaks: tuple[PriceBreak, ...]) -> Fraction:
    """Return what goods cost before rounding: band by band, or all at the price of the last break reached."""
    reached = [one for one in breaks if one.from_quantity <= quantity]
    if offer.breaks is Breaks.ALL_UNITS:
        return quantity * Fraction(reached[-1].price) if reached else Fraction(0)
    ends = [one.from_quantity - 1 for one in reached[1:]] + [quantity]
    starts = [0, *ends[:-1]]
    return sum(
        ((end - start) * Fraction(one.price) for one, start, end in zip(reached, starts, ends, strict=True)),
        Fraction(0),
    )


def days_of(problem: BuyingProblem, need: Need, offer: Offer) -> tuple[date, date, bool]:
    """Return the order-by day of an offer, the day its goods arrive, and whether that is late, day by day."""
    day, left = need.need_by, offer.lead_days
    while left or not problem.calendar.works(day):
        left -= problem.calendar.works(day)
        day -= timedelta(days=1)
    order_by, late = day, day < problem.planned_on
    if offer.order_until is not None and offer.order_until < order_by:
        order_by = offer.order_until
        while not problem.calendar.works(order_by):
            order_by -= timedelta(days=1)
    day, left = max(order_by, problem.planned_on), offer.lead_days
    while left or not problem.calendar.works(day):
        left -= problem.calendar.works(day)
        day += timedelta(days=1)
    return order_by, day, late


def orderable(problem: BuyingProblem, need: Need) -> Iterator[tuple[Offer, int, int]]:
    """Yield the offers of a need that can still be ordered, the smallest order and the largest."""
    first = problem.planned_on
    while not problem.calendar.works(first):
        first += timedelta(days=1)
    for terms in problem.terms:
        offer = terms.offer
        if offer.material != need.material or (offer.order_until is not None and offer.order_until < first):
            continue
        sold = [
            quantity
            for quantity in (offer.pack * times for times in range(1, offer.multiple + 1))
            if quantity % offer.multiple == 0
        ][:1]
        floor = max(offer.minimum, terms.breaks[0].from_quantity, 1)
        least = -(-floor // sold[0]) * sold[0]
        most = 10**12 if offer.maximum is None else offer.maximum // sold[0] * sold[0]
        if least <= most:
            yield offer, least, most


def most_to_be_had(problem: BuyingProblem, need: Need) -> int:
    """Return how many units the offers of a need hold: all of them, or where it is not split, the largest."""
    most = [each for _, _, each in orderable(problem, need)]
    return sum(most) if need.split else max(most, default=0)


def late_faults(problem: BuyingProblem, line: BuyLine) -> Iterator[str]:
    """Check that nothing is ordered late that could come sooner, but for offers that are wanted even if late."""
    late = [one for one in line.bought if one.late and not one.offer.even_late]
    if not late:
        return
    last = max(one.arrives for one in late)
    sooner = [
        each
        for offer, _, each in orderable(problem, line.need)
        if not (days := days_of(problem, line.need, offer))[2] or days[1] < last
    ]
    held = sum(sooner) if line.need.split else max(sooner, default=0)
    if held >= line.quantity >= line.net:
        yield f"{line.need.name}: comes {last}, though {held} could come sooner"


def open_order_faults(problem: BuyingProblem, line: BuyLine) -> Iterator[str]:
    """Check which open orders are counted on: all in time, and of later ones the next due for as long as some lacks."""
    name, need = line.need.name, line.need
    known = Counter(order for order in problem.open_orders if order.material == need.material)
    counted = Counter(line.coming)
    if counted - known:
        yield f"{name}: counts on orders that are not on their way"
    left = sorted((known - counted).elements(), key=lambda order: order.due)
    late = sorted((order for order in line.coming if order.due > need.need_by), key=lambda order: order.due)
    have = need.on_hand + need.cut + sum(order.quantity for order in line.coming)
    all_of_it = have + sum(order.quantity for order in left) >= need.total + need.extra
    is_bought_again = have < need.total + need.extra and (not line.bought or (all_of_it and line.cost > 0))
    if left and (is_bought_again or left[0].due <= need.need_by):
        yield f"{name}: {left[0].reference}, due {left[0].due}, is not counted on"
    if late and have - late[-1].quantity >= need.total + need.extra:
        yield f"{name}: waits for {late[-1].reference}, due {late[-1].due}, without need"
    if late and left and left[0].due < late[-1].due:
        yield f"{name}: waits for {late[-1].reference} while {left[0].reference} comes sooner"


def order_faults(problem: BuyingProblem, result: BuyingResult) -> Iterator[str]:
    """Check that the orders hold the lines, each supplier's once, and that their freight is what the supplier asks."""
    by_supplier: defaultdict[str, list[Purchase]] = defaultdict(list)
    for line in result.lines:
        for one in line.bought:
            by_supplier[one.offer.supplier].append(one)
    if {order.supplier.code for order in result.orders} != set(by_supplier) or len(result.orders) != len(
        by_supplier
    ):
        yield "the orders are not one for each supplier that is ordered from"
    for order in result.orders:
        name, lines = order.supplier.name, by_supplier[order.supplier.code]
        if order.supplier not in problem.suppliers or list(order.lines) != lines:
            yield f"{name}: the order does not hold its lines"
        goods = sum((one.goods for one in lines), Decimal(0))
        free = order.supplier.free_freight_from
        freight = Decimal(0) if free is not None and goods >= free else order.supplier.freight
        if order.goods != goods or order.setup != sum((one.setup for one in lines), Decimal(0)):
            yield f"{name}: lines cost {goods}, the order says {order.goods}"
        if 2 * abs(order.freight - freight) > Decimal(1).scaleb(-problem.exponent):
            yield f"{name}: freight is {freight}, the order says {order.freight}"


def bound_faults(problem: BuyingProblem, result: BuyingResult) -> Iterator[str]:
    """Check that what is said to be proved fits the figures."""
    if result.bound > result.counted:
        yield f"the orders cost {result.counted}, less than the least there is, {result.bound}"
    if result.counted > result.apart:
        yield f"the orders cost {result.counted}, each material by itself {result.apart}"
    worth = sum((line.worth for line in result.lines), Decimal(0))
    if worth < 0 or (worth and not problem.leftover_percent):
        yield f"what is left over is said to be worth {worth}"


def larger_faults(problem: LargerProblem, result: LargerResult) -> tuple[str, ...]:
    """Return every way in which the sheets to cut do not fit the ways there are, or cost more than the other way."""
    materials = [way.material for way in result.taken]
    faults = [
        f"{way.material}: cut from {way.parent} in no known way"
        for way in result.taken
        if way not in problem.ways
    ]
    faults += [f"{name}: cut in two ways" for name in sorted(set(materials)) if materials.count(name) > 1]
    if sorted(materials) != sorted(one.material for one in result.choices if one.taken):
        faults.append("what is cut is not what is said to be cut")
    for one in result.choices:
        need = next((need for need in problem.buying.needs if need.material == one.material), None)
        if need is None or not 0 < one.units <= need.total + need.extra - need.on_hand:
            faults.append(f"{one.name}: {one.units} do not lack")
        if not one.worse and (one.cut > one.own if one.taken else one.own > one.cut):
            faults.append(f"{one.name}: the other way costs less, {min(one.own, one.cut)}")
    return tuple(faults)
