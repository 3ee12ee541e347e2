"""Rules for the rules of what goes into boxes: each can be, names things that lie in boxes, and says nothing to no end."""

import re
from collections.abc import Iterator
from datetime import date
from itertools import product

from kits.catalogue import MaterialKind
from kits.measures import format_length
from planning.contents.rows import Rule, When, why_wrong
from planning.faults.book import Book
from planning.faults.club import OUR_TIME, another_age
from planning.faults.hints import did_you_mean
from planning.faults.model import TITLES, Fault

NAMED = ("item", "instead")
THINGS = ("materials", "pre_cuts", "recipes")
BOUND_ELSEWHERE = ("count",)  # numbers out of bounds are told by their own rule
OF_PROMOTIONS = ("first", "last", "promotion")
COUNTED = (When.NTH, When.ANNIVERSARY)
NOT_IN_CODES = re.compile(r'[,;"\\\n]')


def rules_that_cannot_be(book: Book) -> Iterator[Fault]:
    """A rule says what it does, with what, and to which boxes."""
    for index, row in enumerate(book.month.rules):
        field, why = why_wrong(row)
        blank = field == "item"
        low_number = field == "number" and row.number is not None
        if field and field not in BOUND_ELSEWHERE and not blank and not low_number:
            yield Fault("rules", index, field, shown(row, field), why, advice(field, row))


def shown(row: Rule, field: str) -> str:
    """Return what stands in a field, as people read it."""
    value = getattr(row, field)
    if isinstance(value, date):
        return f"{value:%-d %b %Y}"
    return ", ".join(value) if isinstance(value, tuple) else "" if value is None else str(value)


def advice(field: str, row: Rule) -> str:
    """Say what to do about a rule that cannot be."""
    match field:
        case "instead" if row.instead == row.item:
            return "Name another item."
        case "instead":
            return "Fill it in for a substitute, and empty it for anything else."
        case "does":
            return "Write leave out or substitute."
        case "slot":
            return "Empty the cell."
        case "countries":
            return "Write their two letters of ISO 3166, with commas."
        case "number":
            return "Write its number; 1 is the first."
        case _:
            return "Correct one of the two days."


def unknown_items(book: Book) -> Iterator[Fault]:
    """What a rule puts in or takes out is something that can lie in a box by itself."""
    lengths = lengths_of(book)
    for (index, row), field in product(enumerate(book.month.rules), NAMED):
        code = getattr(row, field)
        if code.strip() and (why := why_no_item(code, lengths, book)):
            yield Fault("rules", index, field, code, *why)


def lengths_of(book: Book) -> dict[str, list[str]]:
    """Return what the kit's lengths of each roll are called."""
    lengths: dict[str, list[str]] = {}
    for line in book.month.kit_lines:
        if line.length is not None:
            lengths.setdefault(line.item, []).append(f"{line.item}@{format_length(line.length)}")
    return lengths


def why_no_item(code: str, lengths: dict[str, list[str]], book: Book) -> tuple[str, str] | None:
    """Say why a code is nothing a rule can name, and what to write."""
    material = book.materials.get(code)
    if material is not None and material.kind is MaterialKind.PACKAGING:
        return "is packaging, which no rule changes", "Name a material that is none."
    if material is not None and material.kind is MaterialKind.ROLL:
        own = ", ".join(dict.fromkeys(lengths.get(code, ())))
        return "is a whole roll", f"Write a length the kit has of it: {own or 'it has none'}."
    tables = [table for table in THINGS if (code,) in book.keys(table, "code")]
    if len(tables) > 1:
        sheets = " and ".join(TITLES[table] for table in tables)
        return f"is a code on the sheets {sheets}", "Give each a code of its own."
    every = [one for own in lengths.values() for one in own]
    if (
        tables
        or code in every
        or code in book.club_pieces
        or any(book.blurred(one, ("code",)) for one in THINGS)
    ):
        return None
    known = [str(key) for table in THINGS for (key,) in book.keys(table, "code")]
    why = "is no material, pre-cut or recipe, and no length of the kit"
    return why, did_you_mean(code, [*known, *every]) or "Add it there, or write one that is."


def strays(book: Book) -> Iterator[Fault]:
    """What only some rules look at stands in no other, where it would be passed over; days lie in our time."""
    for index, row in enumerate(book.month.rules):
        if row.number is not None and row.when not in COUNTED:
            why = f"is no part of a rule for {row.when}"
            yield Fault(
                "rules",
                index,
                "number",
                str(row.number),
                why,
                "Empty the cell, or write nth box or anniversary.",
            )
        for field in OF_PROMOTIONS:
            if getattr(row, field) and row.when is not When.PROMOTION:
                why = f"is no part of a rule for {row.when}"
                value = shown(row, field)
                yield Fault("rules", index, field, value, why, "Empty the cell, or write promotion.")
        for field in OF_PROMOTIONS[:2]:
            if (day := getattr(row, field)) is not None and day.year not in OUR_TIME:
                yield another_age("rules", index, field, day)


def promotions_that_are_none(book: Book) -> Iterator[Fault]:
    """Codes of promotions are written in capitals, so that all of a code are one, and can be told from each other."""
    for index, row in enumerate(book.month.rules):
        if row.promotion != in_capitals(row.promotion):
            yield no_code("rules", index, "promotion", row.promotion)
    for index, one in enumerate(book.month.subscribers):
        for code in one.promotions:
            if code != in_capitals(code):
                yield no_code("subscribers", index, "promotions", code)


def in_capitals(code: str) -> str:
    """Return a code in capitals, without spaces around it and without what would end it in a list of codes."""
    return NOT_IN_CODES.sub("", code.strip().upper())


def no_code(table: str, index: int, field: str, code: str) -> Fault:
    """Word the fault of what is no code of a promotion."""
    return Fault(table, index, field, code, "is no code in capitals", f"Write {in_capitals(code)}.")
