"""Room for the last boxes: where odd minutes are left on several days, boxes change places until they are left on one.

A box goes to the other's column only where it costs no more, so nothing but the odd minutes moves.
"""

from bisect import bisect_left
from collections.abc import Iterable

from planning.shipping.fill import Sheet, Wanted
from planning.shipping.grid import Cost

FEW = 60  # boxes for which room is made; where more are left over, something else is the matter
MOVES = 30  # exchanges for one box in one column

Exchange = tuple[
    int, int, int, int
]  # steps won, the other column, the lot that goes there, the lot that comes or -1


def mend(sheet: Sheet, wanted: Iterable[Wanted]) -> None:
    """Find room for boxes of lots that have none yet, in columns that cost no more than a given one of each."""
    left = [[lot, last, min(boxes, sheet.left[lot])] for lot, last, boxes in wanted]
    if sum(boxes for _, _, boxes in left) > FEW:
        return
    for lot, last, boxes in left:
        for _ in range(boxes):
            if not squeezed_in(sheet, lot, sheet.grid.lots[lot].cost(last)):
                break


def squeezed_in(sheet: Sheet, place: int, limit: Cost) -> bool:
    """Make room for one box, and pack it; tell whether there was any to make."""
    lot = sheet.grid.lots[place]
    columns = [column for column in lot.columns[:-1] if lot.cost(column) <= limit]
    for column in sorted(columns, key=lambda one: (-sheet.free(one), -one)):
        if with_room(sheet, column, lot.steps):
            return sheet.put(place, column, 1) == 1
    return False


def with_room(sheet: Sheet, column: int, steps: int) -> bool:
    """Let boxes of a column change places with others' until it has so many steps free."""
    for _ in range(MOVES):
        need = steps - sheet.free(column)
        if need <= 0:
            return True
        won, other, goes, comes = max(
            (best_exchange(sheet, column, one, need) for one in others(sheet, column)),
            default=(0, 0, 0, 0),
        )
        if not won:
            return False
        move(sheet, goes, column, other)
        if comes >= 0:
            move(sheet, comes, other, column)
    return False


def others(sheet: Sheet, column: int) -> list[int]:
    """Return the columns of other days that have steps free."""
    day_of = sheet.grid.day_of
    return [one for one in range(sheet.grid.nowhere) if day_of[one] != day_of[column] and sheet.free(one) > 0]


def best_exchange(sheet: Sheet, column: int, other: int, need: int) -> Exchange:
    """Return the exchange with another column that wins most of the steps needed."""
    most = min(need, sheet.free(other))
    coming = sorted(movable(sheet, other, column))
    sizes = [steps for steps, _ in coming]
    best: Exchange = (0, other, 0, -1)
    for steps, goes in movable(sheet, column, other):
        if steps <= most:
            best = max(best, (steps, other, goes, -1))
        at = bisect_left(sizes, steps - most)
        if at < len(sizes) and sizes[at] < steps:
            best = max(best, (steps - sizes[at], other, goes, coming[at][1]))
    return best


def movable(sheet: Sheet, column: int, other: int) -> list[tuple[int, int]]:
    """Return the steps and the lots of boxes of a column that may stand in another and cost no more there."""
    found = []
    for place, lot in enumerate(sheet.grid.lots):
        there = lot.costs[other]
        if lot.steps and sheet.rows[place][column] and there is not None and there <= lot.cost(column):
            found.append((lot.steps, place))
    return found


def move(sheet: Sheet, place: int, column: int, other: int) -> None:
    """Move a box of a lot from a column to another."""
    steps = sheet.grid.lots[place].steps
    for at, boxes in ((column, -1), (other, 1)):
        sheet.rows[place][at] += boxes
        sheet.used[at] += boxes * steps
