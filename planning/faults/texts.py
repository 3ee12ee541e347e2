"""Rules for every text: it can be stored and printed, has a length, names are not blank, codes can stand in a list."""

import re
from collections.abc import Iterator
from dataclasses import MISSING, fields
from operator import attrgetter

from planning.faults.book import Book
from planning.faults.keys import KEYS
from planning.faults.model import TITLES, Fault

LONGEST_TEXT = 32_767  # what one cell of a workbook holds
LONGEST_CODE = 40  # characters; it must fit a column, a label and a bar code
LONGEST_NAME = 120  # what still fits a line or two of a slip, a ticket and an order
LONGEST_OF = dict.fromkeys(
    (
        "code",
        "reference",
        "role",
        "piece",
        "page",
        "carrier",
        "zone",
        "prefix",
        "last",
        "operation",
        "slot",
        "promotion",
    ),
    LONGEST_CODE,
) | {
    "address": 600,
    "note": 2_000,
    "text": 20_000,
}
"""Field -> characters it may hold; every other text is a name or a line of an address."""
# No part of XML 1.0, or a control character that no printer and no label knows what to do with
UNPRINTABLE = re.compile("[^\n\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
LIST_MARKS = re.compile(r"[,;\n]")
CLUB_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,11}")


def unprintable_texts(book: Book) -> Iterator[Fault]:
    """Every text can be stored in a workbook and printed."""
    for table in TITLES:
        names = text_fields(table, book)
        for index, row in enumerate(book.rows(table)):
            # one search a row: a roster may have a hundred thousand
            if needs_a_look(texts := [text_of(getattr(row, name)) for name in names]):
                for name, text in zip(names, texts, strict=True):
                    yield from unprintable(table, index, name, text)


def needs_a_look(texts: list[str]) -> bool:
    """Tell whether any of the texts is at fault."""
    together = "".join(texts)
    return UNPRINTABLE.search(together) is not None


def unprintable(table: str, index: int, name: str, text: str) -> Iterator[Fault]:
    """Yield the fault of one text."""
    row = None if table == "club" else index
    if found := UNPRINTABLE.search(text):
        why = f"holds a character that cannot be printed (U+{ord(found[0]):04X}, number {found.start() + 1})"
        allowed = "Type the text again without it."
        yield Fault(table, row, name, shown(text), why, allowed)


def texts_too_long(book: Book) -> Iterator[Fault]:
    """No text is longer than what it is printed on has room for."""
    for table in TITLES:
        for name in text_fields(table, book):
            most = LONGEST_OF.get(name, LONGEST_NAME)
            for index, text in enumerate(map(attrgetter(name), book.rows(table))):
                if len(text) > most and isinstance(text, str):
                    why = f"is {len(text):,} characters long"
                    row = None if table == "club" else index
                    yield Fault(table, row, name, shown(text), why, f"Write at most {most:,}.")


def blank_names(book: Book) -> Iterator[Fault]:
    """Every text without a default says something."""
    for table in TITLES:
        names = tuple(name for name in text_fields(table, book) if name in needed_fields(table, book))
        if not names:
            continue
        values = attrgetter(*names) if len(names) > 1 else None
        for index, row in enumerate(book.rows(table)):
            texts = values(row) if values else (getattr(row, names[0]),)
            for name, text in zip(names, texts, strict=True):
                if not isinstance(text, tuple) and not text.strip():
                    at = None if table == "club" else index
                    yield Fault(table, at, name, "", "it is empty", "Fill it in.")


def unusable_codes(book: Book) -> Iterator[Fault]:
    """Codes can stand in a list with commas."""
    for table, names in KEYS.items():
        if names == ("code",):
            for index, row in enumerate(book.rows(table)):
                if why := why_no_code(row.code):
                    allowed = "Write it without commas, semicolons, line breaks and spaces around it."
                    yield Fault(table, index, "code", shown(row.code), why, allowed)


NAMES = (
    ("open_orders", "reference"),
    ("roles", "role"),
    ("pieces", "piece"),
    ("subscribers", "reference"),
    ("orders", "reference"),
    ("rules", "slot"),
    ("services", "carrier"),
    ("zones", "zone"),
    ("spoilages", "operation"),
    ("variants", "variant"),
)
"""Fields that tell rows apart without being codes of their own sheet."""


def names_in_spaces(book: Book) -> Iterator[Fault]:
    """Names that rows are known by neither begin nor end with a space, which nobody sees."""
    for table, field in NAMES:
        for index, name in enumerate(map(attrgetter(field), book.rows(table))):
            if name.strip() and name.strip() != name:
                yield Fault(
                    table, index, field, shown(name), "begins or ends with a space", "Take the space out."
                )


def why_no_code(code: str) -> str:
    """Say what is wrong with a code, nothing if it is right or blank (that is another rule's)."""
    if LIST_MARKS.search(code):
        return "cannot be told from a list of codes"
    if code.strip() != code and code.strip():
        return "begins or ends with a space"
    return ""


def club_code(book: Book) -> Iterator[Fault]:
    """The club's own code goes into every bar code."""
    code = book.month.club.code
    if code.strip() and not CLUB_CODE.fullmatch(code):
        why = "cannot be printed as part of a bar code"
        allowed = "Use 1 to 12 letters A to Z, digits and hyphens."
        yield Fault("club", None, "code", shown(code), why, allowed)


def text_fields(table: str, book: Book) -> tuple[str, ...]:
    """Return the fields of a table's rows that hold text or tuples of it (choices from a list cannot go wrong)."""
    rows = book.rows(table)
    return tuple(one.name for one in fields(rows[0]) if one.type in (str, tuple[str, ...])) if rows else ()


def needed_fields(table: str, book: Book) -> frozenset[str]:
    """Return the fields of a table's rows that have no default."""
    rows = book.rows(table)
    return frozenset(one.name for one in fields(rows[0]) if one.default is MISSING) if rows else frozenset()


def text_of(value: str | tuple[str, ...]) -> str:
    """Return a text, or the texts of a tuple joined."""
    return value if isinstance(value, str) else " ".join(value)


def shown(text: str) -> str:
    """Return a text as a message shows it: on one line, and not too long."""
    line = one_line(text)
    return line if len(line) <= 60 else f"{line[:60]}…"


def one_line(text: str) -> str:
    """Return a text on one line, with a mark for whatever a terminal might obey rather than show."""
    return UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", text.replace("\n", " / "))
