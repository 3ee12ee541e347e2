"""What sheets cost while patterns are searched for: a price each, which an order does not have.

An order has breaks and packs, and some sheets lie on the shelf. So each material is offered as up to three sheets: those
that are there, those on order for later, and those to be bought, at the price that an order for a guessed number leads to.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from planning.cutting.fit import question
from planning.cutting.model import PieceJob, SheetStock
from planning.cutting.patterns import ParentSheet, PatternProblem, Rules, Wanted
from planning.cutting.supply import Supply

THERE = Fraction(1, 1000)  # sheets that are there cost nothing more, but are not wasted either
NOBODYS = 50  # sheets that nobody sells cost so many times the dearest for their area

IN_TIME, LATE, SHORT = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Asked:
    """The search's question, and the sheet that each name in it stands for."""

    problem: PatternProblem
    stock: Mapping[str, SheetStock]

    @property
    def materials(self) -> frozenset[str]:
        """The materials sheets are cut from."""
        return frozenset(sheet.material for sheet in self.stock.values())

    def cost(self, sheets: Mapping[str, int]) -> Fraction:
        """Return what so many sheets of each material cost in the question, the cheapest used first."""
        total = Fraction(0)
        for material, count in sheets.items():
            left = count
            for one in sorted(self.problem.sheets, key=lambda parent: parent.price):
                if self.stock[one.name].material == material:
                    used = left if one.available is None else min(left, one.available)
                    total += used * one.price
                    left -= used
        return total


@dataclass(frozen=True, slots=True)
class Parent:
    """A sheet as the search sees it. price: None for one that has none of its own."""

    sheet: SheetStock
    name: str
    price: Fraction | None
    available: int | None
    grade: int

    @property
    def area(self) -> int:
        """Of one sheet."""
        return self.sheet.width * self.sheet.height


def pattern_problem(
    named: Mapping[str, PieceJob],
    sheets: Sequence[SheetStock],
    supplies: Mapping[str, Supply],
    guess: Counter[str],
    opening: int | None = None,
) -> Asked:
    """Return the search's question.

    opening: the longest cut that may be made. guess: how many sheets of each material may be cut. A job is cut from
    sheets that come in time if there are enough for certain; else from late ones too, and from those nobody sells only
    where it must.
    """
    parents = [
        parent
        for sheet in sheets
        for parent in parents_of(
            sheet, supplies.get(sheet.material, Supply(material=sheet.material)), guess[sheet.material]
        )
    ]
    dearest = max((one.price / one.area for one in parents if one.price), default=Fraction(1))
    problem = PatternProblem(
        pieces=tuple(
            Wanted(
                name=label,
                width=job.width,
                height=job.height,
                count=job.wanted,
                direction=job.direction,
                sheets=tuple(one.name for one in within_reach(job, parents)),
            )
            for label, job in named.items()
        ),
        sheets=tuple(as_parent(one, dearest) for one in parents),
        rules=Rules(opening=opening),
    )
    return Asked(problem, {one.name: one.sheet for one in parents})


def parents_of(sheet: SheetStock, supply: Supply, guess: int) -> Iterator[Parent]:
    """Yield the sheets of one material: those there, those on order, and any number of others."""
    there = max(0, supply.in_time - supply.whole)
    coming = max(0, supply.coming - max(0, supply.whole - supply.in_time))
    worth = Fraction(supply.value_each) or None
    if there:
        yield Parent(sheet, f"{sheet.material}, there", worth, there, IN_TIME)
    if coming:
        yield Parent(sheet, f"{sheet.material}, on order", worth, coming, LATE)
    bought = max(1, guess - there - coming)
    order = supply.order(there + coming + bought)
    if order.short:
        yield Parent(sheet, f"{sheet.material}, missing", None, None, SHORT)
    else:
        grade = LATE if supply.is_late else IN_TIME
        each = Fraction(order.cost) / bought
        yield Parent(sheet, f"{sheet.material}, bought", each, None, grade)


def as_parent(one: Parent, dearest: Fraction) -> ParentSheet:
    """Return a sheet with its price. dearest: that of the dearest sheet for its area."""
    price = one.price or one.area * dearest * (NOBODYS if one.grade == SHORT else THERE)
    return ParentSheet(
        name=one.name,
        width=one.sheet.width,
        height=one.sheet.height,
        price=price,
        available=one.available,
        grain=one.sheet.grain,
        edge_trim=one.sheet.edge_trim,
        thickness=one.sheet.thickness,
    )


def within_reach(job: PieceJob, parents: Sequence[Parent]) -> Iterator[Parent]:
    """Yield the sheets a job may be cut from, none worse than it must be."""
    fitting = [one for one in parents if comes_from(job, one.sheet)]
    worst = min((one.grade for one in fitting if one.available is None), default=SHORT)
    return (one for one in fitting if one.grade <= worst)


def comes_from(job: PieceJob, sheet: SheetStock) -> bool:
    """Tell whether a job may be cut from a sheet, and the sheet holds its piece inside its trims."""
    return sheet.material in job.cut_from and question(job.name, job, sheet) is not None
