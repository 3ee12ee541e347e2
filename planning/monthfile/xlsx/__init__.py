"""A workbook as sheets of rows of plain values, read as a stream.

ECMA-376 part 1 (SpreadsheetML), chapters 18.2 workbook, 18.3 worksheets, 18.4 shared texts, 18.8 styles; the numbers
of chapters, attributes and limits are from memory.

openpyxl, which writes our workbooks, is not used to read them: it keeps an object for every element it has passed,
so that a file of 300 KB can cost it gigabytes, and it takes a formula that was never worked out for an empty cell.
Here a sheet costs the memory of one row, a document type is refused wherever it stands, and more rows or cells than
a spreadsheet can have end the reading.
"""

from planning.monthfile.xlsx.stream import DamagedError
from planning.monthfile.xlsx.values import Broken, Value, number_text
from planning.monthfile.xlsx.workbook import Row, Workbook

__all__ = ["Broken", "DamagedError", "Row", "Value", "Workbook", "number_text"]
