"""Jobs that may share a sheet, cut together: patterns of several piece sizes, at what the sheets really cost.

A plan is made at guessed prices of the sheets, and again at those it led to; of several materials each is also tried
without the others, as one larger order may be cheaper than two. The best of these is then searched for thoroughly.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction

from kits.guillotine import NothingToClampError, Part, PieceSize, SheetProblem, best_use, count_pieces
from planning.cutting.lie import turn_for
from planning.cutting.machine import Guillotine
from planning.cutting.model import CuttingProblem, PieceJob, SheetStock
from planning.cutting.parents import Asked, comes_from, pattern_problem
from planning.cutting.patterns import Effort, PatternPlan, choices, plan_patterns
from planning.cutting.result import CuttingTicket
from planning.cutting.supply import Supply
from planning.cutting.tickets import cheapest, ticket

QUICK = Effort(sums=400_000_000, rounds=1, nodes=4, swaps=400, dives=0)
THOROUGH = Effort()  # one sheet: the plan often reaches the bound, and the search ends there
# Several sheets, whose prices leave a gap that no plan closes: the search would go on for nothing.
SOME = Effort(sums=1_500_000_000, rounds=2, nodes=8, swaps=1000, dives=0)
ROUNDS = 2  # of guessed prices
MOST_ALONE = 6  # materials each tried without the others
RELAID = 20_000_000  # sums to lay a pattern so that the machine can hold every strip

Tickets = tuple[CuttingTicket, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Tickets for all jobs of a group. words: what kind of plan.

    asked, bound: what was searched for, and what no plan of its sheets costs less than, at its prices.
    """

    words: str
    tickets: Tickets
    asked: Asked | None = None
    bound: Fraction = Fraction(0)


def together(
    named: Mapping[str, PieceJob],
    problem: CuttingProblem,
    first: Tickets,
    rank: Callable[[Tickets], tuple[object, ...]],
) -> Iterator[Plan]:
    """Yield plans that cut several jobs from one sheet. first: a plan that is known; rank: lower is better."""
    jobs = list(named.values())
    sheets = [sheet for sheet in problem.sheets if any(comes_from(job, sheet) for job in jobs)]
    search = Search(named, {one.material: one for one in problem.supplies}, problem.guillotines)
    best, its_sheets = first, sheets
    for some in some_of(sheets, jobs):
        for found in search.repriced(some, guessed(some, first, jobs)):
            yield found
            if rank(found.tickets) < rank(best):
                best, its_sheets = found.tickets, some
    yield from search.eased(its_sheets, guessed(its_sheets, best, jobs), quick=problem.quick)


def some_of(sheets: list[SheetStock], jobs: Sequence[PieceJob]) -> Iterator[list[SheetStock]]:
    """Yield the sheets to try a plan from: all, and each that every job may be cut from; nothing to try for one alone."""
    if len(sheets) < 2:
        return
    yield sheets
    each = [[sheet] for sheet in sheets if all(comes_from(job, sheet) for job in jobs)]
    yield from each[:MOST_ALONE]


