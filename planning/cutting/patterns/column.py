"""A pattern while it is searched for: what one sheet is cut into, the cuts not written down yet."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from kits.guillotine import Direction, Part, SheetProblem, count_pieces, within
from kits.guillotine.lay import Grid, Item, Row, into_sheet, trimmed
from kits.measures import Length
from planning.cutting.patterns.near import Drawn

Plan: TypeAlias = Item | Part | Drawn
Key: TypeAlias = tuple[int, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Column:
    """A pattern. sheet: number of its sheet. counts: pieces of each size that it yields. plan: how they lie."""

    sheet: int
    counts: tuple[int, ...]
    plan: Plan = field(compare=False)

    @property
    def key(self) -> Key:
        """What makes it the same pattern as another, as far as plans go."""
        return self.sheet, self.counts


def column(sheet: int, plan: Item | Part, numbers: Mapping[str, int]) -> Column:
    """Return the pattern that cuts a plan from a sheet. numbers: of the pieces, by name."""
    counts = [0] * len(numbers)
    for name, count in _yield(plan).items():
        counts[numbers[name]] = count
    return Column(sheet, tuple(counts), plan)


def is_within(plan: Plan, opening: Length, sheet: SheetProblem) -> bool:
    """Whether a plan can be cut with no cut longer than the opening: what is too long is parted across first.

    A piece that is too long itself comes off only where the sheet ends at both its sides.
    """
    if isinstance(plan, Drawn):
        return is_within(plan.item(), opening, sheet)
    if not isinstance(plan, Grid | Row):
        return within(plan, opening) is not None
    if max(plan.width, plan.height) <= opening:
        return True
    tall = plan.height > opening
    if isinstance(plan, Grid):
        along, across = (
            (plan.piece.height, plan.piece.width) if tall else (plan.piece.width, plan.piece.height)
        )
        return along <= opening or across == (sheet.width if tall else sheet.height)
    across_first = Direction.LEVEL if tall else Direction.UPRIGHT
    return plan.direction is across_first and all(is_within(part, opening, sheet) for part in plan.items)


def _yield(plan: Item | Part) -> Mapping[str, int]:
    return _in_items(plan) if isinstance(plan, Grid | Row) else count_pieces(plan)


def _in_items(item: Item) -> Counter[str]:
    total: Counter[str] = Counter()
    waiting = [item]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Grid):
            total[one.piece.name] += one.columns * one.rows
        else:
            waiting.extend(one.items)
    return total


def tree(plan: Plan, sheet: SheetProblem, opening: Length | None = None) -> Part:
    """Return the cuts of a pattern, none longer than the opening if it can be cut so."""
    if isinstance(plan, Drawn):
        return tree(plan.item(), sheet, opening)
    cuts = laid(plan, sheet) if isinstance(plan, Grid | Row) else plan
    return cuts if opening is None else within(cuts, opening) or cuts


def laid(item: Item, sheet: SheetProblem) -> Part:
    """Return a sheet with an item in its corner, trimmed."""
    inside = into_sheet(item, sheet.usable_width, sheet.usable_height, sheet.spacing)
    return trimmed(inside, sheet.edge_trim)
