"""The month file: one workbook with a sheet for every table of a month.

`read_month` and `month_to_workbook` are each other's inverse; `template` is a workbook to fill in. What the sheets
say is declared in `sheets`, how a cell is read in `codecs`, and what a file may be at all in `guard`.
"""

from planning.monthfile.problems import MonthFileError, Problem
from planning.monthfile.read import read_month
from planning.monthfile.write import month_to_workbook, template

__all__ = ["MonthFileError", "Problem", "month_to_workbook", "read_month", "template"]
