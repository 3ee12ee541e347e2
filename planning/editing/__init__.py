"""Changing a sheet's rows as the desk does: typed into a form, pasted as a block, or taken from a file.

`cells` turns a row into texts and back, `block` reads what was copied from a spreadsheet, `reading` its rows as far as they
can be read, `proposal` compares them with the rows there are, `faults` judges a row that was typed, and `change` is what
becomes of rows, so that it can be taken back. All of it follows from the sheets that `planning.monthfile` declares.
"""

from planning.editing.block import MOST_PASTED, block_rows
from planning.editing.cells import field_texts, habits_of, read_fields, text_of_field
from planning.editing.change import NEW, Change, taken_back
from planning.editing.proposal import Line, Proposal, State, judged, propose
from planning.editing.reading import ReadLine, read_lines

__all__ = [
    "MOST_PASTED",
    "NEW",
    "Change",
    "Line",
    "Proposal",
    "ReadLine",
    "State",
    "block_rows",
    "field_texts",
    "habits_of",
    "judged",
    "propose",
    "read_fields",
    "read_lines",
    "taken_back",
    "text_of_field",
]
