"""A parcel just over a thickness or a weight, and the single changes that would bring it under.

Each change is tried with every carton on the list; what is told of paper is rounded down to what a label can say.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

from kits.measures import MM, format_caliper, format_weight
from planning.packing.cartons.model import (
    Carton,
    CartonsProblem,
    Cure,
    JustOver,
    PackedParcel,
    PostLimit,
    Remedy,
)
from planning.packing.cartons.room import best_carton, heaviest, needed, outside
from planning.packing.items import PackItem, PackLine

Lines = tuple[PackLine, ...]
FINEST_CALIPER = Fraction(MM, 1000)
FINEST_WEIGHT = Fraction(1, 10)


def just_over(parcel: PackedParcel, problem: CartonsProblem) -> Iterator[JustOver]:
    """Yield the limits that a parcel is beyond, and by so little that a change may help."""
    for limit in problem.limits:
        thick, heavy = beyond(parcel.outside, parcel.heaviest, limit)
        if (thick or heavy) and is_near(thick, heavy, limit, Fraction(problem.near)):
            yield JustOver(
                limit=limit,
                over=(thick, heavy),
                only_if_heavy=not any(beyond(parcel.outside, parcel.weight, limit)),
                cures=tuple(Cures(parcel, problem, limit).all()),
            )


def beyond(sides: tuple[int, int, int], grams: Fraction, limit: PostLimit) -> tuple[int, Fraction]:
    """Return thickness and grams beyond a limit."""
    thick = 0 if limit.thickness is None else max(0, min(sides) - limit.thickness)
    heavy = Fraction(0) if limit.weight is None else max(Fraction(0), grams - limit.weight)
    return thick, heavy


def is_near(thick: int, heavy: Fraction, limit: PostLimit, percent: Fraction) -> bool:
    """Tell whether all that is beyond is so by at most this many percent of the limit."""
    return 100 * thick <= percent * (limit.thickness or 0) and 100 * heavy <= percent * (limit.weight or 0)


@dataclass(frozen=True, slots=True)
class Cures:
    """The changes that may help one parcel with one limit."""

    parcel: PackedParcel
    problem: CartonsProblem
    limit: PostLimit

    def all(self) -> Iterator[Cure]:
        """Yield every kind of change that brings the parcel under, each in its own carton where another alone does."""
        lines, other = self.parcel.lines, self.under(self.parcel.lines)
        yield from self.told(Remedy.CARTON, other)
        for cure in self.of_items(lines):
            if other is None or cure.carton == self.parcel.carton.container.item:
                yield cure

    def of_items(self, lines: Lines) -> Iterator[Cure]:
        """Yield the changes of an item, in the parcel's own carton or another."""
        for line in (one for one in lines if not one.item.packaging):
            yield from self.fewer(line)
            if line.item.paper:
                yield from self.thinner(line)
                yield from self.lighter(line)

    def told(
        self,
        remedy: Remedy,
        carton: Carton | None,
        words: str = "",
        line: PackLine | None = None,
        amount: Fraction = Fraction(0),
        less: PackItem | None = None,
    ) -> Iterator[Cure]:
        """Yield a change that helps, with the carton where it is another one. less: what all items of a line lose."""
        if carton is not None:
            other = () if carton == self.parcel.carton else (f"pack it in {carton.container.name}",)
            said = " and ".join((*((words,) if words else ()), *other))
            yield Cure(
                remedy=remedy,
                carton=carton.container.item,
                item=line.item.item if line else "",
                amount=amount,
                words=said,
                loss=self.measured(less) if less else Fraction(0),
            )

    def measured(self, less: PackItem) -> Fraction:
        """Return what is lost, in the height of the stack where that is over, else in grams."""
        thick, _ = beyond(self.parcel.outside, self.parcel.heaviest, self.limit)
        return less.thickness if thick else less.weight

    def under(self, lines: Lines) -> Carton | None:
        """Return the best carton in which contents keep the limit: the parcel's own if it does."""
        wanted = needed(lines, self.problem.weight_tolerance)
        kept = [
            one
            for one in self.problem.cartons
            if not any(beyond(outside(one, wanted.stack), wanted.grams + one.container.weight, self.limit))
        ]
        if self.parcel.carton in kept and wanted.fits(self.parcel.carton, self.problem.clearance):
            return self.parcel.carton
        return best_carton(wanted, kept, self.problem.clearance)

    def fewer(self, line: PackLine) -> Iterator[Cure]:
        """Yield how few items of a line to take out, where that alone is enough."""
        for out in range(1, line.count + 1):
            carton = self.under(self.less(line, line.count - out))
            if carton is not None:
                words = f"take out {out} of {line.item.name}"
                gone = times(line.item, out)
                yield from self.told(Remedy.FEWER, carton, words, line, Fraction(out), gone)
                return

    def less(self, line: PackLine, count: int) -> Lines:
        """Return the lines with another count in one of them."""
        changed = (replace(one, count=count) if one is line else one for one in self.parcel.lines)
        return tuple(one for one in changed if one.count)

    def thinner(self, line: PackLine) -> Iterator[Cure]:
        """Yield how thick a sheet of a line may be at most."""
        rest = needed(self.less(line, 0), self.problem.weight_tolerance).stack
        rooms = [(self.allowed_stack(one) - rest) / line.count for one in self.problem.cartons]
        for most in steps_down(rooms, line.item.thickness, FINEST_CALIPER):
            carton = self.under(self.other_paper(line, replace(line.item, thickness=most)))
            if carton is not None:
                words = f"{line.item.name} no thicker than {format_caliper(most)} a sheet"
                gone = times(
                    replace(line.item, thickness=line.item.thickness - most, weight=Fraction(0)), line.count
                )
                yield from self.told(Remedy.THINNER, carton, words, line, most, gone)
                return

    def lighter(self, line: PackLine) -> Iterator[Cure]:
        """Yield what a sheet of a line may weigh at most by its nominal weight."""
        if self.limit.weight is None:
            return
        tolerance = self.problem.weight_tolerance
        share = heaviest(replace(line.item, weight=Fraction(1)), tolerance) * line.count
        room = self.limit.weight - needed(self.less(line, 0), tolerance).grams
        rooms = [(room - one.container.weight) / share for one in self.problem.cartons]
        for most in steps_down(rooms, line.item.weight, FINEST_WEIGHT):
            carton = self.under(self.other_paper(line, replace(line.item, weight=most)))
            if carton is not None:
                words = f"{line.item.name} no heavier than {format_weight(most)} a sheet"
                gone = times(replace(line.item, weight=line.item.weight - most), line.count)
                yield from self.told(Remedy.LIGHTER, carton, words, line, most, gone)
                return

    def other_paper(self, line: PackLine, item: PackItem) -> Lines:
        """Return the lines with one of them of another paper."""
        return tuple(replace(one, item=item) if one is line else one for one in self.parcel.lines)

    def allowed_stack(self, carton: Carton) -> Fraction:
        """Return the highest stack with which a carton keeps the thickness; it may be less than nothing."""
        depth = carton.container.inside[2]
        if self.limit.thickness is None or not carton.soft:
            return Fraction(depth)
        return Fraction(min(depth, self.limit.thickness - carton.walls))


def times(item: PackItem, count: int) -> PackItem:
    """Return so many of an item as one."""
    return replace(item, weight=item.weight * count, thickness=item.thickness * count)


def steps_down(rooms: list[Fraction], now: Fraction, step: Fraction) -> list[Fraction]:
    """Return the figures below today's that are worth a try, in whole steps, the largest first.

    Less than half is no paper to put in its place: a judgement, no source.
    """
    whole = {floor(room / step) * step for room in rooms}
    return sorted((one for one in whole if now <= 2 * one < 2 * now), reverse=True)
