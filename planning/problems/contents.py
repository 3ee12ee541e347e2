"""The contents step's question: each kind of box that is due, what its tier holds, and the month's rules."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from kits.kit import ItemKind, When
from planning.calendar import YearMonth
from planning.contents import Box, ContentsProblem, Extra, Rule, TierLine
from planning.contents import When as Occasion
from planning.month import Month
from planning.problems.items import item_of, kit_item
from planning.roster import Besides, Due, Occasions, RosterProblem, boxes_for


def contents_problem(month: Month, people: RosterProblem) -> ContentsProblem:
    """Ask what goes into every kind of box that somebody is due."""
    due: Counter[Due] = Counter()
    for profile in people.profiles:
        for one, count in boxes_for(profile, people.month, people.occasions):
            due[one] += count * profile.heads
    return ContentsProblem(
        month=month.club.month,
        boxes=tuple(box_of(one, due[one], month) for one in sorted(due)),
        tiers=tuple(tier_lines(month)),
        rules=tuple(named(rule, month) for rule in month.rules),
        extras=tuple(extra for one in sorted(due) for extra in extras_of(one, month)),
    )


def box_of(due: Due, boxes: int, month: Month) -> Box:
    """Return boxes that are due as the step sees them; the day of promotions is the first one of packing."""
    this = month.club.month
    return Box(
        code=due.code,
        tier=due.tier,
        country=due.country,
        number=due.number or None,
        day=month.club.packing_starts,
        part=due.part,
        boxes=boxes,
        joined=YearMonth(this.year - due.years, this.month) if due.years else None,
        codes=frozenset(due.promotions),
    )


def extras_of(due: Due, month: Month) -> Iterator[Extra]:
    """Yield what somebody gets besides."""
    for kind, own in ((Besides.ADD_ON, due.items), (Besides.REPLACEMENT, due.replacements)):
        for code, count in own:
            yield Extra(box=due.code, kind=kind, item=item_of(code, month), count=count)


def tier_lines(month: Month) -> Iterator[TierLine]:
    """Yield what the kit puts into the boxes of each tier, apart from the packaging of every box."""
    for line in month.kit_lines:
        first = line.when is When.FIRST_BOX
        if first or line.kind is not ItemKind.PACKAGING:
            for tier in line.tiers or tuple(tier.code for tier in month.tiers):
                yield TierLine(tier=tier, item=kit_item(line), count=line.count, first=first)


def named(rule: Rule, month: Month) -> Rule:
    """Return a rule with its items by the names of the bill."""
    instead = item_of(rule.instead, month) if rule.instead else ""
    return replace(rule, item=item_of(rule.item, month), instead=instead)


def occasions_of(month: Month) -> Occasions:
    """Return what the month's rules ask of a subscriber; a promotion that is not on asks nothing."""
    rules, day = month.rules, month.club.packing_starts
    years = {rule.number for rule in rules if rule.when is Occasion.ANNIVERSARY}
    on = {rule.promotion for rule in rules if rule.when is Occasion.PROMOTION and rule.holds_on(day)}
    return Occasions(
        numbers=frozenset(rule.number for rule in rules if rule.when is Occasion.NTH and rule.number) | {1},
        years=frozenset(year for year in years if year),
        every_year=None in years,
        promotions=frozenset(on - {""}),
        countries=frozenset(country for rule in rules for country in rule.countries),
    )
