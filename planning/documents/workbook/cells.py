"""Values into cells: text stays text, whatever it looks like."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from openpyxl.cell import Cell

from planning.documents.workbook.table import Value
from planning.monthfile.cells import filled

FORMULA_SIGNS = ("=", "+", "-", "@")
DAY_ZERO = date(1899, 12, 30)  # which makes 1 March 1900 day 61, as spreadsheets count


def put(cell: Cell, value: Value) -> None:
    """Write a figure into a cell. A text is taken for a formula neither here nor when somebody edits it."""
    filled(cell, decimal(value) if isinstance(value, Fraction) else value)
    cell.quotePrefix = isinstance(value, str) and value.startswith(FORMULA_SIGNS)


def decimal(value: Fraction) -> Decimal:
    """Return a fraction to 28 figures; a spreadsheet keeps 15 of them."""
    return Decimal(value.numerator) / value.denominator


def stored(value: Value) -> tuple[str, str | None]:
    """Return a formula's figure as a workbook stores it, and the kind of cell it makes (none for a number)."""
    if isinstance(value, bool):
        return str(int(value)), "b"
    if isinstance(value, str):
        return value, "str"
    if isinstance(value, date):
        return str((value - DAY_ZERO).days), None
    return str(decimal(value) if isinstance(value, Fraction) else value or 0), None
