"""The search for the best schedule, where the crew is too short for the plain one to be that."""

from dataclasses import dataclass

from planning.shipping.fill import settled
from planning.shipping.grid import AIMS, Cost, Filling, Grid

NODES = 100  # of branch and bound: a count, never a time, so that a month gets the same plan on every machine


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
    total = grid.total(filling)
    met = next((aim for aim in AIMS if total[aim] > grid.floor(aim)), len(AIMS))
    if met == len(AIMS):
        return Found(settled(grid, filling), total)
    # Most months end above, and HiGHS takes a fifth of a second to import.
    from planning.shipping.programme import Programme

    programme = Programme(grid, met)
    filling, proved = programme.best(filling, nodes)
    filling = settled(grid, filling)
    return Found(filling, grid.total(filling) if proved else programme.bound(filling))
