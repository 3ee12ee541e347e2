"""A recipe as plain text that reads as what one does at the trimmer: `read.py` and `write.py`.

    recipe GATE: Garden gate
    ruler 1/8 in
    trimmer 12, takes 2 sheets

    paper mats: 1 sheet 12 x 12

    piece photo mat: 2 of 4 1/4 x 6 1/4 from mats -> left
    piece story card: 3 of 3 1/2 x 4 from mats -> left

    sheet 1 of mats
        cut at 8 1/2
            turn
            cut at 8: story card -> left
            cut at 4: story card -> left
            rest: story card -> left
        turn
        cut at 6 1/4: offcut
        turn
        cut at 4 1/4: photo mat -> left
        rest: photo mat -> left

    page left: 12 x 12
        photo mat at 1, 2 3/8
            photo 4 x 6, border 1/8

A sheet comes to hand with its left edge at the fence. A cut is measured from the fence, and what comes off beyond
the mark stands after the colon or in indented lines; what stays at the fence is cut on in the lines that follow. A
turn brings the top edge to the fence, the next one the left edge again. A comment begins with #.

On a page a piece may also lie `at centred, 1`, or `at place 2 of 3, 1` in a row of three with equal gaps; a photo may
be the one `that fits`.
"""

from kits.recipe.text.problems import Problem, ProblemName, RecipeTextError
from kits.recipe.text.read import Reading, parse, read
from kits.recipe.text.write import write

__all__ = ["Problem", "ProblemName", "Reading", "RecipeTextError", "parse", "read", "write"]
