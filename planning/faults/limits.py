"""Rules for every number: between which bounds it must lie, and how fine it may be."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from operator import attrgetter
from typing import TypeAlias

from kits.measures import Currency, CurrencyError
from planning.faults.book import Book
from planning.faults.model import Fault

Number: TypeAlias = int | Decimal | Fraction

MOST = 1_000_000_000  # of anything counted
MOST_EACH = 10_000  # boxes on a row of the roster; of one thing in a box, a recipe, an order; of make-ready
MOST_BOXES = 100_000_000  # of one tier in a month
MOST_MEMBERS = 10_000_000  # of a club, in its past and as it is forecast
MOST_MONEY = 1_000_000_000_000
LONGEST = 800_000_000_000  # 100 km, as a length
LONGEST_WAIT = 366  # working days; calendars count them one by one
FINEST = 6  # decimals of a price each; what is paid as it stands comes in whole cents


@dataclass(frozen=True, slots=True)
class Limit:
    """Bounds of some fields of a table.

    above: the lower bound itself is too little. places: decimals at most; cents: those of the club's money.
    """

    table: str
    fields: tuple[str, ...]
    low: int
    high: int
    above: bool = False
    places: int | None = FINEST
    cents: bool = False
    is_length: bool = False


def counts(table: str, *fields: str, low: int = 0, high: int = MOST) -> Limit:
    """Bound whole numbers."""
    return Limit(table, fields, low, high)


def lengths(table: str, *fields: str, zero: bool = False) -> Limit:
    """Bound lengths."""
    return Limit(table, fields, 0, LONGEST, above=not zero, places=None, is_length=True)


def money(table: str, *fields: str) -> Limit:
    """Bound prices each and costs per hour."""
    return Limit(table, fields, 0, MOST_MONEY)


def paid(table: str, *fields: str) -> Limit:
    """Bound amounts that are paid as they stand."""
    return Limit(table, fields, 0, MOST_MONEY, cents=True)


def percents(table: str, *fields: str) -> Limit:
    """Bound percentages."""
    return Limit(table, fields, 0, 100)


LIMITS = (
    counts("club", "goods_in_days", "cutting_days", high=LONGEST_WAIT),
    counts("club", "cart_boxes", "shelf_boxes", low=1),
    lengths("club", "pallet_length", "pallet_width", "pallet_height"),
    Limit("club", ("pallet_weight",), 0, 100_000_000, above=True, places=None),
    counts("club", "piece_overs_fixed", high=MOST_EACH),
    money("club", "crew_cost_per_hour", "overtime_cost_per_hour", "order_cost"),
    Limit("club", ("minutes_per_box", "minutes_per_line", "minutes_per_parcel"), 0, 1440),
    percents(
        "club", "piece_overs_percent", "weight_tolerance", "just_over", "holding_percent", "leftover_percent"
    ),
    Limit("club", ("leftover_months",), 0, 120),
    lengths("club", "flat_clearance", zero=True),
    lengths("materials", "width", "height", "roll_length", "inside_width", "inside_height", "inside_depth"),
    lengths("materials", "edge_trim", zero=True),
    Limit("materials", ("thickness",), 0, LONGEST, above=True, places=None, is_length=True),
    Limit("materials", ("weight",), 0, 100_000_000, places=None),
    Limit("materials", ("carries",), 0, 100_000_000, above=True, places=None),
    percents("materials", "overs_percent"),
    counts("materials", "overs_fixed", high=MOST_EACH),
    counts("materials", "used_a_year", low=1),
    money("materials", "storage"),
    paid("suppliers", "freight", "free_freight_from"),
    counts("offers", "pack", "multiple", low=1),
    counts("offers", "minimum"),
    counts("offers", "maximum", low=1),
    counts("offers", "lead_days", high=LONGEST_WAIT),
    paid("offers", "setup_charge"),
    counts("price_breaks", "from_quantity", low=1),
    money("price_breaks", "price"),
    counts("stock", "on_hand"),
    money("stock", "value_each"),
    counts("open_orders", "quantity", low=1),
    money("open_orders", "price"),
    lengths("roles", "width", "height"),
    counts("roles", "sheets", high=MOST_EACH),
    lengths("pieces", "width", "height"),
    counts("pieces", "count", low=1, high=MOST_EACH),
    lengths("pre_cuts", "width", "height"),
    percents("pre_cuts", "overs_percent"),
    counts("pre_cuts", "overs_fixed", high=MOST_EACH),
    counts("kit_lines", "count", low=1, high=MOST_EACH),
    lengths("kit_lines", "length"),
    paid("tiers", "price"),
    counts("rules", "count", low=1, high=MOST_EACH),
    counts("rules", "priority", high=MOST_EACH),
    counts("rules", "number", low=1, high=MOST_EACH),
    counts("subscribers", "quantity", "sent", high=MOST_EACH),
    counts("orders", "count", low=1, high=MOST_EACH),
    counts("week", "minutes", "overtime"),
    counts("crew_days", "minutes", "overtime"),
    Limit("services", ("max_weight", "charged_to"), 0, 100_000_000, above=True, places=None),
    Limit("services", ("divisor", "sides_to", "weight_to"), 0, MOST, above=True),
    lengths(
        "services", "max_longest", "max_second", "max_thickness", "max_girth", "min_longest", "min_second"
    ),
    Limit("services", ("volume_above",), 0, MOST),
    counts("transits", "days", high=LONGEST_WAIT),
    Limit("rates", ("up_to",), 0, 100_000_000, above=True, places=None),
    Limit("rates", ("over",), 0, 100_000_000, places=None),
    paid("rates", "price"),
    paid("surcharges", "amount"),
    percents("surcharges", "percent"),
    Limit("surcharges", ("over_weight",), 0, 100_000_000, places=None),
    lengths("surcharges", "over_longest", "over_second", "over_girth"),
    lengths("guillotines", "opening", "lift_height"),
    lengths("guillotines", "smallest_strip", zero=True),
    money("guillotines", "cost_per_hour"),
    counts("forecasts", "units"),
    counts("spoilages", "make_ready", high=MOST_EACH),
    percents("spoilages", "percent"),
    counts("outlooks", "low", "likely", "high", high=MOST_BOXES),
    paid("outlooks", "short_cost"),
    percents("quantiles", "percent"),
    counts("quantiles", "boxes", high=MOST_BOXES),
    counts("choices", "quantity"),
    percents("charges", "percent"),
    money("charges", "each"),
    paid("charges", "once"),
    counts("aims", "boxes", high=MOST_BOXES),
    Limit("aims", ("margin", "single_margin"), 0, 99),
    paid("budget", "amount"),
    paid("price_points", "start", "less"),
    Limit("price_points", ("step",), 0, MOST_MONEY, above=True, cents=True),
    percents("promotions", "percent"),
    paid("promotions", "off"),
    counts("promotions", "boxes", "extra", high=MOST_BOXES),
    Limit("actuals", ("quantity",), 0, MOST),
    paid("actuals", "amount"),
    counts("substitutes", "per", low=1, high=MOST_EACH),
    money("customs", "value"),
    counts("past", "joined", "left", "skipped", "paused", "boxes", high=MOST_MEMBERS),
    counts("stayed", "members", high=MOST_MEMBERS),
    counts("announced", "boxes", low=-MOST_MEMBERS, high=MOST_MEMBERS),
    counts("by_hand", "low", "likely", "high", high=MOST_MEMBERS),
    Limit("uncertain", ("low", "likely", "high"), 0, MOST_MONEY, places=4),
    Limit("guillotines", ("minutes_per_lift", "minutes_per_cut", "minutes_per_turn"), 0, 1440),
)


def numbers_out_of_bounds(book: Book) -> Iterator[Fault]:
    """Every number lies within its bounds and is no finer than it may be."""
    exponent = smallest_unit(book)
    for limit in LIMITS:
        places = exponent if limit.cents else limit.places
        for name in limit.fields:
            for index, number in enumerate(map(attrgetter(name), book.rows(limit.table))):
                if number is not None and (why := out_of(limit, number, places, book)):
                    row = None if limit.table == "club" else index
                    yield Fault(
                        limit.table,
                        row,
                        name,
                        shown(number, limit, book),
                        why,
                        allowed(limit, places, book),
                    )


def smallest_unit(book: Book) -> int:
    """Return the decimals of the club's money; little is asked of amounts where the currency is not known."""
    try:
        return Currency(book.month.club.currency).exponent if book.whole("club") else FINEST
    except CurrencyError:
        return FINEST


