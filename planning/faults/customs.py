"""Rules for what customs asks: codes and countries that a declaration takes."""

from collections.abc import Iterator

from planning.countries import COUNTRIES, country_hint
from planning.customs.rows import HS_CODE
from planning.faults.book import Book
from planning.faults.model import Fault
from planning.faults.texts import shown


def wrong_hs_codes(book: Book) -> Iterator[Fault]:
    """A code of the Harmonized System has six digits, or a country's own further two or four."""
    for index, row in enumerate(book.month.customs):
        if row.hs_code.strip() and not HS_CODE.fullmatch(row.digits):
            advice = "Write its 6, 8 or 10 digits, such as 4802.57."
            yield Fault("customs", index, "hs_code", shown(row.hs_code), "is not an HS code", advice)


def unknown_origins(book: Book) -> Iterator[Fault]:
    """An origin is a country."""
    for index, row in enumerate(book.month.customs):
        if row.origin not in COUNTRIES and row.origin.strip():
            meant = country_hint(row.origin)
            advice = (
                f"Did you mean {meant}?" if meant else "Write its two letters of ISO 3166, such as GB or FR."
            )
            yield Fault("customs", index, "origin", row.origin, "is not a country code", advice)
