"""A sheet of the workbook as data: one table, whose cells hold the plan's figures and the formulas that give them.

A cell always carries the figure of the plan. Where it also carries a formula, that formula must come to the same
figure when a spreadsheet program works it out: the tests hold every one of them to it.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any, Generic, TypeVar

from openpyxl.utils import get_column_letter

HEAD_ROW = 3
FIRST_ROW = 4

Row = TypeVar("Row")
Value = str | int | Decimal | Fraction | date | bool | None


class Look(StrEnum):
    """How a cell's figure is shown."""

    TEXT = "text"
    COUNT = "count"
    MONEY = "amount"
    PRICE = "price"  # of one, often finer than a cent
    TENTHS = "tenths"
    HUNDREDTHS = "hundredths"
    SHARE = "share"
    DAY = "day"
    WEEKDAY = "weekday"  # a day with its weekday, where people plan by the week
    CHECK = "check"  # TRUE or FALSE
    LINK = "link"  # the name of another sheet


WORDS = (Look.TEXT, Look.LINK)


@dataclass(frozen=True, slots=True)
class Cell:
    """A figure, how it is shown, the formula that gives it, and whether somebody must do something about it."""

    value: Value
    look: Look = Look.TEXT
    formula: str = ""
    needs_you: bool = False


@dataclass(frozen=True)  # Python 3.11 cannot make a Column[Row] that is both frozen and slotted
class Column(Generic[Row]):
    """A column: what it is called, how wide it is (characters), and what stands in it.

    key: its name in formulas, where {key} is this row's cell, {Sheet.key} all cells of a column on another sheet,
    {Sheet.key.total} the cell below them and {Sheet.key.0} the first. total: the sum stands below. note: how the
    figure comes about, for the head.
    """

    key: str
    head: str
    figure: Callable[[Row], Value]
    look: Look | Callable[[Row], Look] = Look.TEXT
    formula: str | Callable[[Row], str] = ""
    width: float = 8
    total: bool = False
    needs_you: Callable[[Row], bool] = lambda row: False
    note: str = ""

    @property
    def is_words(self) -> bool:
        """Whether words stand in it rather than figures."""
        return self.look in WORDS

    def cell(self, row: Row) -> Cell:
        """Return the cell of a row."""
        return Cell(
            self.figure(row),
            self.look(row) if callable(self.look) else self.look,
            self.formula(row) if callable(self.formula) else self.formula,
            self.needs_you(row),
        )


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart of a table's columns, drawn by the spreadsheet program: what stands along it, and what is drawn."""

    title: str
    along: str
    drawn: tuple[str, ...]
    is_line: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table(Generic[Row]):
    """A sheet. says: what it is for, in a sentence; empty: what it says when it has no rows."""

    name: str
    says: str
    columns: tuple[Column[Row], ...]
    rows: tuple[Row, ...] = field(repr=False)
    empty: str
    frozen: int = 1
    chart: Chart | None = None

    @property
    def last_row(self) -> int:
        """The last row of figures; an empty table keeps one row free for its formulas to add up."""
        return FIRST_ROW + max(len(self.rows), 1) - 1

    @property
    def has_total(self) -> bool:
        """Whether sums stand below."""
        return any(column.total for column in self.columns)

    def letter(self, key: str) -> str:
        """Return a column's letter."""
        keys = [column.key for column in self.columns]
        return get_column_letter(keys.index(key) + 1)

    def cells(self, book: "Book") -> Iterator[tuple[str, Cell]]:
        """Yield every cell below the heads with its place, formulas in a spreadsheet's own words."""
        for at, row in enumerate(self.rows, FIRST_ROW):
            for column in self.columns:
                cell = column.cell(row)
                formula = spelled(cell.formula, self, at, book)
                yield f"{self.letter(column.key)}{at}", Cell(cell.value, cell.look, formula, cell.needs_you)
        if not self.rows:
            yield f"A{FIRST_ROW}", Cell(self.empty)
        if self.has_total:
            yield from self.totals()

    def totals(self) -> Iterator[tuple[str, Cell]]:
        """Yield the cells of the last line."""
        for column in self.columns:
            place = f"{self.letter(column.key)}{self.last_row + 1}"
            if column.total:
                figures: list[Any] = [
                    figure for row in self.rows if (figure := column.figure(row)) is not None
                ]
                look = column.look if isinstance(column.look, Look) else Look.COUNT
                yield place, Cell(sum(figures), look, f"=SUM({self.span(column.key)})")
            else:
                yield place, Cell("Total" if column is self.columns[0] else None)

    def span(self, key: str) -> str:
        """Return all cells of a column, as this sheet's own formulas name them."""
        letter = self.letter(key)
        return f"{letter}{FIRST_ROW}:{letter}{self.last_row}"

    def anywhere(self, key: str, part: str = "") -> str:
        """Return all cells of a column, one of them (by its row's number, from 0) or its total, for other sheets."""
        letter, sheet = self.letter(key), f"'{self.name}'"
        if not part:
            return f"{sheet}!${letter}${FIRST_ROW}:${letter}${self.last_row}"
        row = self.last_row + 1 if part == "total" else FIRST_ROW + int(part)
        return f"{sheet}!${letter}${row}"


Book = Mapping[str, Table[Any]]


def spelled(formula: str, table: Table[Any], row: int, book: Book) -> str:
    """Replace the names in a formula by the places they stand for."""

    def place(match: re.Match[str]) -> str:
        first, *rest = match[1].split(".")
        return book[first].anywhere(*rest) if rest else f"{table.letter(first)}{row}"

    return re.sub(r"\{([^{}]+)\}", place, formula)
