"""Plans that come of a plan when two of its sheets at a time are cut anew, as well as the two can be."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

from kits.guillotine import Part, count_pieces
from kits.recipe.arrange.bundles import Units, bundled, pairs
from kits.recipe.arrange.many import TASTES, Pieces
from kits.recipe.arrange.plan import Plan, better_plan, is_small, offcut_area
from kits.recipe.arrange.sides import Sides

SELECTIONS_OF_TWO = 512
EFFORT = 70_000  # pairs of selections
LAYING = 5_000  # what it takes to lay the two sheets when they are better, in the same measure
MOST_TRIES = 40


def plans_from(plan: Plan, pieces: Pieces, sides: Sides) -> Iterator[Plan]:
    """Yield the plans that follow from a plan of more than two sheets; the largest offcut never shrinks."""
    anew = _Anew(pieces, sides)
    sheets, waste = plan.sheets, plan.waste
    while len(sheets) > 2 and (new := anew.sheets(sheets)):
        waste -= (len(sheets) - len(new)) * sides.width * sides.height
        sheets = new
        yield Plan(sheets, max(map(offcut_area, sheets)), waste, waste)


class _Anew:
    def __init__(self, pieces: Pieces, sides: Sides) -> None:
        self._unit_of = {unit.name: unit for unit, _ in pieces}
        self._sides = sides
        self._tried: set[frozenset[tuple[str, int]]] = set()
        self._effort = EFFORT

    def sheets(self, sheets: Sequence[Part]) -> tuple[Part, ...]:
        """Return the sheets with two of them in a better way, those with large offcuts first; none if there is none."""
        ordered = sorted(sheets, key=offcut_area, reverse=True)
        for one, other in combinations(range(len(ordered)), 2):
            if new := self._two(ordered[one], ordered[other]):
                return (*ordered[:one], *ordered[one + 1 : other], *ordered[other + 1 :], *new)
        return ()

    def _two(self, *two: Part) -> tuple[Part, ...]:
        wanted: Counter[str] = sum((Counter(count_pieces(sheet)) for sheet in two), Counter())
        key = frozenset(wanted.items())
        if key in self._tried or len(self._tried) == MOST_TRIES:
            return ()
        self._tried.add(key)
        units: Units = tuple((self._unit_of[name], count) for name, count in wanted.items())
        units = bundled(units, self._sides, SELECTIONS_OF_TWO, TASTES[0])
        if not is_small(units, self._sides, SELECTIONS_OF_TWO) or pairs(units) > self._effort:
            return ()
        self._effort -= pairs(units)
        new = better_plan(units, self._sides, len(two), max(map(offcut_area, two)))
        if new is None:
            return ()
        self._effort -= LAYING
        return new.sheets
