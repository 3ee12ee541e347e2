"""Rules for what must be told apart: no row twice, no code for two things that may be named in one place."""

from collections.abc import Iterator
from datetime import date

from kits.recipe import CutBy
from planning.faults.book import Book, Key, key_of
from planning.faults.model import TITLES, Fault

KEYS: dict[str, tuple[str, ...]] = {
    "materials": ("code",),
    "suppliers": ("code",),
    "offers": ("code",),
    "price_breaks": ("offer", "from_quantity"),
    "stock": ("item",),
    "open_orders": ("reference", "material", "due"),
    "recipes": ("code",),
    "roles": ("recipe", "role"),
    "pieces": ("recipe", "piece", "page"),
    "kit_papers": ("recipe", "role"),
    "pre_cuts": ("code",),
    "kit_lines": ("kind", "item", "length", "tiers", "when"),
    "tiers": ("code",),
    "rules": ("code",),
    "subscribers": ("reference",),
    "orders": ("reference", "item"),
    "week": ("weekday", "who"),
    "days_off": ("day", "who", "country"),
    "crew_days": ("day",),
    "services": ("code",),
    "zones": ("carrier", "country", "prefix", "last"),
    "transits": ("service", "zone"),
    "rates": ("service", "zone", "up_to", "valid_from"),
    "surcharges": ("service", "name", "zones", "over_weight", "valid_from"),
    "delivery_weeks": ("country",),
    "guillotines": ("code",),
    "forecasts": ("material", "needed_in"),
    "spoilages": ("item", "operation"),
    "outlooks": ("tier",),
    "quantiles": ("tier", "percent"),
    "choices": ("item",),
    "substitutes": ("material", "instead"),
    "customs": ("item",),
    "charges": ("kind", "name"),
    "aims": ("tier",),
    "budget": ("tier", "heading"),
    "price_points": ("start",),
    "promotions": ("name",),
    "actuals": ("kind", "item"),
    "variants": ("variant", "change", "item"),
    "past": ("in_month", "tier"),
    "stayed": ("joined", "in_month"),
    "promoted": ("in_month",),
    "announced": ("first", "why"),
    "by_hand": ("in_month",),
    "uncertain": ("what", "item"),
}
"""What makes a row of each table its own: no two rows have the same."""


def rows_twice(book: Book) -> Iterator[Fault]:
    """No key stands in a table twice; the row named is the second, `first` the one before it."""
    for table, names in KEYS.items():
        seen: dict[Key, int] = {}
        for index, row in enumerate(book.rows(table)):
            key = key_of(row, names)
            if any(key) and (first := seen.setdefault(key, index)) != index:  # blank ones are another rule's
                yield twice(table, index, key, first)


def twice(table: str, index: int, key: Key, first: int) -> Fault:
    """Word the fault of a row that is there already."""
    names = KEYS[table]
    parts = (as_text(part) for name, part in zip(names, key, strict=True) if name != "length")
    value = ", ".join(part for part in parts if part)
    advice = "Give each a code of its own." if names == ("code",) else "Keep one of the two rows."
    return Fault(table, index, names[0], value, "stands here already", advice, first)


def as_text(value: object) -> str:
    """Return part of a key as people read it."""
    if isinstance(value, tuple):
        return ", ".join(map(as_text, value))
    if isinstance(value, date):
        return f"{value:%-d %b %Y}"
    return "" if value is None else str(value)


def pieces_told_apart(book: Book) -> Iterator[Fault]:
    """A piece the club cuts is one item on the shelf, so its name is its own in the whole recipe."""
    for index, row in enumerate(book.month.pieces):
        first = book.club_pieces.get(f"{row.recipe}/{row.piece}") if row.cut_by is CutBy.CLUB else None
        if first is not None and first.page != row.page:
            why = f"is also the name of another piece of {row.recipe} that the club cuts"
            other = book.month.pieces.index(first)
            yield Fault("pieces", index, "piece", row.piece, why, "Give each its own name.", other)


SHARED = ("materials", "pre_cuts", "tiers")


def codes_shared(book: Book) -> Iterator[Fault]:
    """Stock and one-off orders name materials, pre-cuts and tiers by code alone, so these share no code."""
    owner: dict[str, str] = {}
    for table in SHARED:
        for index, row in enumerate(book.rows(table)):
            if row.code and owner.setdefault(row.code, table) != table:
                why = f"is also a code on the {TITLES[owner[row.code]]} sheet"
                advice = "One-off orders could not tell the two apart: give each its own code."
                yield Fault(table, index, "code", row.code, why, advice)
