"""Edit the text of a recipe as one works at the trimmer: text before -> text after, every other line as it was.

`ends.py` finds where the text says what is finished or leaves something open, `trim.py` cuts there or names a piece,
`trims.py` puts other trims in place of all.
"""

from kits.recipe.edit.errors import EditError, EditName
from kits.recipe.edit.trim import OpenEnd, cut, marks, missing, name, open_ends, suits, with_every_sheet
from kits.recipe.edit.trims import ArrangedText, arranged, with_lifts

__all__ = [
    "ArrangedText",
    "EditError",
    "EditName",
    "OpenEnd",
    "arranged",
    "cut",
    "marks",
    "missing",
    "name",
    "open_ends",
    "suits",
    "with_every_sheet",
    "with_lifts",
]
