"""What else makes a plan good, where it costs no more: little work at the guillotine, and few patterns."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planning.cutting.machine import Guillotine
from planning.cutting.patterns.column import Column
from planning.cutting.patterns.generate import price_of, worth_of
from planning.cutting.patterns.known import Known, Uses
from planning.cutting.patterns.programme import Lifts, least_effort
from planning.cutting.patterns.result import PatternPlan
from planning.cutting.patterns.work import minutes_of, minutes_per_lift

IN_REACH = range(30, 151)  # patterns considered, at least and at most
FOR_A_SIZE = 4  # of them
EASE = 1e-6
MORE = (Fraction(0), Fraction(1, 200), Fraction(1, 50))  # what a plan may cost more for less work, as a share
A_PATTERN = Fraction(1, 100)  # of a minute: of plans that take equally long, the one with few patterns


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A plan as a line of a table. minutes: None where no machine is known."""

    plan: PatternPlan
    sheets: int
    patterns: int
    minutes: Decimal | None
    cost: Fraction


def eased(known: Known, machine: Guillotine | None, nodes: int) -> Iterator[Choice]:
    """Yield the plan found with less work, at the same cost if possible, then dearer ones with less work still."""
    least: tuple[Fraction, int] | None = None
    for share in MORE:
        uses = _eased(known, machine, known.cost * (1 + share), nodes)
        if uses is None and least is not None:
            continue
        choice = _choice(known.plan_of(uses) if uses else known.plan(), machine)
        effort = Fraction(choice.minutes or 0), choice.patterns
        if least is None or effort < least:
            least = effort
            yield choice


def _choice(plan: PatternPlan, machine: Guillotine | None) -> Choice:
    minutes = minutes_of(plan, machine) if machine else None
    return Choice(plan=plan, sheets=plan.sheets, patterns=len(plan.patterns), minutes=minutes, cost=plan.cost)


def _eased(known: Known, machine: Guillotine | None, most: Fraction, nodes: int) -> Uses | None:
    """Return a plan that costs no more than that and makes no less; None where none is found that is easier."""
    columns = _in_reach(known)
    found = least_effort(
        known.needs,
        columns,
        [_lifts(known, one, machine) for one in columns],
        most=float(most / known.dear) + EASE,
        nodes=nodes,
    )
    if found is None:
        return None
    plan = known.without_idle([(one, used) for one, used in zip(columns, found, strict=True) if used])
    old = known.best or []
    is_better = _effort(known, plan, machine) < _effort(known, old, machine)
    return (
        plan if is_better and known.cost_of(plan) <= most and known.short_of(plan) <= known.missing else None
    )


def _in_reach(known: Known) -> list[Column]:
    """Return the patterns of the best plan, and those that cost least more than they are worth."""
    solved = known.linear.solve()
    used = {one.key for one, _ in known.best or []}
    excess = {
        one.key: round(price_of(known, one, solved) - worth_of(one, solved.values), 9)
        for one in known.pool.values()
    }
    ranked = sorted(known.pool.values(), key=lambda one: (one.key not in used, excess[one.key], one.key))
    reach = min(max(IN_REACH.start, FOR_A_SIZE * len(known.pieces)), IN_REACH.stop - 1)
    return ranked[: max(reach, len(used))]


def _lifts(known: Known, one: Column, machine: Guillotine | None) -> Lifts:
    """Return how a pattern is cut; without a machine, in one lift, so that patterns are what counts."""
    if machine is None:
        return Lifts(sum(known.demands), 1.0)
    pattern = known.pattern(one, 1)
    minutes = Fraction(minutes_per_lift(pattern.tree, machine)) + A_PATTERN
    return Lifts(machine.sheets_per_lift(pattern.sheet.thickness), float(minutes))


def _effort(known: Known, plan: Uses, machine: Guillotine | None) -> float:
    lifts = [(_lifts(known, one, machine), used) for one, used in plan]
    return sum(-(-used // lift.sheets) * lift.effort for lift, used in lifts)
