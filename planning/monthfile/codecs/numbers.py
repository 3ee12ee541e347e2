"""Cells that hold numbers: counts, money, percentages and plain numbers."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from kits.measures import AmountError, CountError, parse_amount, parse_count
from kits.measures.currencies import CURRENCIES
from planning.faults.texts import shown
from planning.monthfile.codecs.codec import Cell, Codec, Habits, measure_error, number_cell, text_of
from planning.monthfile.problems import CellError
from planning.monthfile.xlsx import Value

# the code of a currency before or after an amount, or a sign that not every currency has
NAMED_MONEY = re.compile(r"^\s*([A-Z]{3})(?=[\s\d.,])|(?<=[\s\d.,])([A-Z]{3})\s*$|([$€£¥])")
# whose signs they are: common practice, no source
MONEY_OF = {
    "€": ("EUR",),
    "£": ("GBP", "EGP", "FKP", "GIP", "LBP", "SDG", "SHP", "SSP", "SYP"),
    "¥": ("JPY", "CNY"),
    "$": (
        *(code for code in CURRENCIES if code.endswith("D")),
        *("ARS", "BRL", "CLP", "COP", "CUP", "CVE", "DOP", "MOP", "MXN", "NIO", "TOP", "UYU"),
    ),
}
PERCENT_SIGN = re.compile(r"\s*(%|per ?cent)\s*$", re.IGNORECASE)


class Count(Codec[int]):
    """A whole number of things."""

    shown_as: ClassVar[str] = "#,##0"
    width: ClassVar[int] = 12
    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> int:
        """Return the count."""
        try:
            return parse_count(text_of(value))
        except CountError as error:
            raise measure_error(error) from None

    def write(self, field: int, habits: Habits) -> Cell:
        """Return the number."""
        return field


class Change(Count):
    """A whole number that comes on top, or falls away where a minus stands before it."""

    shown_as: ClassVar[str] = "+#,##0;-#,##0;0"

    def read(self, value: Value, habits: Habits) -> int:
        """Return the change."""
        text = text_of(value).strip()
        sign = -1 if text.startswith(("-", "−")) else 1
        return sign * super().read(text.lstrip("+-−") if text[:1] in "+-−" else text, habits)


class Money(Codec[Decimal]):
    """An amount of the club's money."""

    shown_as: ClassVar[str] = "#,##0.00####"
    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> Decimal:
        """Return the amount, exactly as it stands."""
        text = text_of(value)
        try:
            return parse_amount(without_code(text, habits.money))
        except AmountError as error:
            raise measure_error(error) from None

    def write(self, field: Decimal, habits: Habits) -> Cell:
        """Return the number."""
        return number_cell(field)


def without_code(text: str, money: str) -> str:
    """Return an amount without the code of the club's money. Raises CellError for the sign or code of another."""
    named = NAMED_MONEY.search(text.upper())
    name = (named[1] or named[2] or named[3]) if named else ""
    if named is None or money not in CURRENCIES:
        return text
    if name != money and money not in MONEY_OF.get(name, ()):
        advice = "Write the amount in that, as a number alone."
        raise CellError(shown(text), f"is in {name}, but all money in this file is in {money}", advice)
    return text if name in MONEY_OF else NAMED_MONEY.sub("", text.upper())


@dataclass(frozen=True)
class Number(Codec[Decimal]):
    """A plain number, not negative, with at most six decimals."""

    shown_as: ClassVar[str] = "General"
    width: ClassVar[int] = 12
    is_number: ClassVar[bool] = True
    what: str = "a number"
    like: str = "1.5"

    def read(self, value: Value, habits: Habits) -> Decimal:
        """Return the number, exactly as it stands."""
        return self._read(text_of(value))

    def write(self, field: Decimal, habits: Habits) -> Cell:
        """Return the number."""
        return number_cell(field)

    def _read(self, text: str) -> Decimal:
        try:
            return parse_amount(text)
        except AmountError as error:
            advice = f"Write a number from 0, with at most 6 decimals, such as {self.like}."
            raise CellError(shown(error.read), f"is not {self.what}: {error.why}", advice) from None


class Percent(Number):
    """A percentage: 5, or 5 %."""

    def __init__(self) -> None:
        super().__init__("a percentage", "5 or 2.5 %")

    def read(self, value: Value, habits: Habits) -> Decimal:
        """Return the number before the percent sign."""
        return self._read(PERCENT_SIGN.sub("", text_of(value)))
