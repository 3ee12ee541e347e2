"""Rules for codes that name a row of another table: the row must be there."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from operator import attrgetter

from planning.faults.book import Book, Key
from planning.faults.hints import did_you_mean
from planning.faults.model import TITLES, Fault


@dataclass(frozen=True, slots=True)
class Reference:
    """A field that names a row of one of some tables by a field of theirs; it may hold several such names."""

    table: str
    field: str
    to: tuple[str, ...]
    by: str = "code"


REFERENCES = (
    Reference("offers", "supplier", ("suppliers",)),
    Reference("offers", "material", ("materials",)),
    Reference("materials", "cut_from", ("materials",)),
    Reference("price_breaks", "offer", ("offers",)),
    Reference("open_orders", "supplier", ("suppliers",)),
    Reference("open_orders", "material", ("materials",)),
    Reference("roles", "recipe", ("recipes",)),
    Reference("pieces", "recipe", ("recipes",)),
    Reference("kit_papers", "recipe", ("recipes",)),
    Reference("kit_papers", "material", ("materials",)),
    Reference("pre_cuts", "cut_from", ("materials",)),
    Reference("kit_lines", "tiers", ("tiers",)),
    Reference("rules", "tiers", ("tiers",)),
    Reference("subscribers", "tier", ("tiers",)),
    Reference("orders", "subscriber", ("subscribers",), by="reference"),
    Reference("orders", "item", ("materials", "pre_cuts", "tiers")),
    Reference("stock", "item", ("materials", "pre_cuts")),
    Reference("zones", "carrier", ("services",), by="carrier"),
    Reference("transits", "service", ("services",)),
    Reference("rates", "service", ("services",)),
    Reference("surcharges", "service", ("services",)),
    Reference("forecasts", "material", ("materials",)),
    Reference("spoilages", "item", ("materials", "pre_cuts")),
    Reference("outlooks", "tier", ("tiers",)),
    Reference("quantiles", "tier", ("outlooks",), by="tier"),
    Reference("choices", "item", ("tiers", "materials")),
    Reference("substitutes", "material", ("materials",)),
    Reference("substitutes", "instead", ("materials",)),
    Reference("customs", "item", ("materials", "pre_cuts")),
    Reference("charges", "tiers", ("tiers",)),
    Reference("aims", "tier", ("tiers",)),
    Reference("budget", "tier", ("tiers",)),
    Reference("promotions", "tier", ("tiers",)),
    Reference("uncertain", "item", ("materials",)),
)

EMPTY_FOR_ALL = "Write one that is, or empty the cell if every tier gets it."
NAMED_ONCE = (
    ("kit_lines", "tiers"),
    ("charges", "tiers"),
    ("pre_cuts", "cut_from"),
    ("materials", "cut_from"),
    ("surcharges", "zones"),
    ("rules", "tiers"),
    ("rules", "countries"),
    ("subscribers", "promotions"),
)
TAKES_CLUB_PIECES = {("stock", "item"), ("orders", "item"), ("spoilages", "item"), ("customs", "item")}
ROLE = ("recipe", "role")


def unknown_codes(book: Book) -> Iterator[Fault]:
    """Every code names a row that exists."""
    for reference in REFERENCES:
        if any(book.blurred(table, (reference.by,)) for table in reference.to):
            continue
        known = names_known(reference, book)
        for index, value in enumerate(map(attrgetter(reference.field), book.rows(reference.table))):
            in_list = isinstance(value, tuple)
            for code in value if in_list else (value,):
                if code not in known and (in_list or code.strip()):  # a blank cell is another rule's
                    yield unknown(reference.table, index, reference.field, code, reference.to, known)


def names_known(reference: Reference, book: Book) -> frozenset[str]:
    """Return all codes a reference may hold."""
    found: set[Key] = set().union(*(book.keys(table, reference.by) for table in reference.to))
    names = {str(name) for (name,) in found}
    at = reference.table, reference.field
    return frozenset(names | set(book.club_pieces) if at in TAKES_CLUB_PIECES else names)


def unknown(
    table: str, index: int, field: str, code: str, to: tuple[str, ...], known: frozenset[str]
) -> Fault:
    """Word the fault of a code nobody knows."""
    *titles, last = (TITLES[name] for name in to)
    sheets = f"{', '.join(titles)} or {last}" if titles else last
    other = EMPTY_FOR_ALL if field == "tiers" else "Add it there, or write one that is."
    advice = did_you_mean(code, known) or other
    return Fault(table, index, field, code or '""', f"is not on the {sheets} sheet", advice)


def codes_twice(book: Book) -> Iterator[Fault]:
    """A list of codes names each once: a tier named twice would get everything twice."""
    for table, field in NAMED_ONCE:
        for index, codes in enumerate(map(attrgetter(field), book.rows(table))):
            for code, times in Counter(codes).items():
                if times > 1:
                    yield Fault(table, index, field, code, "is named twice", "Name it once.")


def unknown_roles(book: Book) -> Iterator[Fault]:
    """Pieces and kit papers name paper roles their recipe has."""
    for table in ("pieces", "kit_papers"):
        for index, row in enumerate(book.rows(table)):
            if book.knows("roles", ROLE, (row.recipe, row.role)) or not row.role.strip():
                continue
            if row.recipe in book.half_known_recipes:
                continue
            if book.knows("recipes", ("code",), (row.recipe,)):
                roles = frozenset(
                    str(role) for recipe, role in book.keys("roles", *ROLE) if recipe == row.recipe
                )
                advice = "Add it to the Paper roles sheet, or write one that is there."
                advice = did_you_mean(row.role, roles) or advice
                yield Fault(table, index, "role", row.role, f"is not a paper role of {row.recipe}", advice)
