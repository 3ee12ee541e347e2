"""Reader of a sheet's rows."""

import re
from typing import TypeAlias

from planning.monthfile.xlsx.stream import DamagedError, Reader
from planning.monthfile.xlsx.values import NEVER_WORKED_OUT, Cells, Value, plain_text

MOST_ROWS = 1_048_576
MOST_COLUMNS = 16_384

Row: TypeAlias = tuple[int, dict[int, Value]]
"""Number of the row, and what its cells hold by the number of their column, empty ones left out; both from 1."""


class Columns(dict[str, int]):
    """Numbers of columns by their letters, worked out once each: A -> 1, AB -> 28."""

    def __missing__(self, letters: str) -> int:
        if not re.fullmatch("[A-Z]{1,3}", letters):
            raise DamagedError(f"there is no column {letters[:10]}")
        number = 0
        for letter in letters:
            number = number * 26 + ord(letter) - ord("A") + 1
        self[letters] = number
        return number


class SheetReader(Reader):
    """The rows of a sheet as they come."""

    def __init__(self, cells: Cells) -> None:
        super().__init__()
        self._cells = cells
        self._columns = Columns()
        self._rows: list[Row] = []
        self._row: dict[int, Value] = {}
        self._number = self._column = self._rows_seen = self._cells_seen = 0
        self._in_row = self._in_cell = self._spoken = self._has_formula = False
        self._type = self._style = self._value = ""
        self._runs: list[str] = []

    def take(self) -> list[Row]:
        """Return the rows finished since last asked that hold something."""
        rows, self._rows = self._rows, []
        return rows

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Begin a row, a cell, or what is in a cell."""
        if name == "c" and self._in_row:
            self._start_cell(attributes)
        elif name == "row":
            self._start_row(attributes)
        elif self._in_cell:
            self._start_content(name)

    def end(self, name: str) -> None:
        """End what is in a cell, a cell, or a row."""
        if name == "c" and self._in_cell:
            self._end_cell()
        elif name == "row" and self._in_row:
            if self._row:
                self._rows.append((self._number, self._row))
            self._in_row = False
        elif self._in_cell:
            self._end_content(name)

    def _start_row(self, attributes: dict[str, str]) -> None:
        self._rows_seen += 1
        self._number = int(attributes.get("r", self._number + 1))
        if not 0 < self._number <= MOST_ROWS or self._rows_seen > MOST_ROWS:
            raise DamagedError("a sheet has more rows than a sheet can")
        self._row, self._in_row = {}, True
        self._column = self._cells_seen = 0

    def _start_cell(self, attributes: dict[str, str]) -> None:
        place = attributes.get("r")
        self._column = self._columns[place.rstrip("0123456789")] if place else self._column + 1
        self._cells_seen += 1
        if self._column > MOST_COLUMNS or self._cells_seen > MOST_COLUMNS:
            raise DamagedError("a row has more cells than a row can")
        self._type, self._style = attributes.get("t", "n"), attributes.get("s", "0")
        self._value, self._runs = "", []
        self._has_formula, self._in_cell = False, True

    def _start_content(self, name: str) -> None:
        if name == "v" or (name == "t" and not self._spoken):
            self.listen()
        elif name == "f":
            self._has_formula = True
        elif name == "rPh":
            self._spoken = True

    def _end_content(self, name: str) -> None:
        if name == "v":
            self._value = self.heard()
        elif name == "t" and not self._spoken:
            self._runs.append(self.heard())
        elif name == "rPh":
            self._spoken = False

    def _end_cell(self) -> None:
        self._in_cell = False
        if self._type == "inlineStr":
            if text := plain_text("".join(self._runs)):
                self._row[self._column] = text
        elif self._value:
            self._row[self._column] = self._cells.value(self._type, self._value, self._style)
        elif (
            self._has_formula and self._type != "str"
        ):  # a formula's text may well be empty, a number may not
            self._row[self._column] = NEVER_WORKED_OUT
