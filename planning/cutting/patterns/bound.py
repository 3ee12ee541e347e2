"""The bound: what no plan can cost less than, in exact numbers from values that need not be exact at all.

A. A. Farley, A note on bounding a class of linear programming problems, including cutting stock problems,
Oper. Res. 38 (1990) 922-923, from memory; with the number of sheets limited by Lagrange's multipliers.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd, lcm


@dataclass(frozen=True, slots=True)
class Offer:
    """A sheet. most: what no pattern of it is worth more than. price: what one costs. available: None for any number."""

    most: int
    price: Fraction
    available: int | None


def lower_bound(worth: int, offers: Sequence[Offer]) -> Fraction:
    """Return what no plan costs less than. worth: of all pieces wanted.

    Say all values are multiplied by t. A sheet that costs no less than the most it can yield, t x most, earns its
    price; of a sheet that costs less, each of those available adds the difference. So every plan costs at least
    t x worth - sum(available x max(0, t x most - price)), for any t that makes no sheet of any number gain. The
    best t is one at which some sheet costs just what it yields.
    """
    earns = [offer.price / offer.most for offer in offers if offer.most]
    free = [offer.price / offer.most for offer in offers if offer.most and offer.available is None]
    best = Fraction(0)
    for times in earns:
        if not free or times <= min(free):
            gained = sum(
                (_gain(offer, times) for offer in offers if offer.available is not None), Fraction(0)
            )
            best = max(best, times * worth - gained)
    return best


def _gain(offer: Offer, times: Fraction) -> Fraction:
    return (offer.available or 0) * max(Fraction(0), times * offer.most - offer.price)


def steps_of(prices: Sequence[Fraction]) -> Fraction:
    """Return the amount of which every sum of these prices is a multiple; 0 where all are 0."""
    unit = lcm(*(price.denominator for price in prices))
    return Fraction(gcd(*(int(price * unit) for price in prices)), unit)


def rounded_up(bound: Fraction, step: Fraction) -> Fraction:
    """Return the least multiple of the step that is no lower than the bound: no plan costs anything between."""
    return ceil(bound / step) * step if step else bound
