"""What is known in the course of a search: the patterns found so far, the bound, and the best plan."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from random import Random

from planning.cutting.patterns.bound import Offer, lower_bound, rounded_up, steps_of
from planning.cutting.patterns.column import Column, Key, is_within, tree
from planning.cutting.patterns.pricing import ROOM, Pricing
from planning.cutting.patterns.problem import PatternProblem
from planning.cutting.patterns.programme import LinearProgramme, Needs
from planning.cutting.patterns.result import Pattern, PatternPlan, how_it_ended

CLOSE = Fraction(48, 100_000)  # of the bound: a plan that near is good enough where prices differ
SHORT = 1000.0  # what a sheet's area of pieces that are not made costs, in dearest sheets
FIRST_SHARE = 0.05
FREE = 0.001  # what a sheet without a price counts, in dearest sheets, so that few are used

Uses = list[tuple[Column, int]]


class Known:
    """A problem in numbers and what is known of it. Prices are in dearest sheets, and no proof depends on them."""

    def __init__(self, problem: PatternProblem, sums: int) -> None:
        """sums: about how many of them tables of worths may take in all."""
        self.sums = sums
        self.problem = problem
        self.opening = problem.rules.opening
        self.pieces = problem.asked
        self.demands = [piece.count for piece in self.pieces]
        self.areas = [piece.width * piece.height for piece in self.pieces]
        numbers = {piece.name: number for number, piece in enumerate(self.pieces)}
        self.pricings = [
            Pricing(number, on, numbers, problem.rules.opening)
            for number, sheet in enumerate(problem.sheets)
            if (on := problem.on(sheet)) is not None
        ]
        self.on = {pricing.number: pricing.sheet for pricing in self.pricings}
        self.dear = max(sheet.price for sheet in problem.sheets) or Fraction(1)
        self.step = steps_of([sheet.price for sheet in problem.sheets])
        self.prices = [float(sheet.price / self.dear) or FREE for sheet in problem.sheets]
        self.available = [sheet.available for sheet in problem.sheets]
        self.penalties = self._penalties()
        self.needs = Needs(self.demands, self.prices, self.available, self.penalties)
        self.linear = LinearProgramme(self.needs)
        self.pool: dict[Key, Column] = {}
        self.bound = Fraction(0)
        self.priced_bound = Fraction(0)  # by the values below; that by area alone may be higher
        self.at_bound: list[float] = []
        self.shares = [FIRST_SHARE] * len(problem.sheets)  # of the gap, within which patterns are listed
        self.missing = 0  # area of the pieces that the best plan does not make
        self.cost = Fraction(0)
        self.best: Uses | None = None
        self.random = Random(0)  # noqa: S311
        self._raise_bound_by_area()

    def _penalties(self) -> list[float]:
        """Return what a piece costs that is not made; nothing where all can be made."""
        if None in self.available:
            unlimited = [sheet for sheet in self.problem.sheets if sheet.available is None]
            if all(
                any(sheet in unlimited for sheet in self.problem.sheets_for(piece)) for piece in self.pieces
            ):
                return []
        area = max(sheet.width * sheet.height for sheet in self.problem.sheets)
        return [1 + SHORT * piece / area for piece in self.areas]

    # -- the bound -----------------------------------------------------------------------------------------------

    @property
    def target(self) -> Fraction:
        """What no plan costs less than, as far as is known."""
        return rounded_up(self.bound, self.step)

    @property
    def goal(self) -> Fraction:
        """The cost of a plan that is good enough."""
        return max(self.target, self.bound * (1 + CLOSE) if self.step < self.dear else self.bound)

    @property
    def gap(self) -> float:
        """How much such a plan costs more than the bound."""
        return float((self.goal - self.bound) / self.dear)

    @property
    def is_done(self) -> bool:
        """Whether the best plan is so good that it is not worth while to search on."""
        return self.best is not None and not self.missing and self.cost <= self.goal

    def in_whole_numbers(self, values: Sequence[float]) -> list[int]:
        """Return values in whole numbers as large as there is room for."""
        scale = ROOM / 2 / max(pricing.at_most(values) for pricing in self.pricings)
        return [int(value * scale) for value in values]

    def raise_bound(self, values: Sequence[int], bounds: Sequence[int | None]) -> None:
        """See whether the worth that no pattern of each sheet exceeds at these values proves a higher bound."""
        offers = []
        for pricing, most in zip(self.pricings, bounds, strict=True):
            if most is None:
                return
            sheet = self.problem.sheets[pricing.number]
            offers.append(Offer(most, sheet.price, sheet.available))
        worth = sum(value * demand for value, demand in zip(values, self.demands, strict=True))
        bound = lower_bound(worth, offers)
        self.bound = max(bound, self.bound)
        if bound > self.priced_bound:
            self.priced_bound = bound
            self.at_bound = [float(value * bound / self.dear / worth) for value in values]

    def _raise_bound_by_area(self) -> None:
        offers = [
            Offer(pricing.sheet.usable_width * pricing.sheet.usable_height, sheet.price, sheet.available)
            for pricing in self.pricings
            for sheet in [self.problem.sheets[pricing.number]]
        ]
        area = sum(count * piece for count, piece in zip(self.demands, self.areas, strict=True))
        self.bound = lower_bound(area, offers)

    # -- patterns and plans --------------------------------------------------------------------------------------

    def add(self, columns: Iterable[Column]) -> int:
        """Add patterns that are new; return how many are."""
        new = []
        for one in columns:
            if one.key not in self.pool and self.can_be_cut(one):
                self.pool[one.key] = one
                new.append(one)
        self.linear.add(new)
        return len(new)

    def offer(self, plan: Uses) -> bool:
        """Keep a plan if it is better than the best so far, and can be cut; return whether it is."""
        if not all(self.can_be_cut(one) for one, _ in plan):
            return False
        plan = self.without_idle(plan)
        missing, cost = self.short_of(plan), self.cost_of(plan)
        if self.best is not None and (missing, cost) >= (self.missing, self.cost):
            return False
        self.missing, self.cost, self.best = missing, cost, plan
        return True

    def can_be_cut(self, one: Column) -> bool:
        """Whether no cut of a pattern is longer than the machine opens."""
        return self.opening is None or is_within(one.plan, self.opening, self.on[one.sheet])

    def cost_of(self, plan: Uses) -> Fraction:
        """Return what the sheets of a plan cost."""
        return sum((self.problem.sheets[one.sheet].price * used for one, used in plan), Fraction(0))

    def short_of(self, plan: Uses) -> int:
        """Return the area of the pieces that a plan does not make."""
        short = [max(0, need - has) for need, has in zip(self.demands, self.made(plan), strict=True)]
        return sum(count * area for count, area in zip(short, self.areas, strict=True))

    def made(self, plan: Uses) -> list[int]:
        """Return how many pieces of each size a plan makes."""
        made = [0] * len(self.demands)
        for one, used in plan:
            made = [so_far + used * count for so_far, count in zip(made, one.counts, strict=True)]
        return made

    def without_idle(self, plan: Uses) -> Uses:
        """Return the plan less the sheets that could be left out."""
        made = self.made(plan)
        kept: Uses = []
        for one, used in plan:
            needs = zip(made, self.demands, one.counts, strict=True)
            idle = max(0, min([used, *((has - need) // count for has, need, count in needs if count)]))
            made = [has - idle * count for has, count in zip(made, one.counts, strict=True)]
            if used > idle:
                kept.append((one, used - idle))
        return kept

    def plan(self) -> PatternPlan:
        """Return the best plan so far."""
        return self.plan_of(self.best or [])

    def pattern(self, one: Column, used: int) -> Pattern:
        """Return so many sheets of a pattern, its cuts written down."""
        cuts = tree(one.plan, self.on[one.sheet], self.opening)
        return Pattern(sheet=self.problem.sheets[one.sheet], tree=cuts, count=used)

    def plan_of(self, plan: Uses) -> PatternPlan:
        """Return a plan written down, with what is proved."""
        over = {
            piece.name: made - piece.count for piece, made in zip(self.pieces, self.made(plan), strict=True)
        }
        cost = self.cost_of(plan)
        missing = {name: -count for name, count in over.items() if count < 0}
        return PatternPlan(
            patterns=tuple(
                self.pattern(one, used)
                for one, used in sorted(plan, key=lambda entry: (-entry[1], entry[0].key))
            ),
            cost=cost,
            bound=self.target,
            missing=missing,
            surplus={name: count for name, count in over.items() if count > 0},
            ended=how_it_ended(cost, self.target, missing),
        )
