"""The rule of the allocation step: who gets what there is too little of, and who something else instead.

A box gets all it should hold of a material or none of it. By tier or joining date the groups come in that order, and what
is too little for one box goes on to the next that needs less. Evenly, every tier gets the same share of its boxes filled,
as near as whole boxes allow, largest remainder first. Within a group the first boxes are served first, of every material,
so that those who go without of one go without of the next: as few boxes as can be are affected.

Substitutes are given out by the same rule to the boxes that are left, in the order in which they are listed.
"""

from collections.abc import Iterator, Sequence
from datetime import date

from kits.measures import split_count
from planning.allocation.model import (
    AllocationProblem,
    AllocationResult,
    Boxes,
    BoxGroup,
    Got,
    MaterialOutcome,
    Rule,
    ShortMaterial,
)

Given = dict[str, int]  # boxes by group
ENDED = {
    Rule.TIER: "by tier, then by joining date: no box goes without while a later one is served that needs as many",
    Rule.JOINED: "by joining date, then by tier: no box goes without while a later one is served that needs as many",
    Rule.EVEN: "evenly: of every tier the same share of boxes is filled, to within one box, and within it by joining date",
}


def plan_allocation(problem: AllocationProblem) -> AllocationResult:
    """Give out every short material and its substitutes."""
    groups = in_order(problem)
    free = {one.instead: one.available for one in problem.substitutes}
    steps: dict[str, list[tuple[str | None, Given]]] = {}
    for short in problem.short:
        steps[short.material] = list(given_out(short, groups, problem, free))
    return AllocationResult(
        groups=tuple(groups),
        substitutes=problem.substitutes,
        boxes=tuple(boxes for group in groups for boxes in runs(group, steps)),
        materials=tuple(outcome(one, groups, steps[one.material]) for one in problem.short),
        ended=ENDED[problem.rule],
    )


def in_order(problem: AllocationProblem) -> list[BoxGroup]:
    """Return the groups that hold a short material, whoever is served first at the front."""
    short = {one.material for one in problem.short}
    holding = [
        one
        for one in problem.groups
        if one.boxes and any(use.material in short and use.each for use in one.uses)
    ]
    place = {tier: at for at, tier in enumerate(problem.tiers)}

    def rank(one: BoxGroup) -> tuple[object, ...]:
        joined = one.joined or date.min
        first = (joined, place[one.tier]) if problem.rule is Rule.JOINED else (place[one.tier], joined)
        return *first, one.code

    return sorted(holding, key=rank)


def given_out(
    short: ShortMaterial, groups: Sequence[BoxGroup], problem: AllocationProblem, free: dict[str, int]
) -> Iterator[tuple[str | None, Given]]:
    """Yield how many boxes of each group get a material (None) and then each of its substitutes. free: what is left."""
    waiting = {one.code: one.boxes for one in groups if one.each(short.material)}
    holding = [one for one in groups if one.code in waiting]
    sources: list[tuple[str | None, int, int]] = [(None, short.available, 1)]
    sources += [(one.instead, 0, one.per) for one in problem.substitutes if one.material == short.material]
    for instead, available, per in sources:
        units = {one.code: one.each(short.material) * per for one in holding}
        given = shared(holding, waiting, units, available if instead is None else free[instead], problem)
        if instead is not None:
            free[instead] -= sum(boxes * units[code] for code, boxes in given.items())
        waiting = {code: boxes - given[code] for code, boxes in waiting.items()}
        yield instead, given


def shared(
    groups: Sequence[BoxGroup], waiting: Given, units: Given, available: int, problem: AllocationProblem
) -> Given:
    """Return how many of the waiting boxes of each group are served. units: that one box of a group takes."""
    if problem.rule is not Rule.EVEN:
        return first_come(groups, waiting, units, available)
    tiers = [tier for tier in problem.tiers if any(one.tier == tier for one in groups)]
    asked = [sum(waiting[one.code] * units[one.code] for one in groups if one.tier == tier) for tier in tiers]
    parts = split_count(min(available, sum(asked)), asked) if sum(asked) else [0] * len(tiers)
    given: Given = {}
    for tier, part in zip(tiers, parts, strict=True):
        given |= first_come([one for one in groups if one.tier == tier], waiting, units, part)
    spare = available - sum(given[code] * units[code] for code in given)
    still = {code: boxes - given[code] for code, boxes in waiting.items()}
    more = first_come(groups, still, units, spare)
    return {code: given[code] + more[code] for code in given}


def first_come(groups: Sequence[BoxGroup], waiting: Given, units: Given, available: int) -> Given:
    """Serve group after group as long as there is enough for a whole box."""
    given: Given = {}
    for one in groups:
        given[one.code] = min(waiting[one.code], available // units[one.code])
        available -= given[one.code] * units[one.code]
    return given


# --- What that means for each box ---


def runs(group: BoxGroup, steps: dict[str, list[tuple[str | None, Given]]]) -> Iterator[Boxes]:
    """Yield a group's boxes in runs that fare alike, by number."""
    ends = {group.boxes}
    for given in steps.values():
        reached = 0
        for _, boxes in given:
            reached += boxes.get(group.code, 0)
            ends.add(reached)
    first = 1
    for last in sorted(ends - {0}):
        got = tuple(
            one
            for material, given in steps.items()
            if (one := got_by(first, group, material, given)) is not None
        )
        yield Boxes(group=group.code, first=first, last=last, got=got)
        first = last + 1


def got_by(
    number: int, group: BoxGroup, material: str, given: Sequence[tuple[str | None, Given]]
) -> Got | None:
    """Return what a box has in place of a material it should hold; None where it has what was planned."""
    if not group.each(material):
        return None
    reached = 0
    for instead, boxes in given:
        reached += boxes[group.code]
        if number <= reached:
            return None if instead is None else Got(material=material, instead=instead)
    return Got(material=material, is_without=True)


def outcome(
    short: ShortMaterial, groups: Sequence[BoxGroup], given: Sequence[tuple[str | None, Given]]
) -> MaterialOutcome:
    """Add up how a material was given out."""
    (_, own), *others = given
    holding = {one.code: one.each(short.material) for one in groups if one.each(short.material)}
    boxes = sum(one.boxes for one in groups if one.code in holding)
    instead = tuple((str(name), sum(served.values())) for name, served in others)
    return MaterialOutcome(
        material=short.material,
        name=short.name,
        wanted=sum(one.boxes * one.each(short.material) for one in groups),
        available=short.available,
        served=sum(own.values()),
        instead=instead,
        without=boxes - sum(own.values()) - sum(count for _, count in instead),
        unused=short.available - sum(count * holding[code] for code, count in own.items()),
    )
