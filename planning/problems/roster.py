"""The roster step's question: subscribers with neither name nor address, alike ones counted together."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from planning.calendar import YearMonth
from planning.month import Month
from planning.roster import OneOffOrder, Profile, RosterProblem, Subscriber
from planning.roster.model import Zones


def roster_problem(month: Month) -> RosterProblem:
    """Reduce the roster to profiles."""
    zones = zones_by_country(month)
    orders = orders_by_subscriber(month)
    tiers = frozenset(tier.code for tier in month.tiers)
    heads = Counter(
        profile_of(one, orders.get(one.reference, ()), zones.get(one.country, ()), tiers)
        for one in month.subscribers
    )
    return RosterProblem(
        month=month.club.month,
        profiles=tuple(replace(profile, heads=count) for profile, count in heads.items()),
    )


def profile_of(
    subscriber: Subscriber, orders: Iterable[OneOffOrder], zones: Zones, tiers: frozenset[str]
) -> Profile:
    """Return what planning must know of one subscriber and their one-off orders."""
    goods: Counter[str] = Counter()
    for order in orders:
        goods[order.item] += order.count
    wanted = sorted(goods.items())
    return Profile(
        tier=subscriber.tier,
        quantity=subscriber.quantity,
        active=subscriber.active,
        joined=None if subscriber.joined is None else YearMonth.of(subscriber.joined),
        skips=frozenset(subscriber.skips),
        zones=zones,
        items=tuple((name, count) for name, count in wanted if name not in tiers),
        kits=tuple((name, count) for name, count in wanted if name in tiers),
    )


def zones_by_country(month: Month) -> Mapping[str, Zones]:
    """Return each country's zone at each carrier."""
    zones: defaultdict[str, list[tuple[str, str]]] = defaultdict(list)
    for row in month.zones:
        zones[row.country].append((row.carrier, row.zone))
    return {country: tuple(sorted(pairs)) for country, pairs in zones.items()}


def orders_by_subscriber(month: Month) -> Mapping[str, list[OneOffOrder]]:
    """Return each subscriber's one-off orders."""
    orders: defaultdict[str, list[OneOffOrder]] = defaultdict(list)
    for order in month.orders:
        orders[order.subscriber].append(order)
    return orders
