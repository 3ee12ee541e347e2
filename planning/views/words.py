"""Figures as people read them: on the club's ruler, in its money, with their units."""

from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

from kits.measures import MM, Currency, Length, format_amount, round_money, ruler
from planning.month import Club

KILOGRAM = 1000  # grams
MEGABYTE = 1_000_000


def day(when: date | None) -> str:
    """Return a date: 3 Mar 2027."""
    return "" if when is None else f"{when:%-d %b %Y}"


def weekday(when: date | None) -> str:
    """Return a date with its weekday: Wed 3 Mar 2027."""
    return "" if when is None else f"{when:%a %-d %b %Y}"


def moment(when: datetime) -> str:
    """Return a time: 3 Mar 2027, 14:05 UTC."""
    return f"{when:%-d %b %Y, %H:%M} UTC"


def count(number: int) -> str:
    """Return a whole number with its thousands parted."""
    return f"{number:,}"


def noun(number: int, one: str, many: str = "") -> str:
    """Return the word for as many: box, boxes."""
    return one if number == 1 else many or one + "s"


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number and the word for as many: 1 box, 1,204 boxes."""
    return f"{number:,} {noun(number, one, many)}"


def money(amount: Decimal, club: Club) -> str:
    """Return an amount without its currency, for columns that name it."""
    exponent = Currency(club.currency).exponent
    return format_amount(round_money(amount, exponent), exponent)


def price(amount: Decimal, club: Club) -> str:
    """Return a price each with all its decimals, at least those of the currency's coins."""
    places = max(Currency(club.currency).exponent, -int(amount.normalize().as_tuple().exponent))
    return format_amount(amount, places)


def size(width: Length, height: Length, club: Club) -> str:
    """Return the size of a sheet or piece on the club's ruler."""
    on = ruler(club.ruler)
    return f"{on.format(width)} × {on.format(height)}"


def length(one: Length, club: Club) -> str:
    """Return a length on the club's ruler."""
    return ruler(club.ruler).format(one)


def millimetres(height: Fraction | int) -> str:
    """Return a height in mm, to a tenth: stacks are not measured finer."""
    return f"{tenths(Fraction(height, MM))} mm"


def tenths(value: Fraction) -> str:
    """Return a value to one decimal, exactly rounded, half up."""
    whole = (value * 10 + Fraction(1, 2)) // 1
    return f"{Decimal(int(whole)).scaleb(-1):,}"


def weight(grams: Fraction) -> str:
    """Return a weight: 312 g, 2.31 kg."""
    whole = int(grams + Fraction(1, 2))
    if whole < KILOGRAM:
        return f"{whole} g"
    return f"{Decimal(int(grams / 10 + Fraction(1, 2))).scaleb(-2):,} kg"


def minutes(time: Decimal) -> str:
    """Return a time: 6 h 20 min."""
    hours, rest = divmod(int(time.to_integral_value()), 60)
    return f"{hours:,} h {rest} min" if hours else f"{rest} min"


def percent(part: Decimal | int, whole: Decimal | int) -> str:
    """Return a share in whole percent."""
    return f"{100 * part / whole:.0f} %" if whole else "–"


def file_size(size_in_bytes: int) -> str:
    """Return the size of a file: 12 kB, 3.4 MB."""
    if size_in_bytes >= MEGABYTE:
        return f"{size_in_bytes / MEGABYTE:,.1f} MB"
    return f"{max(1, round(size_in_bytes / 1000)):,} kB"


def added(parts: Iterable[int | str], total: int | str) -> str:
    """Return the sum behind a figure: 194 + 212 = 406; nothing where there is nothing to add up."""
    summands = [f"{part:,}" if isinstance(part, int) else part for part in parts]
    whole = f"{total:,}" if isinstance(total, int) else total
    return f"{' + '.join(summands)} = {whole}" if summands else ""


def sentence(said: str) -> str:
    """Return words as a sentence: a capital first, a full stop last."""
    return f"{said[:1].upper()}{said[1:].rstrip('.')}." if said else ""


def step_title(step: str) -> str:
    """Return a step's name as a heading."""
    return step.capitalize()
