"""The checker of the allocation step. It shares no code with the rule: boxes are counted one run after the other."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date

from planning.allocation.model import AllocationProblem, AllocationResult, Boxes, BoxGroup, Rule


def allocation_faults(problem: AllocationProblem, result: AllocationResult) -> tuple[str, ...]:
    """Return every way in which boxes are missed, more is given than there is, or the rule is broken."""
    return (
        *run_faults(problem, result),
        *supply_faults(problem, result),
        *outcome_faults(problem, result),
        *order_faults(problem, result),
        *share_faults(problem, result),
    )


def run_faults(problem: AllocationProblem, result: AllocationResult) -> Iterator[str]:
    """Check that every box of every group that holds a short material stands in one run, and no other box."""
    short = {one.material for one in problem.short}
    numbers: defaultdict[str, list[Boxes]] = defaultdict(list)
    for one in result.boxes:
        numbers[one.group].append(one)
    for group in problem.groups:
        reached = 0
        for one in sorted(numbers.pop(group.code, []), key=lambda one: one.first):
            if one.first != reached + 1 or one.last < one.first:
                yield f"{group.code}: boxes {one.first} to {one.last} follow on {reached}"
            reached = one.last
            held = {use.material for use in group.uses if use.each}
            if not {got.material for got in one.got} <= held & short:
                yield f"{group.code}: a box goes without what it does not hold"
        holds = any(use.each and use.material in short for use in group.uses)
        if reached != (group.boxes if holds else 0):
            yield f"{group.code}: {reached} of {group.boxes} boxes are told of"
    yield from (f"{code}: is no group" for code in numbers)


def served(
    problem: AllocationProblem, result: AllocationResult, material: str
) -> Iterator[tuple[BoxGroup, Boxes, int]]:
    """Yield each run that should hold a material, with its group and the units a box should hold."""
    groups = {one.code: one for one in problem.groups}
    for one in result.boxes:
        each = sum(use.each for use in groups[one.group].uses if use.material == material)
        if each:
            yield groups[one.group], one, each


def fate(one: Boxes, material: str) -> str | None:
    """Return what a run has of a material: "" for the thing itself, a substitute's code, None for nothing."""
    got = next((got for got in one.got if got.material == material), None)
    if got is None:
        return ""
    return None if got.is_without else got.instead


def supply_faults(problem: AllocationProblem, result: AllocationResult) -> Iterator[str]:
    """Check that no more is given out than there is."""
    taken: Counter[str] = Counter()
    per = {(one.material, one.instead): one.per for one in problem.substitutes}
    for short in problem.short:
        for _, one, each in served(problem, result, short.material):
            how = fate(one, short.material)
            if how == "":
                taken[short.material] += each * one.count
            elif how is not None and (short.material, how) not in per:
                yield f"{how} stands in for {short.material} unasked"
            elif how is not None:
                taken[how] += each * one.count * per[short.material, how]
    there = {one.instead: one.available for one in problem.substitutes}
    there |= {one.material: one.available for one in problem.short}
    for code, units in taken.items():
        if units > there.get(code, 0):
            yield f"{code}: {units} are given out of {there.get(code, 0)}"


def outcome_faults(problem: AllocationProblem, result: AllocationResult) -> Iterator[str]:
    """Count each material's outcome again."""
    for short, told in zip(problem.short, result.materials, strict=True):
        fates: Counter[str | None] = Counter()
        wanted = used = 0
        for _, one, each in served(problem, result, short.material):
            fates[fate(one, short.material)] += one.count
            wanted += each * one.count
            used += each * one.count if fate(one, short.material) == "" else 0
        counted = (
            wanted,
            fates[""],
            dict(told.instead),
            fates[None],
            short.available - used,
        )
        said = (
            told.wanted,
            told.served,
            {code: fates[code] for code, _ in told.instead},
            told.without,
            told.unused,
        )
        if counted != said:
            yield f"{short.material}: {counted} counted, {said} told"


def order_faults(problem: AllocationProblem, result: AllocationResult) -> Iterator[str]:
    """Check that nobody goes without while somebody later by the rule is served who needs as many, or enough is left."""
    place = {tier: at for at, tier in enumerate(problem.tiers)}
    for short, told in zip(problem.short, result.materials, strict=True):
        found = list(served(problem, result, short.material))
        for group, one, each in found:
            if fate(one, short.material) == "":
                continue
            if each <= told.unused:
                yield f"{group.code}: goes without {short.material}, of which {told.unused} are unused"
            for other, run, units in found:
                is_later = rank(problem, place, group) < rank(problem, place, other)
                same_line = problem.rule is not Rule.EVEN or other.tier == group.tier
                if is_later and same_line and fate(run, short.material) == "" and units >= each:
                    yield f"{group.code}: goes without {short.material} while {other.code} is served"


def rank(problem: AllocationProblem, place: dict[str, int], group: BoxGroup) -> tuple[object, ...]:
    """Return where a group stands in the rule's order."""
    joined = group.joined.toordinal() if group.joined else date.min.toordinal() - 1
    return (joined, place[group.tier]) if problem.rule is Rule.JOINED else (place[group.tier], joined)


def share_faults(problem: AllocationProblem, result: AllocationResult) -> Iterator[str]:
    """Check that an even share gives each tier its share of the units, to within a box of its own and one left over."""
    for short in problem.short if problem.rule is Rule.EVEN else ():
        asked: Counter[str] = Counter()
        had: Counter[str] = Counter()
        largest: Counter[str] = Counter()
        for group, one, each in served(problem, result, short.material):
            asked[group.tier] += each * one.count
            had[group.tier] += each * one.count if fate(one, short.material) == "" else 0
            largest[group.tier] = max(largest[group.tier], each)
        given = min(short.available, sum(asked.values()))
        for tier, units in asked.items():
            if had[tier] * sum(asked.values()) < units * given - (largest[tier] + 1) * sum(asked.values()):
                yield f"{tier}: has {had[tier]} of {short.material}, less than its even share"
