"""The search for the best schedule, where the crew is too short for the plain one to be that."""

from collections import defaultdict
from dataclasses import dataclass

from planning.shipping.choices import Choice, Decided, narrow_choices, wide_choices
from planning.shipping.fill import Sheet, cheapest_first, settled
from planning.shipping.grid import AIMS, MONEY, Cost, Filling, Grid
from planning.shipping.mend import mend

NODES = (
    2_000  # of branch and bound: a count, never a time, so that a month gets the same plan on every machine
)
SPARE = (1, 2, 4, 8)  # boxes whose time is kept free where odd minutes leave no room, tried in turn
SMALL = 1_500  # places of boxes up to which each column is decided on by itself


@dataclass(frozen=True, slots=True)
class Found:
    """A filling, and for each aim a bound: none that is as good by the aims before it costs less."""

    filling: Filling
    bound: Cost


def plain(grid: Grid, filling: Filling) -> Found:
    """Return the filling given, its boxes as late as that costs nothing, beside what none costs less than."""
    first, second, third = (grid.floor(aim) for aim in AIMS)
    return Found(settled(grid, filling), (first, second, third))


def search(grid: Grid, filling: Filling, nodes: int = NODES) -> Found:
    """Return a filling no worse than the one given. There is nothing to search where each box stands at its best."""
    found = plain(grid, filling)
    if is_best(grid, found):
        return found
    # Most months end above, and HiGHS takes a fifth of a second to import.
    from planning.shipping.programme import Programme

    programme = Programme(grid, wide := wide_choices(grid))
    decided = programme.decide(nodes)
    for spare in (*SPARE, 0):
        if decided is None:
            break
        found = better(grid, found, laid_out(grid, wide, decided), decided.bound)
        if not spare or grid.total(found.filling)[:MONEY] == found.bound[:MONEY]:
            break  # what more time kept free would find costs more
        decided = programme.with_spare(decided, spare, nodes)
    narrow = () if is_best(grid, found) else narrow_choices(grid)
    if 0 < len(narrow) <= SMALL and (decided := Programme(grid, narrow).decide(nodes)):
        found = better(grid, found, each_in_its_column(grid, narrow, decided), decided.bound)
    return found


def better(grid: Grid, found: Found, filling: Filling, bound: Cost) -> Found:
    """Return the better of two fillings, with the higher of two bounds."""
    best = min(found.filling, settled(grid, filling), key=grid.total)
    return Found(best, honest(grid, grid.total(best), max(found.bound, bound)))


def honest(grid: Grid, total: Cost, bound: Cost) -> Cost:
    """Return a bound that holds for schedules as good as the one found: by an aim only where those before are met."""
    told = [grid.floor(aim) for aim in AIMS]
    for aim in AIMS:
        told[aim] = min(bound[aim], total[aim])
        if told[aim] < total[aim]:
            break
    return told[0], told[1], told[2]


def is_best(grid: Grid, found: Found) -> bool:
    """Tell whether a filling is proved to be the best."""
    total = grid.total(found.filling)
    return total[:MONEY] == found.bound[:MONEY] and total[MONEY] - found.bound[MONEY] <= grid.dust


def laid_out(grid: Grid, choices: tuple[Choice, ...], decided: Decided) -> Filling:
    """Lay the boxes of each choice out on the days, as late as their windows let them; where they find no room, anywhere."""
    wanted: defaultdict[tuple[int, int], int] = defaultdict(int)
    for choice, count in zip(choices, decided.boxes, strict=True):
        if count and choice.window[1] != grid.nowhere:
            wanted[choice.lot, choice.window[1]] += count
    sheet = Sheet(grid, decided.overtime)
    asked = [(lot, last, count) for (lot, last), count in wanted.items()]
    mend(sheet, sheet.fill_back(asked))
    return sheet.finished(cheapest_first)


def each_in_its_column(grid: Grid, choices: tuple[Choice, ...], decided: Decided) -> Filling:
    """Return the filling that was decided on column by column."""
    rows = [[0] * (grid.nowhere + 1) for _ in grid.lots]
    for choice, count in zip(choices, decided.boxes, strict=True):
        rows[choice.lot][choice.window[1]] += count
    return tuple(map(tuple, rows))
