"""The tiny month with rules of what goes into its boxes."""

from dataclasses import replace
from datetime import date

from planning.contents import Does, Rule, When
from planning.month import Month
from planning.roster import Besides, OneOffOrder
from tests.support.months import tiny_month

RIBBON = "RIBBON@1500 mm"
RULES = (
    Rule(code="YEAR", when=When.ANNIVERSARY, does=Does.ADD, item="GIFT"),
    Rule(code="SPRING", when=When.PROMOTION, does=Does.ADD, item="BRADS", count=4, promotion="SPRING"),
    Rule(code="FR", when=When.COUNTRY, does=Does.SUBSTITUTE, item=RIBBON, instead="BRADS", count=2, countries=("FR",)),
    Rule(code="HALF", when=When.EVERY, does=Does.LEAVE_OUT, item="MAT", tiers=("HALF",)),
    Rule(code="MORE", when=When.EVERY, does=Does.ADD, item="MAT", tiers=("HALF",)),
    Rule(code="NINTH", when=When.NTH, number=9, does=Does.ADD, item="GIFT"),
)  # fmt: skip


def ruled() -> Month:
    """Return the tiny month with rules.

    S1 joined in April 2026 and came with SPRING: a gift and 4 brads more. S2's two boxes go to France: 2 brads each instead
    of the ribbon. S3 and S5 have half a kit, without its 3 mats: HALF counts before MORE, by its code alone. S3 ordered 5
    brads, and gets 1 for one that came damaged. S5 joined this month, so there is the welcome gift.
    """
    month = tiny_month()
    first, *others = month.subscribers
    joined = replace(first, joined=date(2026, 4, 20), promotions=("SPRING", "OTHER"))
    damaged = OneOffOrder(reference="D", subscriber="S3", item="BRADS", why=Besides.REPLACEMENT)
    return replace(month, rules=RULES, subscribers=(joined, *others), orders=(*month.orders, damaged))
