"""The guillotine, as its owner describes it. No figure here is a standard: each is the machine's own."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Guillotine:
    """A paper guillotine.

    opening: widest sheet that passes under the knife; lift_height: tallest stack its owner allows;
    smallest_strip: narrowest strip the clamp can hold (lengths). Times in minutes, cost per hour in the club's money.
    """

    code: str
    name: str
    opening: int
    lift_height: int
    smallest_strip: int = 0
    minutes_per_lift: Decimal = Decimal(0)
    minutes_per_cut: Decimal = Decimal(0)
    cost_per_hour: Decimal = Decimal(0)
