"""What a cell's text means, by the type of the cell and the format it is shown in."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Protocol, TypeAlias

from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format
from openpyxl.utils.datetime import from_excel, from_ISO8601

from planning.monthfile.xlsx.stream import DamagedError

# never a half of a surrogate pair, which is no character
ESCAPED = re.compile("_x((?![dD][89a-fA-F])[0-9A-Fa-f]{4})_")
LINE_BREAKS = re.compile("\r\n?")
QUOTED = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]')


@dataclass(frozen=True, slots=True)
class Broken:
    """What stands in a cell without a value: an error of the spreadsheet, or a formula nobody has worked out."""

    shown: str
    why: str
    allowed: str


Value: TypeAlias = str | int | float | bool | date | Broken

NEVER_WORKED_OUT = Broken(
    "",
    "the cell holds a formula that was never worked out",
    "Open the file in your spreadsheet and save it, or type the value.",
)


@dataclass(frozen=True, slots=True)
class Styles:
    """Numbers of the cell styles that show a number as a date, and of those that show it as a percentage."""

    dates: frozenset[str] = frozenset()
    percents: frozenset[str] = frozenset()

    @classmethod
    def of(cls, formats: list[str]) -> "Styles":
        """Sort the formats of the cell styles, in their order."""
        dates = frozenset(str(at) for at, code in enumerate(formats) if is_date_format(code))
        percents = frozenset(str(at) for at, code in enumerate(formats) if "%" in QUOTED.sub("", code))
        return cls(dates, percents - dates)


def builtin_format(number: str) -> str:
    """Return the format code that has no text of its own in a workbook. Raises DamagedError for what is no number."""
    if not number.isdecimal():
        raise DamagedError(f"there is no number format {number[:10]}")
    return BUILTIN_FORMATS.get(int(number), "General")


class Texts(Protocol):
    """Texts by number."""

    def __getitem__(self, number: int) -> str:
        """Return a text. Raises IndexError."""


class Cells:
    """Cell texts as values. A percentage is the text `5 %`: only some columns take one, and 0.05 would look right."""

    def __init__(self, texts: Texts, styles: Styles, epoch: datetime) -> None:
        self._texts = texts
        self._styles = styles
        self._epoch = epoch
        self._by_type: dict[str, Callable[[str, str], Value]] = {
            "n": self._number,
            "s": self._shared,
            "str": lambda text, style: plain_text(text),
            "b": lambda text, style: text.strip() in ("1", "true"),
            "d": lambda text, style: day_or_text(from_ISO8601(text)),  # type: ignore[no-untyped-call]
            "e": self._error,
        }

    def value(self, kind: str, text: str, style: str) -> Value:
        """Return the value of a cell. Raises DamagedError, or ValueError where the text is not of its type."""
        if kind not in self._by_type:
            raise DamagedError(f"a cell is of the unknown type {kind}")
        return self._by_type[kind](text, style)

    def _number(self, text: str, style: str) -> Value:
        number = float(text) if any(mark in text for mark in ".eE") else int(text)
        if style in self._styles.dates:
            return self._day(number)
        if style in self._styles.percents:
            return f"{number_text(Decimal(number_text(number)) * 100)} %"
        return number

    def _day(self, number: float) -> Value:
        try:
            return day_or_text(from_excel(number, self._epoch))
        except (OverflowError, ValueError):
            return Broken(
                number_text(number), "is shown as a date, but there is no such day", "Type it again."
            )

    def _shared(self, text: str, _style: str) -> Value:
        return self._texts[int(text)]

    def _error(self, text: str, _style: str) -> Value:
        return Broken(text, "is an error of the spreadsheet", "Correct the formula, or type the value.")


def plain_text(text: str) -> str:
    """Return a text as it was typed: the format's own escapes undone, line breaks all alike."""
    if "_x" in text:
        text = ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)
    return LINE_BREAKS.sub("\n", text) if "\r" in text else text


def day_or_text(value: date | time | timedelta) -> Value:
    """Return a date; a time of day alone as text, for it is no date."""
    return value if isinstance(value, date) else str(value)


def number_text(number: float | Decimal) -> str:
    """Return a number as the spreadsheet shows it: of a float 15 digits, so that 0.1 + 0.2 is 0.3."""
    exact = Decimal(f"{number:.15g}") if isinstance(number, float) else Decimal(number)
    text = f"{exact:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
