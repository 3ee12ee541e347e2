"""The small month with its recipe designed in a text."""

from dataclasses import replace

from kits.catalogue import Print
from kits.measures import INCH, parse_grammage
from kits.recipe import Recipe
from tests.web.small_month import SMALL_MONTH

# 12 high is 6 + 6; 12 wide is 4 + 4 + 4: left over are 12 x 6 and 4 x 6, 96 of 144 square inches.
HERONS = """\
recipe R1: Two Herons
ruler 1/8 in
trimmer 12, takes 1 sheet

paper base: 1 sheet 12 x 12

piece mat: 2 of 4 x 6 from base -> left
piece strip: 1 of 1 x 12 from base, not turned, cut by the club

sheet 1 of base
    turn
    cut at 6: offcut
    turn
    cut at 8: offcut
    cut at 4: mat -> left
    rest: mat -> left

page left: 12 x 12
    mat at 1, 1
        photo 3 1/2 x 5
    mat at 7, centred
"""

SHORE = SMALL_MONTH.materials[0]
OTHERS = (
    replace(SHORE, code="SMALL", name="Small Sheet", width=8 * INCH, height=8 * INCH),
    replace(SHORE, code="LIGHT", name="Light Sheet", grammage=parse_grammage("90 g/m²")),
    replace(SHORE, code="WAVES", name="Wave Print", print=Print.ONE_WAY),
)
DESIGNED_MONTH = replace(
    SMALL_MONTH,
    materials=(*SMALL_MONTH.materials, *OTHERS),
    recipes=(Recipe(code="R1", title="Two Herons", note="left page first", text=HERONS),),
    roles=(),
    pieces=(),
)
