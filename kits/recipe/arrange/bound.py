"""How many sheets are needed at least, where not every selection can be looked at."""

from collections.abc import Sequence

from kits.guillotine import PieceSize, SheetProblem, SheetResult, Turn, best_use
from kits.recipe.arrange.bundles import Units, pairs, selections
from kits.recipe.arrange.lattice import Lattice, fewest_sheets
from kits.recipe.arrange.problem import ArrangeProblem, PieceToCut
from kits.recipe.arrange.sides import Sides

EFFORT = 15_000_000  # sums for each look at one sheet
FEW = 300  # selections
MOST_PAIRS = 20_000


def area_bound(problem: ArrangeProblem) -> int:
    """Return the sheets that the area of the pieces alone asks for."""
    wanted = sum(piece.width * piece.height * piece.count for piece in problem.pieces)
    return -(-wanted // (problem.width * problem.height))


def sheet_bound(problem: ArrangeProblem) -> int:
    """Return the largest bound of several.

    One sheet holds no more area of these pieces, and no more of the larger ones, than the best use of a sheet with
    any number of each; and a few of the largest need as many sheets as trying all their selections says.
    """
    sizes = sorted({piece.width * piece.height for piece in problem.pieces}, reverse=True)
    most_area = _most(problem, problem.pieces, by_area=True)
    wanted = sum(piece.width * piece.height * piece.count for piece in problem.pieces)
    bounds = [area_bound(problem), -(-wanted // most_area)]
    for least in sizes:
        larger = [piece for piece in problem.pieces if piece.width * piece.height >= least]
        bounds.append(-(-sum(piece.count for piece in larger) // _most(problem, larger, by_area=False)))
    return max(bounds)


def _most(problem: ArrangeProblem, pieces: Sequence[PieceToCut], *, by_area: bool) -> int:
    listed = tuple(
        PieceSize(
            piece.name,
            piece.width,
            piece.height,
            None if by_area else 1,
            Turn.FREE if piece.turn else Turn.NONE,
        )
        for piece in pieces
    )
    result: SheetResult = best_use(SheetProblem(problem.width, problem.height, listed), EFFORT)
    return result.bound


def bound_of_largest(units: Units, sides: Sides) -> int:
    """Return how many sheets the largest units need of which all selections can be looked at."""
    some: Units = ()
    for unit, count in sorted(units, key=lambda each: -each[0].area):
        more = (*some, (unit, count))
        if selections(more) <= FEW and pairs(more) <= MOST_PAIRS:
            some = more
    lattice = Lattice(some, sides)
    return int(fewest_sheets(lattice)[lattice.full])
