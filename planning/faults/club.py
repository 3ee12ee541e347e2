"""Rules for the club's settings."""

from collections.abc import Iterator
from datetime import date

from kits.measures import RULERS, Currency, CurrencyError
from planning.calendar import DAY, Weekday
from planning.countries import COUNTRIES, country_hint
from planning.faults.book import Book
from planning.faults.model import Fault

PAPERS = ("A4", "Letter")
MEANT = {
    "£": "GBP",
    "UKP": "GBP",
    "STERLING": "GBP",
    "POUND": "GBP",
    "POUNDS": "GBP",
    "€": "EUR",
    "EURO": "EUR",
    "EUROS": "EUR",
    "$": "USD",
    "DOLLAR": "USD",
    "DOLLARS": "USD",
    "US$": "USD",
    "¥": "JPY",
    "YEN": "JPY",
    "RMB": "CNY",
    "C$": "CAD",
}
OUR_TIME = range(2000, 2200)
FARTHEST = 366 * DAY  # from the first packing day to the promise


def unknown_choices(book: Book) -> Iterator[Fault]:
    """Ruler, currency, country and paper are ones the program knows."""
    club = book.month.club
    if club.ruler not in (one.name for one in RULERS):
        rulers = ", ".join(one.name for one in RULERS)
        yield Fault("club", None, "ruler", club.ruler, "is not a ruler", f"The rulers are {rulers}.")
    if club.paper not in PAPERS:
        yield Fault("club", None, "paper", club.paper, "is not a paper size", "Write A4 or Letter.")
    yield from unknown_currency(club.currency)
    yield from unknown_country("club", None, club.country)


def unknown_currency(currency: str) -> Iterator[Fault]:
    """The currency is the ISO 4217 code of money in use."""
    try:
        Currency(currency)
    except CurrencyError:
        meant = MEANT.get(currency.strip().upper())
        advice = (
            f"Did you mean {meant}?" if meant else "Write its three letters of ISO 4217, such as GBP or EUR."
        )
        if currency.strip():
            yield Fault("club", None, "currency", currency, "is not the code of a currency", advice)


def unknown_country(table: str, row: int | None, country: str) -> Iterator[Fault]:
    """A country is a two-letter code of ISO 3166-1."""
    if country not in COUNTRIES and country.strip():
        meant = country_hint(country)
        advice = f"Did you mean {meant}?" if meant else "Write its two letters of ISO 3166, such as GB or FR."
        yield Fault(table, row, "country", country, "is not a country code", advice)


def days_of_another_age(book: Book) -> Iterator[Fault]:
    """Days lie in our time: a slip of a digit would send calendars walking for centuries."""
    club = book.month.club
    years = {"month": club.month.year, "planned_on": club.planned_on.year, "promised": club.promised.year}
    for field, year in (years | {"packing_starts": club.packing_starts.year}).items():
        if year not in OUR_TIME:
            yield another_age("club", None, field, getattr(club, field))
    for index, row in enumerate(book.month.open_orders):
        if row.due.year not in OUR_TIME:
            yield another_age("open_orders", index, "due", row.due)
    for index, offer in enumerate(book.month.offers):
        if offer.order_until is not None and offer.order_until.year not in OUR_TIME:
            yield another_age("offers", index, "order_until", offer.order_until)


def another_age(table: str, row: int | None, field: str, day: object) -> Fault:
    """Word the fault of a day that cannot be meant."""
    value = f"{day:%-d %b %Y}" if isinstance(day, date) else str(day)
    advice = f"Write one from the years {OUR_TIME[0]} to {OUR_TIME[-1]}."
    return Fault(table, row, field, value, "does not lie in our time", advice)


def dates_out_of_order(book: Book) -> Iterator[Fault]:
    """The plan is made, then packing starts, then the boxes arrive."""
    club = book.month.club
    if not book.whole("club"):
        return
    starts, promised = club.packing_starts, club.promised.day(Weekday.SUN)
    if starts < club.planned_on:
        why = f"is before the day the plan is made, {club.planned_on:%-d %b %Y}"
        advice = "Write the first day on which the crew can still pack."
        yield Fault("club", None, "packing_starts", f"{starts:%-d %b %Y}", why, advice)
    if promised < starts:
        why = f"is over before packing starts, {starts:%-d %b %Y}"
        yield Fault("club", None, "promised", str(club.promised), why, "Correct one of them.")
    if promised - starts > FARTHEST:
        why = f"is more than a year after packing starts, {starts:%-d %b %Y}"
        yield Fault("club", None, "promised", str(club.promised), why, "Correct one of them.")
