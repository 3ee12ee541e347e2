"""The rule of the requirements step: gross to net, one level after the other."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from graphlib import CycleError, TopologicalSorter

from planning.requirements.model import (
    BillLine,
    Demand,
    ItemOvers,
    Requirement,
    RequirementsError,
    RequirementsProblem,
    RequirementsResult,
    Source,
    Use,
)


def plan_requirements(problem: RequirementsProblem) -> RequirementsResult:
    """Explode the demands down the bill; finished stock of an item cuts what its parts are asked for.

    An item's whole need is known before its parts are looked at, whatever levels its parents stand on.
    """
    order = parents_first(problem)
    asked = sources_of_demands(problem.demands)
    below = lines_by_parent(problem.bill)
    shelf = {line.item: line.count for line in problem.on_hand}
    overs = {line.item: line for line in problem.overs}
    lines: list[Requirement] = []
    for name in order:
        line = requirement(name, asked[name], shelf.get(name, 0), overs.get(name))
        lines.append(line)
        for part in below[name]:
            asked[part.item].append(Source(parent=name, parents=line.net, per=part.per))
    return RequirementsResult(lines=tuple(lines), uses=good_uses(problem, order))


def requirement(name: str, sources: Sequence[Source], shelf: int, overs: ItemOvers | None) -> Requirement:
    """Net one item's need against its shelf."""
    good = sum(source.total for source in sources)
    need = good + (overs.on(good) if overs else 0)
    from_shelf = min(max(need, 0), shelf)  # what a rule leaves out is less than nothing by itself
    wanted = tuple(source for source in sources if source.total)
    return Requirement(
        item=name, good=good, overs=need - good, from_shelf=from_shelf, net=need - from_shelf, sources=wanted
    )


def sources_of_demands(demands: Sequence[Demand]) -> defaultdict[str, list[Source]]:
    """Start the list of who asks for what with the demands themselves."""
    asked: defaultdict[str, list[Source]] = defaultdict(list)
    for demand in demands:
        asked[demand.item].append(Source(parent="", parents=demand.count, per=1))
    return asked


def lines_by_parent(bill: Sequence[BillLine]) -> defaultdict[str, list[BillLine]]:
    """Index the bill downwards."""
    below: defaultdict[str, list[BillLine]] = defaultdict(list)
    for line in bill:
        below[line.parent].append(line)
    return below


def parents_first(problem: RequirementsProblem) -> tuple[str, ...]:
    """Order the items so that every parent stands before its parts. Raises RequirementsError on a circle."""
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for demand in problem.demands:
        sorter.add(demand.item)
    for line in problem.bill:
        sorter.add(line.item, line.parent)
    try:
        return tuple(sorter.static_order())
    except CycleError as circle:
        names = " -> ".join(circle.args[1])
        raise RequirementsError(f"the bill runs in a circle: {names}. Take one of these lines out.") from None


def good_uses(problem: RequirementsProblem, order: Sequence[str]) -> tuple[Use, ...]:
    """Follow each demand down the bill, without stock and overs: what ends in boxes on its account."""
    below = lines_by_parent(problem.bill)
    uses: list[Use] = []
    for demand in problem.demands:
        counts: defaultdict[str, int] = defaultdict(int, {demand.item: demand.count})
        for name in order:
            for part in below[name]:
                counts[part.item] += counts[name] * part.per
        uses += [Use(demand=demand.item, item=name, count=count) for name, count in counts.items() if count]
    return tuple(uses)


def lead_offsets(problem: RequirementsProblem, lead: Mapping[str, int]) -> dict[str, int]:
    """Return, for each item, how many periods before the due date work on it (or its order) must start.

    lead: periods an item takes once all its parts are there; an item missing from it takes none. The longest chain of
    parents decides.
    """
    above: defaultdict[str, list[str]] = defaultdict(list)
    for line in problem.bill:
        above[line.item].append(line.parent)
    offsets: dict[str, int] = {}
    for name in parents_first(problem):
        offsets[name] = lead.get(name, 0) + max((offsets[parent] for parent in above[name]), default=0)
    return offsets
