"""The earlier answers, indexed for costing, and how an amount is spread over the columns of the table."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from kits.measures import format_amount, round_money, split
from planning.buying import BuyLine, Purchase
from planning.cost.headings import Heading
from planning.cost.model import CostEntry, CostProblem
from planning.cutting import CuttingTicket, LengthTicket
from planning.requirements import Kind, item

Ticket = CuttingTicket | LengthTicket
Weights = Mapping[str, int | Fraction]


class Books:
    """The earlier answers, indexed for costing."""

    def __init__(self, problem: CostProblem) -> None:
        self.problem = problem
        self.exponent = problem.exponent
        self.facts = {one.item: one for one in problem.facts}
        self.used = self._used_by_column()
        self.spare = problem.cutting.spare
        self.tickets: defaultdict[str, list[Ticket]] = defaultdict(list)
        for ticket in problem.cutting.all:
            self.tickets[item(Kind.MATERIAL, ticket.source)].append(ticket)

    def _used_by_column(self) -> defaultdict[str, Counter[str]]:
        columns = dict(self.problem.columns)
        used: defaultdict[str, Counter[str]] = defaultdict(Counter)
        for use in self.problem.requirements.uses:
            used[use.item][columns[use.demand]] += use.count
        return used

    def users_of(self, material: str) -> Weights:
        """Weigh the columns by how much of a material they use, whole and through what is cut from it."""
        weights: defaultdict[str, Fraction] = defaultdict(Fraction)
        for column, count in self.used[material].items():
            weights[column] += count
        for ticket in self.tickets[material]:
            areas = ticket.areas
            for name, area in areas.items():
                share = Fraction(ticket.units * area, sum(areas.values()))
                users = self.users_of(name)
                for column, part in users.items():
                    weights[column] += share * Fraction(part) / Fraction(sum(users.values()))
        return weights

    def spread(
        self, heading: Heading, what: str, amount: Decimal, weights: Weights, why: str = ""
    ) -> Iterator[CostEntry]:
        """Yield an amount's entries, split over columns by weight. why: where the amount comes from, in words."""
        if not amount:
            return
        names = sorted(column for column, weight in weights.items() if weight)
        total = sum(Fraction(weights[name]) for name in names)
        whole = f"{format_amount(amount, self.exponent)}{f' ({why})' if why else ''}"
        for column, part in zip(
            names, split(amount, [weights[name] for name in names], self.exponent), strict=True
        ):
            share = f" × {shown(weights[column])} of {shown(total)}" if len(names) > 1 else ""
            yield CostEntry(heading=heading, what=what, column=column, amount=part, sum=f"{whole}{share}")


def shown(weight: int | Fraction) -> str:
    """Return a weight as people read it, to two decimals."""
    return format_amount(round_money(weight), 0)


def key(line: BuyLine | Purchase) -> str:
    """Return the bill's name for a line's material."""
    return item(Kind.MATERIAL, line.need.material)
