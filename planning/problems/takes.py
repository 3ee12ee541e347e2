"""What the boxes of each tier take of each material, and what of it the buyer wants to have besides."""

from collections import Counter, defaultdict
from collections.abc import Mapping
from fractions import Fraction

from planning.cutting import CuttingResult
from planning.month import Month
from planning.problems.requirements import tier_of
from planning.requirements import Kind, RequirementsResult, code_of, item, kind_of

Takes = Mapping[
    str, Mapping[str, Fraction]
]  # tier -> units of each material in all its boxes; "" for all others


def takes_by_tier(needs: RequirementsResult, cutting: CuttingResult) -> Takes:
    """Return the units of each material that go into all boxes of a tier, whole and through pieces cut from it."""
    takes: defaultdict[str, defaultdict[str, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
    used: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for use in needs.uses:
        tier = tier_of(use.demand)
        used[use.item][tier] += use.count
        if kind_of(use.item) is Kind.MATERIAL:
            takes[tier][code_of(use.item)] += use.count
    for ticket in cutting.all:
        areas = ticket.areas
        for name, area in areas.items():
            share = Fraction(ticket.units * area, sum(areas.values()))
            for tier, count in used[name].items():
                takes[tier][ticket.source] += share * Fraction(count, used[name].total())
    return takes


def kits_by_tier(needs: RequirementsResult) -> Counter[str]:
    """Return how many kits of each tier the month sends."""
    return Counter(
        {
            code_of(use.item): use.count
            for use in needs.uses
            if use.item == use.demand and kind_of(use.item) is Kind.KIT
        }
    )


def extra_units(month: Month, needs: RequirementsResult, cutting: CuttingResult) -> dict[str, int]:
    """Return what the buyer wants to have of each material beyond what the month uses.

    That is what the boxes chosen for a tier take beyond those the roster sends, overs in percent included, and at least
    what is chosen of the material itself.
    """
    chosen = {row.item: row.quantity for row in month.choices}
    if not chosen:
        return {}
    kits, takes = kits_by_tier(needs), takes_by_tier(needs, cutting)
    whole: Counter[str] = Counter()
    for ticket in cutting.all:
        whole[ticket.source] += ticket.units
    extra: dict[str, int] = {}
    for one in month.materials:
        line = needs.of(item(Kind.MATERIAL, one.code))
        good = (line.good if line else 0) + whole[one.code]
        total = good + (line.overs if line else 0)
        more = sum(
            (
                takes[tier][one.code] * (quantity - kits[tier]) / kits[tier]
                for tier, quantity in chosen.items()
                if kits[tier] and quantity > kits[tier]
            ),
            Fraction(0),
        )
        with_overs = more * Fraction(total, good) if good else Fraction(0)
        extra[one.code] = max(
            -(-with_overs.numerator // with_overs.denominator), chosen.get(one.code, 0) - total, 0
        )
    return extra
