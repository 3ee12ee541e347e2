"""Forms as data: what is asked, what was typed, what is wrong with it. One template sets all of them out.

A form that failed comes back with everything that was typed, a summary above that leads to each field, and nothing done.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from uuid import uuid4

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from kits.measures import MeasureError, parse_amount, parse_count
from planning.views.parts import Column, Table

MOST_TEXT = 500  # characters in a note
DAY_FORMAT = "Write it as 2027-03-18."


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing that is asked. kind: number, day, text, words (several lines), password, pin, choice or tick.

    label: what is asked; in a grid it is read out only, its column's heading stands above. choices: value and text.
    """

    name: str
    label: str
    value: str = ""
    kind: str = "text"
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    error: str = ""


@dataclass(frozen=True, slots=True)
class GridRow:
    """A row of a grid: words and fields. needs: it waits for somebody."""

    cells: tuple[str | Field, ...]
    needs: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table one types into."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[GridRow, ...]

    def body(self) -> Iterator[tuple[GridRow, list[tuple[Column, str | Field]]]]:
        """Yield each row with its cells beside their columns."""
        for row in self.rows:
            yield row, list(zip(self.columns, row.cells, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A page that asks for something. button: names the act; back: where to go instead, and what that is called.

    links: other ways to the same form, filled in otherwise. failed: what was not done. key: tells the form from every other,
    so that sent twice it does its act once. compared: what else there is to see before it is sent again.
    """

    title: str
    lede: str
    button: str
    back: tuple[str, str]
    fields: tuple[Field, ...] = ()
    grid: Grid | None = None
    after: tuple[Field, ...] = ()
    links: tuple[tuple[str, str], ...] = ()
    more: tuple[tuple[str, str], ...] = ()
    hidden: tuple[tuple[str, str], ...] = ()
    note: str = ""
    failed: str = ""
    problem: str = ""
    key: str = ""
    compared: Table | None = None

    @property
    def errors(self) -> list[Field]:
        """The fields that something is wrong with."""
        cells = [cell for row in self.grid.rows for cell in row.cells] if self.grid else []
        asked = (*self.fields, *cells, *self.after)
        return [one for one in asked if isinstance(one, Field) and one.error]

    @property
    def is_refused(self) -> bool:
        """Whether it comes back with something to put right."""
        return bool(self.errors or self.problem)


def show_form(
    request: HttpRequest, around: Mapping[str, object], form: Form, template: str = "planning/form.html"
) -> HttpResponse:
    """Show a form; one that is refused says so in its status as well."""
    return render(request, template, {**around, "form": form}, status=422 if form.is_refused else 200)


def form_key(request: HttpRequest) -> str:
    """Return the key of the form that was sent, or a fresh one for a form to be sent."""
    sent = request.POST.get("key", "")
    return sent if sent.isalnum() and len(sent) == 32 else uuid4().hex


@dataclass(slots=True)
class Typed:
    """What was typed into a form, read field by field; `errors` holds what cannot be read, by field."""

    sent: Mapping[str, str]
    errors: dict[str, str] = field(default_factory=dict)

    def text(self, name: str, most: int = MOST_TEXT) -> str:
        """Return words, without space around them."""
        text = self.sent.get(name, "").replace("\x00", "").strip()
        if len(text) > most:
            self.errors[name] = f"This is {len(text):,} characters long. Use at most {most:,}."
        return text

    def count(self, name: str, empty: int | None = None) -> int:
        """Return a whole number from 0; `empty` where nothing is typed, which is refused where that is None."""
        text = self.text(name)
        if not text and empty is not None:
            return empty
        try:
            return parse_count(text)
        except MeasureError as error:
            self.errors[name] = "Write how many." if not text else str(error)
            return 0

    def change(self, name: str) -> int:
        """Return a whole number that may be below zero, but not 0."""
        text = self.text(name).replace("\N{MINUS SIGN}", "-")
        less = text.startswith("-")
        try:
            number = parse_count(text.lstrip("+-").strip())
        except MeasureError as error:
            self.errors[name] = "Write how many, such as -3 or 12." if not text else str(error)
            return 0
        if number == 0:
            self.errors[name] = "Nothing is changed by 0."
        return -number if less else number

    def amount(self, name: str, empty: Decimal | None = None, sign: str = "") -> Decimal:
        """Return an amount of money from 0; `empty` where nothing is typed, which is refused where that is None."""
        text = self.text(name).removesuffix(sign).strip()
        if not text and empty is not None:
            return empty
        try:
            return parse_amount(text)
        except MeasureError as error:
            self.errors[name] = "Write an amount." if not text else str(error)
            return Decimal(0)

    def percent(self, name: str, empty: Decimal | None = None) -> Decimal:
        """Return a rate from 0 to 100 percent."""
        rate = self.amount(name, empty, sign="%")
        if rate > 100:
            self.errors[name] = "Write a rate from 0 to 100."
        return rate

    def day(self, name: str) -> date | None:
        """Return a day, None where nothing is typed."""
        text = self.text(name)
        if not text:
            return None
        try:
            when = date.fromisoformat(text)
        except ValueError:
            self.errors[name] = f"{text!r} is not a day. {DAY_FORMAT}"
            return None
        if not 2000 <= when.year <= 2199:
            self.errors[name] = f"{text} is not a day of this century or the next."
        return when

    def choice(self, name: str, allowed: Iterable[str]) -> str:
        """Return one of the words allowed."""
        text = self.text(name)
        if text not in allowed:
            self.errors[name] = "Choose one."
            return ""
        return text
