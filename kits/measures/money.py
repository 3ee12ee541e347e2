"""Money: Decimal amounts, rounded by a named rule and split so that the parts always make the whole.

`exponent` is the number of decimals of a currency's smallest unit, as in ISO 4217: 2 for cents.
"""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import lcm
from typing import TypeAlias

from kits.measures.currencies import CURRENCIES, WITH_THREE_DECIMALS, WITHOUT_DECIMALS
from kits.measures.number import MeasureError, UnreadableError, plain_digits, tidy

Exact: TypeAlias = int | Fraction | Decimal

LARGEST_AMOUNT = 10**12
MOST_DECIMALS = 6  # a price each may be finer than a cent
LARGEST_COUNT = 10**9

_SPACED = re.compile(r"[1-9][0-9]{0,2}(?: [0-9]{3})+(?:[.,][0-9]+)?")


class CurrencyError(MeasureError):
    """A text is not the code of a currency."""

    what = "a currency"
    allowed = "Write its ISO 4217 code, such as EUR"


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency people pay with, by its ISO 4217 code."""

    code: str

    def __post_init__(self) -> None:
        if not re.fullmatch("[A-Z]{3}", self.code):
            raise CurrencyError(self.code, "it is not three capital letters")
        if self.code not in CURRENCIES:
            raise CurrencyError(self.code, "no money in use has this code")

    @property
    def exponent(self) -> int:
        """Decimals of its smallest unit: none, three, or else two."""
        if self.code in WITHOUT_DECIMALS:
            return 0
        return 3 if self.code in WITH_THREE_DECIMALS else 2


class Rounding(StrEnum):
    """How an amount becomes a whole number of smallest units; a credit is always the mirror of a charge."""

    HALF_UP = "half up"
    HALF_EVEN = "half even"
    UP = "up"
    DOWN = "down"


# Half up is what a reader with a pocket calculator does, so every printed sum can be checked by hand. The
# bias that half even avoids cannot build up: a total is rounded once and then split into its parts.
DEFAULT_ROUNDING = Rounding.HALF_UP


def round_money(amount: Exact, exponent: int = 2, rounding: Rounding = DEFAULT_ROUNDING) -> Decimal:
    """Return an amount rounded to the smallest unit of its currency, with exactly `exponent` decimals."""
    units = _exact(amount) * 10**exponent
    whole, rest = divmod(abs(units), 1)
    rounded = int(whole) + _goes_up(int(whole), rest, rounding)
    return _amount(rounded if units >= 0 else -rounded, exponent)


def _goes_up(whole: int, rest: Fraction, rounding: Rounding) -> bool:
    match rounding:
        case Rounding.HALF_UP:
            return 2 * rest >= 1
        case Rounding.HALF_EVEN:
            return 2 * rest > 1 or (2 * rest == 1 and whole % 2 == 1)
        case Rounding.UP:
            return rest > 0
        case Rounding.DOWN:
            return False


def _exact(amount: Exact) -> Fraction:
    if isinstance(amount, Decimal) and not amount.is_finite():
        raise ValueError(f"an amount must be a number, not {amount}")
    return Fraction(amount)


def _amount(units: int, exponent: int) -> Decimal:
    # From text, because arithmetic on Decimals would round to the precision of the context.
    return Decimal(f"{units}E-{exponent}")


class SplitError(ValueError):
    """A total cannot be split as asked."""


def split(total: Decimal, weights: Sequence[Exact], exponent: int = 2) -> tuple[Decimal, ...]:
    """Split an amount in proportion to the weights, in whole smallest units that sum to the total exactly.

    Largest remainder: every part gets its share rounded down, then the largest remainders get one unit more
    each, the earlier first on a tie. So each part is within one unit of its share, and a weight of zero gets
    nothing. A negative total is the mirror of the positive one.

    Raises SplitError if the total is no whole number of smallest units, if a weight is negative, or if no
    weight is above zero.
    """
    units = _exact(total) * 10**exponent
    if units.denominator != 1:
        raise SplitError(f"{total} cannot be split: it is no whole number of units of {_amount(1, exponent)}")
    return tuple(_amount(part, exponent) for part in split_count(int(units), weights))


def split_count(total: int, weights: Sequence[Exact]) -> tuple[int, ...]:
    """Split a whole number in proportion to the weights, as `split` does."""
    shares = _whole_weights(weights)
    everything = sum(shares)
    if everything == 0:
        raise SplitError("there is nothing to split by: no weight is above zero")
    floors, remainders = zip(*(divmod(abs(total) * share, everything) for share in shares), strict=True)
    left = abs(total) - sum(floors)
    # sorted() is stable, so ties keep their order
    by_remainder = sorted(range(len(shares)), key=lambda at: -remainders[at])
    favoured = set(by_remainder[:left])
    parts = (floor + (at in favoured) for at, floor in enumerate(floors))
    return tuple(parts) if total >= 0 else tuple(-part for part in parts)


def _whole_weights(weights: Sequence[Exact]) -> list[int]:
    exact = [_exact(weight) for weight in weights]
    for at, weight in enumerate(exact):
        if weight < 0:
            raise SplitError(f"weight {at + 1} is {weight}, but weights are never negative")
    common = lcm(*(weight.denominator for weight in exact))
    return [int(weight * common) for weight in exact]


class AmountError(MeasureError):
    """A text is not an amount of money."""

    what = "an amount of money"
    allowed = (
        "Write an amount from 0 to below 1,000,000,000,000, with at most 6 decimals, "
        "such as 1,234.50 or 0.0425"
    )


class CountError(MeasureError):
    """A text is not a count."""

    what = "a count"
    allowed = "Write a whole number from 0 to 1,000,000,000, such as 1,200"


def parse_amount(text: str) -> Decimal:
    """Read an amount as it stands, without rounding; a currency sign before or after it is left out.

    Spaces or commas may part thousands; a comma before other than three digits is a decimal comma. Raises
    AmountError.
    """
    try:
        amount = Decimal(_digits(_without_sign(tidy(text))))
        _check_amount(amount)
    except UnreadableError as why:
        raise AmountError(text, str(why)) from None
    return amount


def _without_sign(text: str) -> str:
    if text and unicodedata.category(text[0]) == "Sc":
        return text[1:].lstrip()
    if text and unicodedata.category(text[-1]) == "Sc":
        return text[:-1].rstrip()
    return text


def _digits(text: str) -> str:
    if not text:
        raise UnreadableError("it is empty")
    if text.startswith("-"):
        raise UnreadableError("it is negative")
    return plain_digits(text.replace(" ", "") if _SPACED.fullmatch(text) else text)


def _check_amount(amount: Decimal) -> None:
    if amount >= LARGEST_AMOUNT:
        raise UnreadableError("it is too large")
    if (Fraction(amount) * 10**MOST_DECIMALS).denominator != 1:
        raise UnreadableError(f"it has more than {MOST_DECIMALS} decimals")


def parse_count(text: str) -> int:
    """Read a whole number of things; spaces or commas may part thousands. Raises CountError."""
    try:
        count = Fraction(_digits(tidy(text)))
        _check_count(count)
    except UnreadableError as why:
        raise CountError(text, str(why)) from None
    return int(count)


def _check_count(count: Fraction) -> None:
    if count.denominator != 1:
        raise UnreadableError("it is no whole number")
    if count > LARGEST_COUNT:
        raise UnreadableError("it is too large")


def format_amount(amount: Decimal, exponent: int = 2) -> str:
    """Return an amount with thousands commas and at least `exponent` decimals: `1,234.50`. Never rounds."""
    whole, _, decimals = f"{_finite(amount).copy_abs():f}".partition(".")
    decimals = decimals.rstrip("0").ljust(exponent, "0")
    sign = "-" if amount < 0 else ""
    return f"{sign}{int(whole):,}" + (f".{decimals}" if decimals else "")


def _finite(amount: Decimal) -> Decimal:
    if not amount.is_finite():
        raise ValueError(f"an amount must be a number, not {amount}")
    return amount
