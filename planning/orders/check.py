"""The checker of an order. It shares no code with tax, landed cost or drafting."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from planning.orders.model import LineKind, Order


def order_faults(order: Order) -> Iterator[str]:
    """Yield what keeps an order from being sent."""
    keys = Counter(one.key for one in order.lines)
    yield from (f"line {key} stands {times} times" for key, times in keys.items() if times > 1)
    if not any(one.kind is LineKind.GOODS for one in order.lines):
        yield "the order asks for no goods"
    for one in order.lines:
        if one.kind is LineKind.GOODS and not one.material:
            yield f"{one.name}: no material"
        if one.quantity < 1:
            yield f"{one.name}: {one.quantity} cannot be ordered"
        if one.amount < 0 or one.price < 0 or not 0 <= one.tax_rate <= 100:
            yield f"{one.name}: price, amount or tax is out of bounds"
        if one.amount != one.amount.quantize(Decimal(1).scaleb(-order.exponent)):
            yield f"{one.name}: {one.amount} is no whole number of coins"
        if one.pack > 1 and one.quantity % one.pack:
            yield f"{one.name}: {one.quantity} is no whole number of packs of {one.pack}"


def money_faults(order: Order, taxes: Mapping[int, Decimal], landed: Mapping[int, Decimal]) -> Iterator[str]:
    """Yield where taxes or landed costs, by key of their line, do not add up to the order.

    The tax of a rate is within half a coin of its exact amount; landed costs sum to all amounts and all tax that is not
    recovered.
    """
    exact: defaultdict[Fraction, Fraction] = defaultdict(Fraction)
    told: defaultdict[Fraction, Fraction] = defaultdict(Fraction)
    whole = Fraction(0)
    for one in order.lines:
        rate = Fraction(one.tax_rate)
        exact[rate] += Fraction(one.amount) * rate / 100
        told[rate] += Fraction(taxes[one.key])
        whole += Fraction(one.amount) + (0 if one.recovered else Fraction(taxes[one.key]))
    half = Fraction(1, 2 * 10**order.exponent)
    for rate in exact:
        if abs(exact[rate] - told[rate]) > half:
            yield f"tax at {rate} % is {told[rate]}, should be {exact[rate]}"
    if (sum_of := sum(map(Fraction, landed.values()), Fraction(0))) != whole:
        yield f"landed costs sum to {sum_of}, the order costs {whole}"
