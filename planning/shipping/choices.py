"""What may be chosen for a box of a lot: a stretch of columns that cost it the same or less, wherever in it there is room.

Time runs through the days; a box has its stretch of it, and no stretch of time takes more work than it has. For work that
may be parted that is all there is to ask (Hall's condition for jobs with releases and deadlines), so a schedule of 2,000
classes is a choice for each and a few hundred sums of work.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planning.shipping.grid import Cost, Grid, Lot

Window = tuple[int, int]  # the first and the last column; of no day both are the column of that


@dataclass(frozen=True, slots=True)
class Choice:
    """Boxes of a lot at a cost, in any column of a window."""

    lot: int
    cost: Cost
    window: Window


@dataclass(frozen=True, slots=True)
class Stretch:
    """The columns from the beginning of a day to the end of one of them, and the windows that lie in it."""

    first: int
    last: int
    windows: tuple[Window, ...]


@dataclass(frozen=True, slots=True)
class Decided:
    """Boxes of each choice, each day's overtime in steps, and for each aim a bound.

    bound: what no schedule as good by the aims before costs less than.
    """

    boxes: tuple[int, ...]
    overtime: tuple[int, ...]
    bound: Cost


def wide_choices(grid: Grid) -> tuple[Choice, ...]:
    """Return a choice for each cost a lot may have: all columns that cost no more."""
    return tuple(
        Choice(number, cost, window)
        for number, lot in enumerate(grid.lots)
        for cost, window in windows_of(grid, lot)
    )


def windows_of(grid: Grid, lot: Lot) -> Iterator[tuple[Cost, Window]]:
    """Yield each cost of a lot with the columns in which it costs that or less."""
    for cost, column in lot.lasts:
        yield cost, (lot.columns[0], column)
    yield lot.cost(grid.nowhere), (grid.nowhere, grid.nowhere)


def narrow_choices(grid: Grid) -> tuple[Choice, ...]:
    """Return a choice for each column a lot may stand in."""
    return tuple(
        Choice(number, lot.cost(column), (column, column))
        for number, lot in enumerate(grid.lots)
        for column in lot.columns
    )


def stretches(grid: Grid, choices: Sequence[Choice]) -> Iterator[Stretch]:
    """Yield every stretch of time that may be asked for too much work by windows that lie in it."""
    windows = sorted({one.window for one in choices if one.window[0] != grid.nowhere})
    begins = {window: grid.days[grid.day_of[window[0]]].first for window in windows}
    single = all(window[0] == window[1] for window in windows)
    for first in sorted(set(begins.values())):
        for last in ends_of(grid, windows):
            inside = tuple(one for one in windows if begins[one] >= first and one[1] <= last)
            if inside and (not single or grid.days[grid.day_of[last]].first == first):
                yield Stretch(first, last, inside)


def ends_of(grid: Grid, windows: Sequence[Window]) -> list[int]:
    """Return the columns in which windows end, and the ends of their days, where overtime is counted."""
    ends = {window[1] for window in windows}
    return sorted(ends | {grid.days[grid.day_of[column]].last for column in ends})
