"""Which rules are for a box, and which of them count where they are at odds.

The higher priority counts, then the code that comes first; the latter is a conflict and is told. At odds are rules of one
slot, and rules that want different things done with one item. Additions of one item are not: they add up.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence

from planning.calendar import YearMonth
from planning.contents.model import Box
from planning.contents.rows import Does, Rule, When
from planning.roster import Part

Dropped = tuple[Rule, Rule, str]  # the rule that counts, the one that does not, over what


def rules_for(box: Box, rules: Iterable[Rule], month: YearMonth) -> list[Rule]:
    """Return the rules for a box, the one that counts most first; those for damaged items and countries are apart."""
    return by_rank(rule for rule in rules if fills(rule, box, month))


def fills(rule: Rule, box: Box, month: YearMonth) -> bool:
    """Tell whether a rule is for a box; what is for a subscriber once is for their main box."""
    if box.part is Part.GOODS or (box.part is Part.FURTHER and rule.when is not When.EVERY):
        return False
    return rule.when in CASES and is_for(rule, box) and CASES[rule.when](rule, box, month)


def by_rank(rules: Iterable[Rule]) -> list[Rule]:
    """Sort rules, the one that counts most first."""
    return sorted(rules, key=lambda rule: (-rule.priority, rule.code))


def is_for(rule: Rule, box: Box) -> bool:
    """Tell whether a rule is for the box's tier and country."""
    return (not rule.tiers or box.tier in rule.tiers) and (
        not rule.countries or box.country in rule.countries
    )


def years(box: Box, month: YearMonth) -> int | None:
    """Return the years since joining in the month of joining, else None."""
    if box.joined is None:
        return None
    months = 12 * (month.year - box.joined.year) + month.month - box.joined.month
    return months // 12 if months > 0 and months % 12 == 0 else None


def is_anniversary(rule: Rule, box: Box, month: YearMonth) -> bool:
    """Tell whether it is the year a rule names, or any year."""
    since = years(box, month)
    return since is not None and rule.number in (None, since)


def is_promoted(rule: Rule, box: Box, _: YearMonth) -> bool:
    """Tell whether the box's day and codes are those of a promotion; codes are the same in capitals and without."""
    codes = {code.strip().casefold() for code in box.codes}
    return rule.holds_on(box.day) and (not rule.promotion or rule.promotion.strip().casefold() in codes)


CASES: dict[When, Callable[[Rule, Box, YearMonth], bool]] = {
    When.EVERY: lambda rule, box, month: True,
    When.FIRST: lambda rule, box, month: box.number == 1,
    When.NTH: lambda rule, box, month: box.number == rule.number,
    When.ANNIVERSARY: is_anniversary,
    When.PROMOTION: is_promoted,
}


def counting(rules: Sequence[Rule]) -> tuple[list[Rule], list[Dropped]]:
    """Part rules, by rank, into those that count and those that others keep from it."""
    kept: list[Rule] = []
    dropped: list[Dropped] = []
    for rule in rules:
        stronger = next(at_odds(rule, kept), None)
        if stronger is None:
            kept.append(rule)
        else:
            dropped.append((stronger[0], rule, stronger[1]))
    return kept, dropped


def at_odds(rule: Rule, kept: Iterable[Rule]) -> Iterator[tuple[Rule, str]]:
    """Yield the rules that keep one from counting, and over what."""
    for other in kept:
        if rule.slot and rule.slot == other.slot:
            yield other, f"slot {rule.slot}"
        elif rule.item == other.item and wish(rule) != wish(other):
            yield other, rule.item


def wish(rule: Rule) -> tuple[Does, str, int]:
    """Return what a rule wants done with its item; all additions are alike."""
    return rule.does, rule.instead, rule.count if rule.does is Does.SUBSTITUTE else 0
