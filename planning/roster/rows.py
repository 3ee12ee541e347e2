"""The roster as the club keeps it: one row a subscriber, one row a one-off order."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from planning.calendar import YearMonth


class Besides(StrEnum):
    """Why somebody gets something besides a subscription's box."""

    ADD_ON = "add-on order"
    REPLACEMENT = "replacement"  # for what came damaged


@dataclass(frozen=True, slots=True, kw_only=True)
class Subscriber:
    """Someone on the roster. `quantity` boxes of the tier each month, save the months in `skips`.

    sent: months for which they have had a box before this one, None where the day of joining tells. promotions: codes they
    joined or ordered with, in capitals.
    """

    reference: str
    name: str
    address_1: str
    address_2: str = ""
    address_3: str = ""
    city: str
    region: str = ""
    postcode: str = ""
    country: str
    tier: str
    quantity: int = 1
    active: bool = True
    joined: date | None = None
    skips: tuple[YearMonth, ...] = ()
    sent: int | None = None
    promotions: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OneOffOrder:
    """`count` of a material, a pre-cut or a whole tier's kit, once, for someone on the roster, and why."""

    reference: str
    subscriber: str
    item: str
    count: int = 1
    why: Besides = Besides.ADD_ON
