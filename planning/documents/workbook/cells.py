"""Values into cells: text stays text, whatever it looks like."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from openpyxl.cell import Cell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

from planning.documents.workbook.table import Value

FORMULA_SIGNS = ("=", "+", "-", "@")
DAY_ZERO = date(1899, 12, 30)  # which makes 1 March 1900 day 61, as spreadsheets count


def put(cell: Cell, value: Value) -> None:
    """Write a figure into a cell. A text is never taken for a formula, an error or a link, here or when it is edited."""
    if isinstance(value, str):
        cell.value = ILLEGAL_CHARACTERS_RE.sub("", value)
        cell.data_type = "s"
        cell.quotePrefix = value.startswith(FORMULA_SIGNS)
    else:
        cell.value = decimal(value) if isinstance(value, Fraction) else value


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
