"""Lay pieces against each other and into a sheet, and write down the cuts that part them again.

A row is no larger than what it holds, so that waste gathers where the row meets what is around it: few
offcuts, and large ones. `spacing` is what is cut out between two neighbours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from kits.guillotine.sheet import EdgeTrim
from kits.guillotine.tree import Cause, Cut, Direction, Offcut, Part, Piece, divide
from kits.measures import Length

UPRIGHT, LEVEL = Direction.UPRIGHT, Direction.LEVEL


@dataclass(frozen=True, slots=True)
class Grid:
    """Equal pieces in columns and rows. Which way it is cut first is left to what lies around it."""

    piece: Piece
    columns: int
    rows: int
    spacing: Length

    @property
    def width(self) -> Length:
        """From the first piece's left edge to the last one's right edge."""
        return self.columns * (self.piece.width + self.spacing) - self.spacing

    @property
    def height(self) -> Length:
        """From the first piece's top edge to the last one's bottom edge."""
        return self.rows * (self.piece.height + self.spacing) - self.spacing


Item: TypeAlias = Grid | Part


def in_row(direction: Direction, items: Sequence[Item], spacing: Length) -> Item:
    """Return the items laid side by side (upright) or one below the other (level).

    The longest across come first; what the others lack is an offcut beside each.
    """
    if len(items) == 1:
        return items[0]
    ordered = sorted(items, key=lambda item: (-_across(item, direction), -_along(item, direction)))
    size = _across(ordered[0], direction)
    strips = [strip for item in ordered for strip in _filled(item, direction, size, spacing)]
    return _row(direction, strips, spacing)


def into_sheet(item: Item, width: Length, height: Length, spacing: Length) -> Part:
    """Return the item in the top left corner of a sheet, the largest offcut as large as it can be."""
    right, below = width - item.width, height - item.height
    if not right and not below:
        return _row(first := _first_cut(item), _strips(item, first, spacing), spacing)
    if right * height >= below * width:
        return _row(UPRIGHT, [*_filled(item, UPRIGHT, height, spacing), Offcut(right, height)], spacing)
    return _row(LEVEL, [*_filled(item, LEVEL, width, spacing), Offcut(width, below)], spacing)


def trimmed(part: Part, trim: EdgeTrim) -> Part:
    """Return the sheet that is this part once its edges are trimmed: left and right, then top and bottom."""
    return _between(UPRIGHT, trim.left, _between(LEVEL, trim.top, part, trim.bottom), trim.right)


def _between(direction: Direction, before: Length, part: Part, after: Length) -> Part:
    first = [_beside(part, direction, before, Cause.EDGE_TRIM)] if before else []
    last = [_beside(part, direction, after, Cause.EDGE_TRIM)] if after else []
    return _row(direction, [*first, part, *last], 0)


def _first_cut(item: Item) -> Direction:
    if isinstance(item, Grid):  # the fewer parts to handle, the better
        return UPRIGHT if item.columns <= item.rows else LEVEL
    return item.direction if isinstance(item, Cut) else UPRIGHT


def _filled(item: Item, direction: Direction, size: Length, spacing: Length) -> list[Part]:
    """Return the item as strips in a row of that direction, filled up to that size across."""
    lack = size - _across(item, direction)
    if not lack:
        return _strips(item, direction, spacing)
    strips = _strips(item, direction.across, spacing)
    offcut = _beside(strips[0], direction.across, lack, Cause.LEFT_OVER)
    return [_row(direction.across, [*strips, offcut], spacing)]


def _strips(item: Item, direction: Direction, spacing: Length) -> list[Part]:
    """Return the parts of which the item is a row in that direction."""
    if isinstance(item, Grid):
        columns, rows = item.columns, item.rows
        along, across = (columns, rows) if direction is UPRIGHT else (rows, columns)
        return [_row(direction.across, [item.piece] * across, spacing)] * along
    if isinstance(item, Cut) and item.direction is direction:
        return [part for part in item.parts if not (isinstance(part, Offcut) and part.cause is Cause.SPACING)]
    return [item]


def _row(direction: Direction, strips: Sequence[Part], spacing: Length) -> Part:
    row = list(strips[:1])
    for strip in strips[1:]:
        if spacing and not isinstance(strip, Offcut):
            row.append(_beside(strip, direction, spacing, Cause.SPACING))
        row.append(strip)
    return divide(direction, row) if len(row) > 1 else row[0]


def _beside(part: Part, direction: Direction, along: Length, cause: Cause) -> Offcut:
    if direction is UPRIGHT:
        return Offcut(along, part.height, cause)
    return Offcut(part.width, along, cause)


def _along(item: Item, direction: Direction) -> Length:
    return item.width if direction is UPRIGHT else item.height


def _across(item: Item, direction: Direction) -> Length:
    return _along(item, direction.across)
