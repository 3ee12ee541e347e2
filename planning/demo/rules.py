"""What goes into a box besides its tier's kit: rules, two of one slot and one that is not on yet, and what came damaged."""

from datetime import date

from planning.contents.rows import Does, Rule, When
from planning.demo.kit import BRANCH, LEAF
from planning.roster import Besides, OneOffOrder

PICNIC = "PICNIC"
PICNICKERS = 12  # one person in so many came with the promotion

RULES = (
    Rule(code="SIXTH", when=When.NTH, number=6, does=Does.ADD, item="STENCIL", tiers=(BRANCH, LEAF)),
    Rule(code="YEARS", when=When.ANNIVERSARY, does=Does.ADD, item="TAG", count=3, priority=2, slot="gift"),
    Rule(
        code="PICNIC",
        when=When.PROMOTION,
        does=Does.ADD,
        item="STICKERS",
        priority=1,
        slot="gift",  # whoever has both gets the tags
        first=date(2027, 4, 1),
        last=date(2027, 5, 31),
        promotion=PICNIC,
    ),
    # this club sends no wood to where parcels with it are held up; copper brads go instead
    Rule(
        code="NO-WOOD",
        when=When.COUNTRY,
        does=Does.SUBSTITUTE,
        item="BUTTONS",
        instead="BRADS",
        count=2,
        countries=("AE", "US"),
    ),
    Rule(
        code="MENDED",
        when=When.REPLACEMENT,
        does=Does.SUBSTITUTE,
        item="STAMPS",
        instead="STENCIL",
        priority=1,
        tiers=(LEAF,),
    ),
    Rule(
        code="SUMMER",
        when=When.PROMOTION,
        does=Does.ADD,
        item="TAG",
        count=2,
        first=date(2027, 6, 1),
        last=date(2027, 8, 31),
    ),
)

REPLACED = (
    OneOffOrder(reference="D000001", subscriber="BFC-000004", item="STAMPS", why=Besides.REPLACEMENT),
    OneOffOrder(reference="D000002", subscriber="BFC-000007", item="STAMPS", why=Besides.REPLACEMENT),
)
"""A stamp set cracked on its way last month, and one sent by mistake to somebody whose kit holds none."""
