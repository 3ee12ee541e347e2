"""The roster step's question: subscribers with neither name nor address, alike ones counted together."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from planning.calendar import YearMonth
from planning.month import Month
from planning.problems.contents import occasions_of
from planning.problems.destinations import Destinations
from planning.problems.working_days import regions_of
from planning.roster import Besides, Occasions, OneOffOrder, Profile, RosterProblem, Subscriber
from planning.roster.model import NOTHING_ASKED, Zones


def roster_problem(month: Month) -> RosterProblem:
    """Reduce the roster to profiles."""
    heads = Counter(profile for _, profile in profiles(month))
    return RosterProblem(
        month=month.club.month,
        profiles=tuple(replace(profile, heads=count) for profile, count in heads.items()),
        occasions=occasions_of(month),
    )


def profiles(month: Month) -> Iterator[tuple[Subscriber, Profile]]:
    """Yield every subscriber with what planning sees of them, in the order of the roster."""
    destinations, orders = Destinations(month.zones), orders_by_subscriber(month)
    tiers, occasions = frozenset(tier.code for tier in month.tiers), occasions_of(month)
    region = regions_of(month)
    for one in month.subscribers:
        own = orders.get(one.reference, ())
        yield one, profile_of(one, own, destinations.of(one), tiers, occasions, region(one.country))


def profile_of(
    subscriber: Subscriber,
    orders: Iterable[OneOffOrder],
    zones: Zones,
    tiers: frozenset[str],
    occasions: Occasions = NOTHING_ASKED,
    region: str = "",
) -> Profile:
    """Return what planning must know of one subscriber and their one-off orders."""
    goods: Counter[tuple[Besides, str]] = Counter()
    for order in orders:
        goods[Besides.ADD_ON if order.item in tiers else order.why, order.item] += order.count
    wanted = sorted((name, count, why) for (why, name), count in goods.items())
    return Profile(
        tier=subscriber.tier,
        quantity=subscriber.quantity,
        active=subscriber.active,
        joined=None if subscriber.joined is None else YearMonth.of(subscriber.joined),
        skips=frozenset(subscriber.skips),
        sent=occasions.before(subscriber.sent),
        country=subscriber.country if subscriber.country in occasions.countries else "",
        promotions=occasions.promotions.intersection(subscriber.promotions),
        zones=zones,
        region=region,
        items=goods_for(Besides.ADD_ON, wanted, tiers),
        replacements=goods_for(Besides.REPLACEMENT, wanted, tiers),
        kits=tuple((name, count) for name, count, _ in wanted if name in tiers),
    )


def goods_for(
    kind: Besides, wanted: Iterable[tuple[str, int, Besides]], tiers: frozenset[str]
) -> tuple[tuple[str, int], ...]:
    """Return what is wanted for a reason; kits go into boxes of their own."""
    return tuple((name, count) for name, count, why in wanted if why is kind and name not in tiers)


def orders_by_subscriber(month: Month) -> Mapping[str, list[OneOffOrder]]:
    """Return each subscriber's one-off orders."""
    orders: defaultdict[str, list[OneOffOrder]] = defaultdict(list)
    for order in month.orders:
        orders[order.subscriber].append(order)
    return orders
