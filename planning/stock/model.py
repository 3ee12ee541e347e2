"""What the stock book is made of.

Quantities are whole buying units of a material, or pieces; values are whole numbers of the currency's smallest unit, so
that a database can add them up exactly. Items are named by the codes of the Stock sheet: a material's or a piece's.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class Place(StrEnum):
    """Where goods are, come from or go to."""

    SUPPLIER = "supplier"
    SHELF = "shelf"
    CUTTING = "cutting"  # at the guillotine, not cut yet
    BOXES = "boxes"
    SPOILED = "spoiled"
    SHOP = "shop"  # left over, sold by itself
    CUT_UP = "cut up"  # sheets end here and pieces begin here; it holds no value
    DIFFERENCE = "difference"  # what a count found (below zero) or missed


KEPT = (Place.SHELF, Place.CUTTING, Place.BOXES, Place.SPOILED, Place.SHOP)
"""Places that hold goods, and so never less than none. The others only say where goods came from or went."""


class EntryKind(StrEnum):
    """Why goods moved."""

    RECEIVE = "receive"
    ISSUE = "issue"
    CUT = "cut"
    COUNT = "count"
    ADJUST = "adjust"
    REVERSE = "reverse"


@dataclass(frozen=True, slots=True, order=True)
class Lot:
    """Goods of one item that came together, by the entry and the line in it that brought them: lower is older."""

    entry: int
    line: int

    def __str__(self) -> str:
        return f"{self.entry}.{self.line}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One side of a movement: `quantity` of an item into a place (below zero: out of it), at what it cost.

    line: the line of the order that goods are received against.
    """

    item: str
    place: Place
    lot: Lot
    quantity: int
    value: int
    line: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StockEntry:
    """An entry as it stands in the book for ever. serial: counted from 1. reverses: the serial of the one it takes back."""

    serial: int
    kind: EntryKind
    moves: tuple[Move, ...]
    at: datetime
    by: str
    note: str = ""
    order: str = ""
    reverses: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """What a place holds of one lot."""

    item: str
    place: Place
    lot: Lot
    quantity: int
    value: int
