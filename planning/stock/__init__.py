"""The stock book: what lies where, and what it cost. Entries are made in `post.py`; the checker is in `check.py`."""

from planning.stock.book import Book, NotEnoughError, StockError
from planning.stock.check import balance_faults, book_faults
from planning.stock.model import KEPT, EntryKind, Holding, Lot, Move, Place, StockEntry
from planning.stock.post import ROUTES, CutLine, Receipt, ReversalError, carry, change, cut, receive, reverse

__all__ = [
    "KEPT",
    "ROUTES",
    "Book",
    "CutLine",
    "EntryKind",
    "Holding",
    "Lot",
    "Move",
    "NotEnoughError",
    "Place",
    "Receipt",
    "ReversalError",
    "StockEntry",
    "StockError",
    "balance_faults",
    "book_faults",
    "carry",
    "change",
    "cut",
    "receive",
    "reverse",
]
