"""Values into cells, so that a text stays the text it is."""

import re

from openpyxl.cell import Cell as SheetCell

from planning.faults.texts import LONGEST_TEXT, UNPRINTABLE
from planning.monthfile.codecs import Cell

LOOKS_ESCAPED = re.compile("_(?=x[0-9A-Fa-f]{4}_)")


def filled(cell: SheetCell, value: Cell) -> SheetCell:
    """Fill a cell and return it. A text is never taken for a formula or an error, whatever it begins with.

    What no workbook can hold (a month with such a text has faults) becomes U+FFFD.
    """
    if not isinstance(value, str):
        cell.value = value
        return cell
    cell.value = storable(value)
    cell.data_type = "s"
    return cell


def storable(text: str) -> str:
    """Return a text as a workbook stores it: `_x0041_` would be read as the letter A, so its first mark is escaped."""
    return LOOKS_ESCAPED.sub("_x005F_", cut(UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", text)))


def cut(text: str) -> str:
    """Return as much of a text as a cell holds, where characters beyond U+FFFF count as two."""
    if 2 * len(text) <= LONGEST_TEXT:
        return text
    return text.encode("utf-16-le")[: 2 * LONGEST_TEXT].decode("utf-16-le", "ignore")
