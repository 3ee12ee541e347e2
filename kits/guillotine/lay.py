"""Lay pieces against each other and into a sheet, and write down the cuts that part them again.

A row is no larger than what it holds, so that waste gathers where the row meets what is around it: few
offcuts, and large ones. `spacing` is what is cut out between two neighbours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

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
    width: Length
    height: Length


@dataclass(frozen=True, slots=True)
class Row:
    """Items side by side (upright) or one below the other (level), the longest across first."""

    direction: Direction
    items: tuple["Item", ...]
    width: Length
    height: Length


Item: TypeAlias = Grid | Row


class _Room(NamedTuple):
    """Where an item goes, which is no smaller than the item. within: the direction of the row it is part of."""

    item: Item
    width: Length
    height: Length
    within: Direction | None


def grid(piece: Piece, columns: int, rows: int, spacing: Length) -> Grid:
    """Return equal pieces in columns and rows."""
    width = columns * (piece.width + spacing) - spacing
    return Grid(piece, columns, rows, width, rows * (piece.height + spacing) - spacing)


def row(direction: Direction, items: Sequence[Item], spacing: Length) -> Item:
    """Return the items in a row; one alone is no row."""
    if len(items) == 1:
        return items[0]
    ordered = sorted(items, key=lambda item: (-_across(item, direction), -_along(item, direction)))
    along = sum(_along(item, direction) + spacing for item in items) - spacing
    across = _across(ordered[0], direction)
    width, height = (along, across) if direction is UPRIGHT else (across, along)
    return Row(direction, tuple(ordered), width, height)


def flat(direction: Direction, items: Sequence[Item]) -> list[Item]:
    """Return items with the rows among them that run the same way taken apart."""
    return [
        each
        for item in items
        for each in (item.items if isinstance(item, Row) and item.direction is direction else (item,))
    ]


def into_sheet(item: Item, width: Length, height: Length, spacing: Length) -> Part:
    """Return the cut sheet with the item in its top left corner, the largest offcut as large as it can be."""
    rooms = [_Room(item, width, height, None)]
    inside: list[range] = []
    for room in rooms:  # grows on the way: each room is followed by those inside it
        inside.append(range(len(rooms), len(rooms) + _count(room)))
        rooms.extend(_rooms_inside(room))
    parts: dict[int, Part] = {}
    for index in reversed(range(len(rooms))):
        parts[index] = _laid(rooms[index], [parts.pop(inner) for inner in inside[index]], spacing)
    return parts[0]


def trimmed(part: Part, trim: EdgeTrim) -> Part:
    """Return the sheet that is this part once its edges are trimmed: left and right, then top and bottom."""
    return _between(UPRIGHT, trim.left, _between(LEVEL, trim.top, part, trim.bottom), trim.right)


def _between(direction: Direction, before: Length, part: Part, after: Length) -> Part:
    first = [_beside(part, direction, before, Cause.EDGE_TRIM)] if before else []
    last = [_beside(part, direction, after, Cause.EDGE_TRIM)] if after else []
    return _in_row(direction, [*first, part, *last], 0)


def _count(room: _Room) -> int:
    return len(room.item.items) if isinstance(room.item, Row) else 0


def _rooms_inside(room: _Room) -> list[_Room]:
    if isinstance(room.item, Grid):
        return []
    direction, items = room.item.direction, room.item.items
    size = _across(room, direction) if _may_share(room.item, room) else _across(room.item, direction)
    if direction is UPRIGHT:
        return [_Room(item, item.width, size, direction) for item in items]
    return [_Room(item, size, item.height, direction) for item in items]


def _may_share(row: Row, room: _Room) -> bool:
    """Whether an offcut along the whole row is better shared out among its items.

    Where all items but one have an offcut at their end already, and these grow, that takes as many cuts.
    """
    across = _across(room, row.direction)
    whole = (across - _across(row, row.direction)) * _along(row, row.direction)
    shared = max((across - _across(item, row.direction)) * _along(item, row.direction) for item in row.items)
    full = sum(_across(item, row.direction) == _across(row, row.direction) for item in row.items)
    return full == 1 and shared >= whole


def _laid(room: _Room, inside: Sequence[Part], spacing: Length) -> Part:
    """Return the room as cut: its item, and an offcut below and beside it where there is space."""
    direction = room.item.direction if isinstance(room.item, Row) else _first_cut(room)
    strips = [strip for part in inside for strip in _strips(part, direction)]
    if isinstance(room.item, Grid):
        strips = _grid_strips(room.item, direction, spacing)
    along, across = _along(room, direction), _across(room, direction)
    end, side = along - _along(room.item, direction), across - _across(strips[0], direction)
    if side and end * across >= side * along:
        strips = [_padded(_in_row(direction, strips, spacing), direction.across, side)]
        side = 0
    if end:
        strips.append(_beside(strips[0], direction, end, Cause.LEFT_OVER))
    part = _in_row(direction, strips, spacing)
    return _padded(part, direction.across, side) if side else part


def _first_cut(room: _Room) -> Direction:
    """Return the direction in which a grid is cut first, such that its cuts join those around it."""
    item = room.item
    right, below = room.width - item.width, room.height - item.height
    if right and below:
        return LEVEL if right * room.height >= below * room.width else UPRIGHT
    if right or below:
        return UPRIGHT if right else LEVEL
    if room.within:
        return room.within
    return UPRIGHT if isinstance(item, Grid) and item.columns <= item.rows else LEVEL  # few parts to handle


def _grid_strips(item: Grid, direction: Direction, spacing: Length) -> list[Part]:
    along, across = (item.columns, item.rows) if direction is UPRIGHT else (item.rows, item.columns)
    return [_in_row(direction.across, [item.piece] * across, spacing)] * along


def _strips(part: Part, direction: Direction) -> list[Part]:
    """Return the parts of which this one is a row in that direction."""
    if isinstance(part, Cut) and part.direction is direction:
        return [each for each in part.parts if not (isinstance(each, Offcut) and each.cause is Cause.SPACING)]
    return [part]


def _in_row(direction: Direction, strips: Sequence[Part], spacing: Length) -> Part:
    parts = list(strips[:1])
    for strip in strips[1:]:
        if spacing and not isinstance(strip, Offcut):
            parts.append(_beside(strip, direction, spacing, Cause.SPACING))
        parts.append(strip)
    return divide(direction, parts) if len(parts) > 1 else parts[0]


def _padded(part: Part, direction: Direction, length: Length) -> Part:
    offcut = _beside(part, direction, length, Cause.LEFT_OVER)
    before = part.parts if isinstance(part, Cut) and part.direction is direction else (part,)
    return divide(direction, [*before, offcut])


def _beside(part: Part, direction: Direction, along: Length, cause: Cause) -> Offcut:
    if direction is UPRIGHT:
        return Offcut(along, part.height, cause)
    return Offcut(part.width, along, cause)


def _along(item: Item | Part | _Room, direction: Direction) -> Length:
    return item.width if direction is UPRIGHT else item.height


def _across(item: Item | Part | _Room, direction: Direction) -> Length:
    return _along(item, direction.across)
