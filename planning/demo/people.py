"""The roster: people made by arithmetic, the same ones every time, until the boxes asked for are reached."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import count
from typing import Any

from planning.calendar import YearMonth
from planning.demo.awkward import AWKWARD, AWKWARD_ORDERS
from planning.demo.kit import BRANCH, LEAF, ORCHARD, TIERS
from planning.demo.luck import Luck, lots
from planning.demo.places import COUNTRIES, Country
from planning.demo.rules import PICNIC, PICNICKERS, REPLACED
from planning.problems import profile_of
from planning.roster import OneOffOrder, Subscriber, boxes_for

APRIL, MAY = YearMonth(2027, 4), YearMonth(2027, 5)

# Shares are of a thousand people.
COUNTRY_LOTS = lots(*((country, country.share) for country in COUNTRIES))
TIER_LOTS = lots((ORCHARD, 560), (BRANCH, 280), (LEAF, 160))
STANDING_LOTS: tuple[dict[str, Any], ...] = lots(
    ({}, 817),
    ({"joined": None}, 60),  # a founding member
    ({"quantity": 2}, 17),
    ({"joined": date(2027, 5, 2)}, 34),  # this is the first box
    ({"joined": date(2027, 4, 9), "skips": (APRIL,)}, 6),  # and so is this
    ({"skips": (MAY,)}, 22),
    ({"joined": date(2027, 6, 12)}, 11),
    ({"quantity": 0}, 9),
    ({"active": False}, 24),
)
GOODS = (("STICKERS", 2), ("CARD-34", 24), ("STAMPS", 1), ("TRELLIS", 6), (ORCHARD, 1))
"""What one person in sixty orders once: goods, pieces, or a whole kit as a present."""

TIER_CODES = frozenset(tier.code for tier in TIERS)


def roster(boxes: int) -> tuple[tuple[Subscriber, ...], tuple[OneOffOrder, ...]]:
    """Return subscribers and one-off orders that together make exactly so many boxes."""
    subscribers: list[Subscriber] = []
    orders: list[OneOffOrder] = []
    for one, own in people():
        if boxes == 0:
            break
        # who would get more boxes than are left is passed over
        if (sends := boxes_of(one, own)) <= boxes:
            subscribers.append(one)
            orders += own
            boxes -= sends
    return tuple(subscribers), tuple(orders)


def boxes_of(one: Subscriber, orders: tuple[OneOffOrder, ...]) -> int:
    """Count the boxes one person gets in May, by the roster step's own rule."""
    return sum(boxes for _, boxes in boxes_for(profile_of(one, orders, (), TIER_CODES), MAY))


def people() -> Iterator[tuple[Subscriber, tuple[OneOffOrder, ...]]]:
    """Yield people without end, the awkward ones first, each with their one-off orders."""
    for one in AWKWARD:
        yield one, tuple(order for order in (*AWKWARD_ORDERS, *REPLACED) if order.subscriber == one.reference)
    for number in count(len(AWKWARD) + 1):
        luck = Luck(number)
        one = person(f"BFC-{number:06}", luck)
        if number % PICNICKERS == 0:
            one = replace(one, promotions=(PICNIC,))
        yield one, orders_of(one, luck)


def person(reference: str, luck: Luck) -> Subscriber:
    """Make a subscriber: somewhere in the nine countries, and somehow standing with the club."""
    country = luck.one_of(COUNTRY_LOTS)
    town = luck.one_of(country.towns)
    usual = Subscriber(
        reference=reference,
        name=name(country, luck),
        address_1=luck.one_of(country.streets).replace("{n}", str(1 + luck.below(98))),
        address_2=luck.one_of(country.seconds) if luck.one_in(4) else "",
        city=town.name,
        region=town.region,
        postcode=luck.filled(town.postcode),
        country=country.code,
        tier=luck.one_of(TIER_LOTS),
        joined=date(2019 + luck.below(8), 1 + luck.below(12), 1 + luck.below(28)),
    )
    standing = luck.one_of(STANDING_LOTS)
    return replace(usual, **standing) if standing else usual


def name(country: Country, luck: Luck) -> str:
    """Return a first and a last name; one person in a hundred has a single one."""
    first, last = luck.one_of(country.first), luck.one_of(country.last)
    return first if luck.one_in(100) else f"{first} {last}"


def orders_of(one: Subscriber, luck: Luck) -> tuple[OneOffOrder, ...]:
    """Return one person's one-off orders."""
    if not luck.one_in(60):
        return ()
    item, pieces = luck.one_of(GOODS)
    return (
        OneOffOrder(
            reference=one.reference.replace("BFC-", "W"), subscriber=one.reference, item=item, count=pieces
        ),
    )