def out_of(limit: Limit, number: Number, places: int | None, book: Book) -> str:
    """Say what is wrong with a number, nothing if it is right."""
    if isinstance(number, Decimal) and not number.is_finite():
        return "is not a number"
    if number < limit.low or (limit.above and number == limit.low):
        return "is negative" if number < 0 else f"is less than {limit.low}" if limit.low else "is nothing"
    if number > limit.high:
        return f"is more than {shown(limit.high, limit, book)}"
    is_whole = isinstance(number, int)
    if places is not None and not is_whole and (Fraction(number) * 10**places).denominator != 1:
        return too_fine(limit, places, book)
    return ""


def too_fine(limit: Limit, places: int, book: Book) -> str:
    """Say how many decimals a number may have; the club's money says it of what is paid."""
    if limit.cents and places != FINEST:
        currency = book.month.club.currency
        return f"has more decimals than {currency}, which has {places or 'none'}"
    return f"has more than {places} decimals"


def shown(number: Number, limit: Limit, book: Book) -> str:
    """Return a number as people read it."""
    if limit.is_length:
        return book.length(int(number)) if number > 0 else str(number)
    return f"{number:,}" if isinstance(number, int | Decimal) else str(number)


def allowed(limit: Limit, places: int | None, book: Book) -> str:
    """Say which numbers are allowed."""
    low = "more than 0" if limit.above else f"{limit.low:,}"
    joint = "and at most" if limit.above else "to"
    decimals = f"with at most {places} decimals" if places else "without decimals"
    fine = f", {decimals}" if limit.cents else ""
    return f"Write {low} {joint} {shown(limit.high, limit, book)}{fine}."