def guessed(sheets: Sequence[SheetStock], known: Tickets, jobs: Sequence[PieceJob]) -> Counter[str]:
    """Guess how many sheets of each material are cut: as in the plan known, else as the area of the pieces has it."""
    guess = sheets_of(known)
    for sheet in sheets:
        if not guess[sheet.material]:
            area = sum(job.wanted * job.width * job.height for job in jobs if comes_from(job, sheet))
            guess[sheet.material] = -(-area // (sheet.width * sheet.height))
    return guess


def sheets_of(tickets: Tickets) -> Counter[str]:
    """Count the sheets of each material."""
    count: Counter[str] = Counter()
    for one in tickets:
        count[one.source] += one.sheets
    return count


@dataclass(frozen=True, slots=True)
class Search:
    """The jobs by label, where sheets come from, and the machines."""

    named: Mapping[str, PieceJob]
    supplies: Mapping[str, Supply]
    machines: tuple[Guillotine, ...]

    @property
    def widest(self) -> Guillotine:
        """The machine that makes the longest cut."""
        return max(self.machines, key=lambda machine: machine.opening)

    def quick(self, sheets: Sequence[SheetStock], guess: Counter[str]) -> Plan | None:
        """Return a plan found in a moment, None where no machine cuts it."""
        asked = self.asked(sheets, guess)
        return self.as_plan("several sizes to a sheet", asked, plan_patterns(asked.problem, QUICK))

    def asked(self, sheets: Sequence[SheetStock], guess: Counter[str]) -> Asked:
        """Return the search's question; what is cut must suit the machine that opens widest."""
        return pattern_problem(self.named, sheets, self.supplies, guess, self.widest.opening)

    def repriced(self, sheets: Sequence[SheetStock], guess: Counter[str]) -> Iterator[Plan]:
        """Yield plans found in a moment, each at the prices that the numbers of sheets in the one before lead to."""
        for _ in range(ROUNDS):
            found = self.quick(sheets, guess)
            if found is None:
                return
            yield found
            if sheets_of(found.tickets) == guess:
                return
            guess = guessed(sheets, found.tickets, list(self.named.values()))

    def eased(self, sheets: Sequence[SheetStock], guess: Counter[str], *, quick: bool) -> Iterator[Plan]:
        """Yield the plan with the cheapest sheets, then dearer ones that take less work."""
        asked = self.asked(sheets, guess)
        effort = QUICK if quick else THOROUGH if len(asked.problem.sheets) == 1 else SOME
        words = "least paper"
        for choice in choices(asked.problem, self.widest, effort):
            if found := self.as_plan(words, asked, choice.plan):
                yield found
            words = "less work"

    def as_plan(self, words: str, asked: Asked, plan: PatternPlan) -> Plan | None:
        """Return the tickets of a plan; None where a pattern is none a machine can cut, or something is missing."""
        counts: Counter[tuple[str, Part]] = Counter()
        sheets = {sheet.material: sheet for sheet in asked.stock.values()}
        for pattern in plan.patterns:
            counts[asked.stock[pattern.sheet.name].material, pattern.tree] += pattern.count
        tickets = [self.ticket(sheets[code], tree, count) for (code, tree), count in counts.items()]
        found = tuple(one for one in tickets if one)
        if plan.missing or len(found) < len(tickets):
            return None
        return Plan(words, found, asked, plan.bound)

    def ticket(self, sheet: SheetStock, tree: Part, sheets: int) -> CuttingTicket | None:
        """Return the ticket of the machine that suits a pattern best."""
        return cheapest(
            ticket(sheet, suited, sheets, machine, self.named)
            for machine in self.machines
            for suited in [suit(tree, sheet, machine, self.named)]
            if suited
        )


def suit(tree: Part, sheet: SheetStock, machine: Guillotine, named: Mapping[str, PieceJob]) -> Part | None:
    """Return a pattern as a machine cuts it: no cut too long, and if that can be found, no strip too narrow."""
    suited = machine.suited(tree)
    if suited is not None and machine.too_narrow(suited) is None:
        return suited
    with suppress(NothingToClampError):
        held = machine.suited(best_use(held_question(tree, sheet, machine, named), RELAID).tree)
        if held and count_pieces(held) == count_pieces(tree) and machine.too_narrow(held) is None:
            return held
    return suited


def held_question(
    tree: Part, sheet: SheetStock, machine: Guillotine, named: Mapping[str, PieceJob]
) -> SheetProblem:
    """Ask for the same pieces of a pattern in a place where the machine can hold every strip."""
    pieces = tuple(
        PieceSize(label, named[label].width, named[label].height, turn=lies, limit=count)
        for label, count in count_pieces(tree).items()
        if (lies := turn_for(named[label].direction, sheet.grain))
    )
    return SheetProblem(
        sheet.width, sheet.height, pieces, sheet.edge_trim, smallest_strip=machine.smallest_strip
    )
