"""Sheets bought in their own size or cut from larger ones: decided by what all orders and the knife then cost.

A larger sheet may be wanted for other things too, share an order's freight with others and reach a price break only with
them. So each way is judged by the orders for the whole month, and while the ways are few, all of them together are tried.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from itertools import product
from math import prod
from typing import TypeAlias

from planning.buying.choose import plan_buying
from planning.buying.model import BuyingProblem, BuyingResult, Need

MOST_TRIED = (
    2_000  # needs times ways together that are all tried; of more, one is changed at a time while it pays
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Larger:
    """A way to have a sheet: cut from a larger one.

    out: sheets of `material` that one of `parent` yields. sheets_per_lift, cost_per_lift: at the guillotine. need_by: the
    day the larger sheets must be in.
    """

    material: str
    parent: str
    out: int
    sheets_per_lift: int = 1
    cost_per_lift: Decimal = Decimal(0)
    need_by: date

    def sheets(self, units: int) -> int:
        """Return how many larger sheets so many units take."""
        return -(-units // self.out)

    def knife(self, units: int) -> Decimal:
        """Return what cutting so many units costs at the guillotine."""
        return -(-self.sheets(units) // self.sheets_per_lift) * self.cost_per_lift


@dataclass(frozen=True, slots=True, kw_only=True)
class LargerProblem:
    """What is to be bought if no sheet is cut from a larger one, and the ways to cut some."""

    buying: BuyingProblem
    ways: tuple[Larger, ...] = ()


Ways: TypeAlias = Mapping[str, Larger | None]
"""Which way each material is had that may be cut: None for in its own size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnOrLarger:
    """Both totals of one material that may be cut: all orders and the knife, everything else as it is decided.

    units: that lack. parent, sheets: the larger sheet that costs least, and how many of it. taken: it is cut.
    """

    material: str
    name: str
    units: int
    own: Decimal
    cut: Decimal
    parent: str
    sheets: int
    taken: bool
    worse: str = ""

    @property
    def saves(self) -> Decimal:
        """What the way that is taken saves against the other."""
        return self.own - self.cut if self.taken else self.cut - self.own


@dataclass(frozen=True, slots=True, kw_only=True)
class LargerResult:
    """The ways taken, and for each material that may be cut both totals. ended: what is proved, in words."""

    taken: tuple[Larger, ...] = ()
    choices: tuple[OwnOrLarger, ...] = ()
    ended: str = "no sheet that lacks may be cut from a larger one"

    def units_of(self, material: str) -> int:
        """Return how many units of a material lack."""
        return sum(one.units for one in self.choices if one.material == material)


class Trials:
    """The orders of a month for different ways to have its sheets, each worked out once."""

    def __init__(self, problem: BuyingProblem, ways: Sequence[Larger]) -> None:
        self.problem = problem
        self.lacking = {line.need.material: line.net for line in plan_buying(problem).lines}
        self.ways: dict[str, list[Larger | None]] = {}
        for way in ways:
            if self.lacking.get(way.material):
                self.ways.setdefault(way.material, [None]).append(way)
        self.known: dict[tuple[Larger | None, ...], BuyingResult] = {}

    @cached_property
    def own(self) -> Ways:
        """Everything in its own size."""
        return dict.fromkeys(self.ways)

    def orders(self, ways: Ways) -> BuyingResult:
        """Return the orders for some ways."""
        key = tuple(ways[material] for material in self.ways)
        if key not in self.known:
            cut = {way: self.lacking[way.material] for way in key if way is not None}
            self.known[key] = plan_buying(with_larger(self.problem, cut))
        return self.known[key]

    def total(self, ways: Ways) -> Decimal:
        """Return what all orders and the knife cost, less the worth of what is left over."""
        knife = (way.knife(self.lacking[way.material]) for way in ways.values() if way is not None)
        return sum(knife, self.orders(ways).counted)

    def rank(self, ways: Ways) -> tuple[int, int, Decimal, int]:
        """Rank ways: fewest materials short, then fewest late, then the least cost, then the fewest cut."""
        orders = self.orders(ways)
        cut = sum(way is not None for way in ways.values())
        return len(orders.short), len(orders.late), self.total(ways), cut


def decide_larger(problem: LargerProblem) -> LargerResult:
    """Choose which sheets are cut from larger ones."""
    if not problem.ways:
        return LargerResult()
    trials = Trials(problem.buying, problem.ways)
    if not trials.ways:
        return LargerResult()
    every = prod(map(len, trials.ways.values()))
    are_few = every * len(problem.buying.needs) <= MOST_TRIED
    best = min(combinations(trials), key=trials.rank) if are_few else descended(trials)
    ended = (
        f"proved: all {every:,} ways to buy or cut these sheets are compared"
        if are_few
        else "no sheet had the other way alone would make all orders cheaper"
    )
    return LargerResult(
        taken=tuple(way for way in best.values() if way is not None),
        choices=tuple(both_totals(trials, best)),
        ended=ended,
    )


def combinations(trials: Trials) -> Iterator[Ways]:
    """Yield all ways together, everything in its own size first."""
    for chosen in product(*trials.ways.values()):
        yield dict(zip(trials.ways, chosen, strict=True))


def descended(trials: Trials) -> Ways:
    """Change one material's way at a time, the one that gains most, for as long as any gains."""
    best = trials.own
    while True:
        others = [
            {**best, material: way}
            for material, ways in trials.ways.items()
            for way in ways
            if way != best[material]
        ]
        better = min(others, key=trials.rank)
        if trials.rank(better) >= trials.rank(best):
            return best
        best = better


def both_totals(trials: Trials, best: Ways) -> Iterator[OwnOrLarger]:
    """Yield what each material comes to in its own size and cut, everything else as it is decided."""
    names = {need.material: need.name for need in trials.problem.needs}
    for material, ways in trials.ways.items():
        own = {**best, material: None}
        cut = min(({**best, material: way} for way in ways if way is not None), key=trials.rank)
        way, units = cut[material], trials.lacking[material]
        if way is None:
            continue
        yield OwnOrLarger(
            material=material,
            name=names[material],
            units=units,
            own=trials.total(own),
            cut=trials.total(cut),
            parent=names[way.parent],
            sheets=way.sheets(units),
            taken=best[material] is not None,
            worse=what_is_worse(trials, *((own, cut) if best[material] is not None else (cut, own))),
        )


def what_is_worse(trials: Trials, other: Ways, taken: Ways) -> str:
    """Say what the way that is not taken lacks besides money: something short, or late."""
    for words, place in (("short", 0), ("late", 1)):
        if trials.rank(other)[place] > trials.rank(taken)[place]:
            return words
    return ""


def with_larger(problem: BuyingProblem, cut: Mapping[Larger, int]) -> BuyingProblem:
    """Return a problem in which some units are cut from larger sheets, which are then needed instead."""
    return replace(problem, needs=tuple(need_with(need, cut) for need in problem.needs))


def need_with(need: Need, cut: Mapping[Larger, int]) -> Need:
    """Return a need less what is cut for it, and with the sheets that are cut of it."""
    for way, units in cut.items():
        if way.material == need.material:
            need = replace(need, cut=need.cut + way.sheets(units) * way.out)
        if way.parent == need.material:
            sheets = need.in_cutting + way.sheets(units)
            need = replace(need, in_cutting=sheets, need_by=min(need.need_by, way.need_by))
    return need
