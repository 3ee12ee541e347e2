"""Months whose rules of what goes into boxes cannot be, each with every fault word for word."""

from dataclasses import replace
from datetime import date
from typing import Any

from planning.contents.rows import Does, Rule, When
from planning.month import Month
from tests.support.months import tiny_month, with_rows


def ruled(when: When = When.EVERY, does: Does = Does.ADD, item: str = "BRADS", **more: Any) -> Month:
    """Return the tiny month with one rule."""
    return with_rows(tiny_month(), "rules", [Rule(code="R", when=when, does=does, item=item, **more)])


def promised(*codes: str) -> Month:
    """Return the tiny month with promotions for its first subscriber."""
    month = tiny_month()
    first, *others = month.subscribers
    return replace(month, subscribers=(replace(first, promotions=codes), *others))


BROKEN_RULES: dict[str, tuple[Month, list[str]]] = {
    "a substitute without a name": (
        ruled(does=Does.SUBSTITUTE),
        [
            "rules 0 instead: a substitute names what goes instead. Fill it in for a substitute, and empty it for anything "
            "else."
        ],
    ),
    "an item for itself": (
        ruled(does=Does.SUBSTITUTE, instead="BRADS"),
        ["rules 0 instead: BRADS is the item itself. Name another item."],
    ),
    "an nth box without a number": (
        ruled(When.NTH),
        ["rules 0 number: say which box. Write its number; 1 is the first."],
    ),
    "a promotion that ends before it begins": (
        ruled(When.PROMOTION, first=date(2027, 5, 1), last=date(2027, 4, 1)),
        ["rules 0 last: 1 Apr 2027 is before its first day. Correct one of the two days."],
    ),
    "a country nobody names": (
        ruled(When.COUNTRY, Does.LEAVE_OUT),
        [
            "rules 0 countries: name the countries that may not get it. Write their two letters of ISO 3166, with commas."
        ],
    ),
    "a country that is none": (
        ruled(When.COUNTRY, Does.LEAVE_OUT, countries=("UK",)),
        [
            "rules 0 countries: UK holds 'UK', no country code of ISO 3166-1: write GB. Write their two letters of ISO "
            "3166, with commas."
        ],
    ),
    "things no rule can name": (
        with_rows(
            tiny_month(),
            "rules",
            [
                Rule(code=item, when=When.EVERY, does=Does.LEAVE_OUT, item=item)
                for item in ("CARTON", "RIBBON", "BRAD", "RIBBON@1500 mm", "DAISY/tag")
            ],
        ),
        [
            "rules 0 item: CARTON is packaging, which no rule changes. Name a material that is none.",
            "rules 1 item: RIBBON is a whole roll. Write a length the kit has of it: RIBBON@1500 mm.",
            "rules 2 item: BRAD is no material, pre-cut or recipe, and no length of the kit. Did you mean BRADS?",
        ],
    ),
    "what only other rules look at": (
        ruled(When.FIRST, number=3, last=date(2027, 4, 1), promotion="MAY"),
        [
            "rules 0 number: 3 is no part of a rule for first box. Empty the cell, or write nth box or anniversary.",
            "rules 0 last: 1 Apr 2027 is no part of a rule for first box. Empty the cell, or write promotion.",
            "rules 0 promotion: MAY is no part of a rule for first box. Empty the cell, or write promotion.",
        ],
    ),
    "a tier nobody has": (
        ruled(tiers=("FUL", "HALF", "HALF")),
        [
            "rules 0 tiers: FUL is not on the Tiers sheet. Did you mean FULL?",
            "rules 0 tiers: HALF is named twice. Name it once.",
        ],
    ),
    "codes in small letters": (
        replace(promised("May", "A,B"), rules=ruled(When.PROMOTION, promotion="may").rules),
        [
            "rules 0 promotion: may is no code in capitals. Write MAY.",
            "subscribers 0 promotions: May is no code in capitals. Write MAY.",
            "subscribers 0 promotions: A,B is no code in capitals. Write AB.",
        ],
    ),
}
