"""What each rule came to, and of one that changes no box, why: an answer to somebody who waits for it to work."""

from collections import Counter
from collections.abc import Collection, Iterator

from planning.contents.choose import fills, is_for
from planning.contents.model import Applied, ContentsProblem
from planning.contents.rows import Does, Rule, When
from planning.roster.model import plain

NOBODY = {
    When.EVERY: "no box is of its tiers and goes to its countries",
    When.FIRST: "no box of the month is somebody's first",
    When.NTH: "no box of the month has that number",
    When.ANNIVERSARY: "nobody's month of joining comes round",
    When.PROMOTION: "nobody who gets a box has its code",
    When.REPLACEMENT: "nobody is sent its item for a damaged one",
    When.COUNTRY: "no box with its item in it goes there",
}


def applied(problem: ContentsProblem, changed: Counter[str], dropped: Collection[str]) -> Iterator[Applied]:
    """Yield each rule with the boxes it changed. dropped: the rules that others kept from counting somewhere."""
    for rule in problem.rules:
        why = "" if changed[rule.code] else why_not(problem, rule, dropped)
        yield Applied(rule=rule.code, words=rule.words, boxes=changed[rule.code], why_not=why)


def why_not(problem: ContentsProblem, rule: Rule, dropped: Collection[str]) -> str:
    """Say why a rule changes nothing."""
    if rule.code in dropped:
        return "rules at odds with it count before it"
    days = [box.day for box in problem.boxes]
    if rule.last is not None and days and rule.last < max(days):
        return f"it ended on {rule.last:%-d %b %Y}"
    if rule.first is not None and days and rule.first > min(days):
        return f"it begins on {rule.first:%-d %b %Y}"
    if not any(is_for(rule, box) for box in problem.boxes):
        return NOBODY[When.EVERY]
    is_met = any(fills(rule, box, problem.month) for box in problem.boxes)
    if is_met and rule.does is not Does.ADD:
        return f"none of its boxes holds {plain(rule.item)}"
    return NOBODY[rule.when]
