"""A sheet that is filled piece by piece, and emptied again, always such that it can be cut from edge to edge."""

from collections.abc import Iterator
from dataclasses import dataclass

from kits.guillotine import Direction, Piece
from kits.guillotine.lay import Item, grid, row

UPRIGHT, LEVEL = Direction.UPRIGHT, Direction.LEVEL


@dataclass(frozen=True, slots=True)
class Way:
    """A piece as it may lie on a sheet; width and height include the spacing."""

    lying: Piece
    width: int
    height: int


class Node:
    """A part of a sheet: cut into parts, or a piece, or free."""

    __slots__ = ("direction", "height", "parent", "parts", "piece", "way", "width")

    def __init__(self, width: int, height: int, parent: "Node | None") -> None:
        self.width, self.height, self.parent = width, height, parent
        self.direction: Direction | None = None
        self.parts: list[Node] = []
        self.piece = -1
        self.way: Way | None = None

    @property
    def is_free(self) -> bool:
        """Whether nothing is to be cut from it yet."""
        return self.direction is None and self.piece < 0

    def copy(self, parent: "Node | None") -> "Node":
        """Return a copy of all below."""
        new = Node(self.width, self.height, parent)
        new.direction, new.piece, new.way = self.direction, self.piece, self.way
        new.parts = [part.copy(new) for part in self.parts]
        return new

    def leaves(self) -> "Iterator[Node]":
        """Yield the pieces and free parts."""
        if self.direction is None:
            yield self
        else:
            for part in self.parts:
                yield from part.leaves()

    def place(self, piece: int, way: Way, direction: Direction) -> None:
        """Put a piece into this free part, which is first cut in that direction."""
        node = self
        for cut in (direction, direction.across):
            along, used = (node.width, way.width) if cut is UPRIGHT else (node.height, way.height)
            if used < along:
                node = node.split(cut, used, along - used)
        node.piece, node.way = piece, way

    def split(self, direction: Direction, used: int, rest: int) -> "Node":
        """Cut this part in two and return the first."""
        parent = self.parent
        if parent is not None and parent.direction is direction:
            other = _part(self, direction, rest, parent)
            parent.parts.append(other)
            _resize(self, direction, used)
            return self
        self.direction = direction
        first = _part(self, direction, used, self)
        self.parts = [first, _part(self, direction, rest, self)]
        return first

    def clear(self) -> None:
        """Take out what is in this part, and join it with what is free beside it."""
        self.direction, self.parts, self.piece, self.way = None, [], -1, None
        parent = self.parent
        if parent is None:
            return
        free = [part for part in parent.parts if part.is_free]
        if len(free) > 1:
            parent.parts = [part for part in parent.parts if not part.is_free]
            length = sum(part.width if parent.direction is UPRIGHT else part.height for part in free)
            assert parent.direction is not None  # noqa: S101
            _resize(free[0], parent.direction, length)
            parent.parts.append(free[0])
        if len(parent.parts) == 1:
            parent.clear()


def _part(whole: Node, direction: Direction, along: int, parent: Node) -> Node:
    if direction is UPRIGHT:
        return Node(along, whole.height, parent)
    return Node(whole.width, along, parent)


def _resize(node: Node, direction: Direction, along: int) -> None:
    if direction is UPRIGHT:
        node.width = along
    else:
        node.height = along


class Filled:
    """A sheet with pieces in it."""

    __slots__ = ("blank", "free", "root", "used")

    def __init__(self, blank: int, root: Node, used: int = 0) -> None:
        self.blank = blank
        self.root = root
        self.used = used
        self.free: list[Node] = []
        self.look()

    def look(self) -> None:
        """See what is free."""
        self.free = [leaf for leaf in self.root.leaves() if leaf.piece < 0]

    def copy(self) -> "Filled":
        """Return a copy."""
        return Filled(self.blank, self.root.copy(None), self.used)

    def pieces(self) -> list[Node]:
        """Return the parts that are pieces."""
        return [leaf for leaf in self.root.leaves() if leaf.piece >= 0]


def as_item(node: Node, spacing: int) -> Item | None:
    """Return how the pieces of a part lie; None where there are none."""
    if node.direction is None:
        return grid(node.way.lying, 1, 1, spacing) if node.way else None
    items = [item for part in node.parts if (item := as_item(part, spacing))]
    return row(node.direction, items, spacing) if items else None
