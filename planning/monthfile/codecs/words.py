"""Cells that say something in words: texts, codes, choices, yes or no, countries."""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Generic, TypeVar

from planning.calendar import Weekday
from planning.faults.hints import bare_letters, did_you_mean
from planning.faults.texts import shown
from planning.monthfile.codecs.codec import Cell, Codec, Habits, text_of, typed_text
from planning.monthfile.problems import CellError
from planning.monthfile.xlsx import Value

TAB = 4  # spaces

E = TypeVar("E", bound=StrEnum)

LIST_MARKS = re.compile(r"[,;\n]")
SPAN = re.compile(r"(\w+)\s*[-–]\s*(\w+)")
YES = {"yes", "y", "true", "1", "x"}
NO = {"no", "n", "false", "0"}


class Text(Codec[str]):
    """A text, kept as it was typed."""

    width: ClassVar[int] = 30

    def read(self, value: Value, habits: Habits) -> str:
        """Return the text."""
        return value if isinstance(value, str) else typed_text(value)

    def write(self, field: str, habits: Habits) -> Cell:
        """Return the text, or an empty cell."""
        return field or None


class Lines(Text):
    """A text of many lines, in which only the spaces before a line count; tabs are spaces, as where it is typed."""

    width: ClassVar[int] = 64
    wraps: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> str:
        """Return the text."""
        text = super().read(value, habits)
        return "\n".join(line.expandtabs(TAB) for line in text.replace("\r\n", "\n").split("\n"))


class Code(Text):
    """A code or another name that rows refer to each other by; spaces around it do not count."""

    width: ClassVar[int] = 16

    def read(self, value: Value, habits: Habits) -> str:
        """Return the code."""
        return typed_text(value).strip()


class Capitals(Code):
    """A code that is written in capitals, such as a country's or a currency's."""

    width: ClassVar[int] = 10

    def read(self, value: Value, habits: Habits) -> str:
        """Return the code in capitals if it is letters; what else it is the rules tell."""
        text = super().read(value, habits)
        return text.upper() if text.isascii() and text.isalpha() else text


class Codes(Codec[tuple[str, ...]]):
    """Codes in one cell, with commas."""

    width: ClassVar[int] = 22

    def read(self, value: Value, habits: Habits) -> tuple[str, ...]:
        """Return the codes in their order."""
        return tuple(parts_of(typed_text(value)))

    def write(self, field: tuple[str, ...], habits: Habits) -> Cell:
        """Return the codes with commas, or an empty cell."""
        return ", ".join(field) or None


class Signal(Code):
    """A code that is the same in small letters and in capitals, kept in capitals."""

    def read(self, value: Value, habits: Habits) -> str:
        """Return the code in capitals."""
        return super().read(value, habits).upper()


class Signals(Codes):
    """Codes in one cell, with commas, that are the same in small letters and in capitals; each counts once."""

    def read(self, value: Value, habits: Habits) -> tuple[str, ...]:
        """Return the codes in capitals."""
        return tuple(dict.fromkeys(code.upper() for code in super().read(value, habits)))


def parts_of(text: str) -> list[str]:
    """Return the parts of a list in one cell."""
    return [part.strip() for part in LIST_MARKS.split(text) if part.strip()]


@dataclass(frozen=True)
class Listed(Codec[str]):
    """A text from a list, in whatever capitals and spaces; what is not on it the rules tell."""

    names: tuple[str, ...]

    def read(self, value: Value, habits: Habits) -> str:
        """Return the text as the list spells it."""
        text = " ".join(typed_text(value).split())
        return next((name for name in self.names if name.casefold() == text.casefold()), text)

    def write(self, field: str, habits: Habits) -> Cell:
        """Return the text."""
        return field or None

    @property
    def choices(self) -> tuple[str, ...]:
        """The list."""
        return self.names


@dataclass(frozen=True)
class Choice(Codec[E], Generic[E]):
    """One of a few words; capitals, spaces and hyphens do not count."""

    among: type[E]

    def read(self, value: Value, habits: Habits) -> E:
        """Return the word's meaning."""
        return chosen(self.among, text_of(value))

    def write(self, field: E, habits: Habits) -> Cell:
        """Return the word."""
        return field.value

    @property
    def choices(self) -> tuple[str, ...]:
        """The words."""
        return tuple(one.value for one in self.among)


def chosen(among: type[E], text: str) -> E:
    """Return the member a text names. Raises CellError with all that may be written."""
    wanted = bare_letters(text)
    for one in among:
        if bare_letters(one.value) == wanted:
            return one
    words = [one.value for one in among]
    hint = did_you_mean(text, words)
    advice = f"Write {', '.join(words[:-1])} or {words[-1]}."
    raise CellError(shown(text), "is not one of the words for it", f"{hint} {advice}".strip())


class Day(Choice[Weekday]):
    """A day of the week, by three letters or its whole name."""

    def __init__(self) -> None:
        super().__init__(Weekday)

    def read(self, value: Value, habits: Habits) -> Weekday:
        """Return the weekday."""
        return weekday(text_of(value))


def weekday(text: str) -> Weekday:
    """Return the weekday a text names: Mon, Monday."""
    is_whole = bare_letters(text) in WHOLE_DAYS
    return chosen(Weekday, text.strip()[:3] if is_whole else text)


WHOLE_DAYS = {"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday", "tues", "thurs"}


class Days(Codec[tuple[Weekday, ...]]):
    """Days of the week in one cell, with commas; Mon-Fri is five of them."""

    width: ClassVar[int] = 24

    def read(self, value: Value, habits: Habits) -> tuple[Weekday, ...]:
        """Return the weekdays in the order they were written."""
        days: list[Weekday] = []
        for part in parts_of(typed_text(value)):
            span = SPAN.fullmatch(part)
            days += days_between(span[1], span[2]) if span else [weekday(part)]
        return tuple(days)

    def write(self, field: tuple[Weekday, ...], habits: Habits) -> Cell:
        """Return the weekdays with commas."""
        return ", ".join(field) or None


def days_between(first: str, last: str) -> list[Weekday]:
    """Return the weekdays from one to another, over the weekend if need be."""
    week = list(Weekday)
    start, end = week.index(weekday(first)), week.index(weekday(last))
    return week[start : end + 1] if start <= end else week[start:] + week[: end + 1]


class YesNo(Codec[bool]):
    """Yes or no."""

    width: ClassVar[int] = 10

    def read(self, value: Value, habits: Habits) -> bool:
        """Return whether it is yes."""
        text = text_of(value)
        word = text.strip().casefold()
        if word not in YES | NO:
            raise CellError(shown(text), "is neither yes nor no", "Write yes or no.")
        return word in YES

    def write(self, field: bool, habits: Habits) -> Cell:
        """Return the word."""
        return "yes" if field else "no"

    @property
    def choices(self) -> tuple[str, ...]:
        """Both."""
        return ("yes", "no")
