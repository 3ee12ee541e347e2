"""The tiny month with a past and ranges that cannot be, each with the one fault it makes, word for word."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from planning.calendar import YearMonth
from planning.chances.rows import Uncertain, Unsure
from planning.forecast.rows import Announcement, CountByHand, PastTier, Stayed
from planning.lots.rows import Forecast
from planning.month import Month
from planning.overs.rows import Outlook
from tests.support.months import tiny_month

TINY = tiny_month()
THIS = TINY.club.month  # April 2027


def month(text: str) -> YearMonth:
    return YearMonth.parse(text)


def past(text: str, boxes: int, joined: int = 0, left: int = 0, tier: str = "FULL", **away: int) -> PastTier:
    return PastTier(in_month=month(text), tier=tier, joined=joined, left=left, boxes=boxes, **away)


JANUARY, MARCH = past("2027-01", 10), past("2027-03", 11, 1)
FEBRUARY = past("2027-02", 9, 2, 2, skipped=1)
STAYED = (
    Stayed(joined=month("2026-12"), in_month=month("2027-01"), members=10),
    Stayed(joined=month("2026-12"), in_month=month("2027-02"), members=8),
    Stayed(joined=month("2027-02"), in_month=month("2027-02"), members=2),
)


def told(*rows: PastTier, **tables: Any) -> Month:
    return replace(TINY, past=rows, **tables)


def unsure(what: Unsure, low: str, high: str, item: str = "") -> Month:
    row = Uncertain(what=what, item=item, low=Decimal(low), likely=Decimal(1), high=Decimal(high))
    return replace(TINY, uncertain=(row,))


def by_hand(low: int, likely: int, high: int) -> CountByHand:
    return CountByHand(in_month=month("2027-05"), low=low, likely=likely, high=high, why="a fair")


PAST_MONTH = "Write a row for every month and tier; one in which nothing was sent has 0 sent."

BROKEN_PAST: dict[str, tuple[Month, list[str]]] = {
    "a past with a gap": (
        told(JANUARY, past("2027-03", 10)),
        [
            f"past 1 in_month: 2027-03 follows 2027-01, and 2027-02 is missing between them. {PAST_MONTH}",
            "past 1 boxes: FULL in 2027-03: 0 before + 0 - 0 is not 10 sent + 0 skipped + 0 paused = 10. Put one of the "
            "figures right; who changes tiers leaves one and joins the other.",
        ],
    ),
    "a past in the wrong order": (
        told(FEBRUARY, JANUARY),
        ["past 1 in_month: 2027-01 stands below 2027-02. Write the months from the earliest to the latest."],
    ),
    "a past that is not over": (
        told(JANUARY, FEBRUARY, past("2027-03", 10), past("2027-04", 10), past("2027-05", 10)),
        [
            "past 4 in_month: 2027-05 is later than the month that is planned, 2027-04. Write months that are over."
        ],
    ),
    "a past long gone": (
        told(past("2025-08", 5), past("2025-09", 5)),
        [
            "past None None: 2025-09 is the last month told of, more than 18 months before 2027-04. Add the months since, "
            "or empty the sheet."
        ],
    ),
    "a past that does not add up": (
        told(JANUARY, past("2027-02", 12, 4, 1)),
        [
            "past 1 boxes: FULL in 2027-02: 10 before + 4 - 1 is not 12 sent + 0 skipped + 0 paused = 12. Put one of the "
            "figures right; who changes tiers leaves one and joins the other."
        ],
    ),
    "fewer boxes than none": (
        told(JANUARY, past("2027-02", -1, 0, 11)),
        ["past 1 boxes: -1 is negative. Write 0 to 10,000,000."],
    ),
    "a tier that vanishes": (
        told(JANUARY, past("2027-02", 3, 3, tier="HALF")),
        [
            "past 0 tier: FULL has 10 boxes in 2027-01 and no row in 2027-02. Add that row; who gave theirs up has left."
        ],
    ),
    "who stayed, fewer than there were": (
        told(JANUARY, FEBRUARY, stayed=STAYED[:2]),
        [
            "stayed None None: 8 boxes in 2027-02 by the month of joining are not the 10 of Past months. Write all who were "
            "there, or empty the sheet if nobody knows."
        ],
    ),
    "who stayed, more than before": (
        told(
            JANUARY,
            FEBRUARY,
            MARCH,
            stayed=(*STAYED, replace(STAYED[2], in_month=month("2027-03"), members=11)),
        ),
        [
            "stayed 3 members: 11 of those who joined in 2027-02 are more than the 2 of the month before. Who comes back "
            "joins anew in that month."
        ],
    ),
    "who stayed before they joined": (
        told(JANUARY, FEBRUARY, stayed=(*STAYED, replace(STAYED[2], in_month=month("2027-01"), members=0))),
        ["stayed 3 in_month: 2027-01 is before 2027-02, in which they joined. Put one of the months right."],
    ),
    "who stayed in a month nobody tells of": (
        told(JANUARY, FEBRUARY, stayed=(*STAYED, replace(STAYED[2], in_month=month("2027-03"), members=2))),
        [
            "stayed 3 in_month: 2027-03 is no month of the sheet Past months. Add it there, or take the row out."
        ],
    ),
    "more joined than joined": (
        told(JANUARY, past("2027-02", 10, 1, 1), stayed=STAYED),
        ["stayed 2 members: 2 joined in 2027-02, more than the 1 of Past months. Put one of the two right."],
    ),
    "a count by hand that does not rise": (
        replace(TINY, by_hand=(by_hand(9, 8, 10),)),
        ["by_hand 0 low: 9, 8, 10 do not rise. Write low, likely and high, rising."],
    ),
    "a count by hand without a reason": (
        replace(TINY, by_hand=(replace(by_hand(7, 8, 10), why=" "),)),
        ["by_hand 0 why: it is empty. Fill it in."],
    ),
    "a change that ends before it begins": (
        replace(
            TINY,
            announced=(
                Announcement(first=month("2027-06"), last=month("2027-05"), boxes=-5, why="a shop closes"),
            ),
        ),
        ["announced 0 last: 2027-05 is before 2027-06, in which it begins. Put one of the months right."],
    ),
    "a range that does not rise": (
        unsure(Unsure.SURCHARGE, "2", "9"),
        ["uncertain 0 low: 2, 1, 9 do not rise. Write low, likely and high, rising."],
    ),
    "more spoiled than made": (
        unsure(Unsure.SPOILED, "0", "101"),
        ["uncertain 0 high: 101 % is more than all. Write at most 100."],
    ),
    "less spoiled than none": (
        unsure(Unsure.SPOILED, "-1", "2"),
        ["uncertain 0 low: -1 is negative. Write 0 to 1,000,000,000,000."],
    ),
    "a price of nothing": (
        unsure(Unsure.PRICE, "0", "2"),
        ["uncertain 0 item: it is not said whose price. Name the material."],
    ),
    "a surcharge on a material": (
        unsure(Unsure.SURCHARGE, "0", "2", "BRADS"),
        ["uncertain 0 item: BRADS has nothing to do with carrier surcharge (%). Empty the cell."],
    ),
    "an outlook left to a past of one month": (
        told(JANUARY, outlooks=(Outlook(tier="FULL"),)),
        [
            "outlooks 0 low: FULL has neither low, likely and high nor rows on Count quantiles. Fill in one of them, or two "
            "months or more of Past months to have it forecast."
        ],
    ),
    "units of a month that is not forecast": (
        told(JANUARY, FEBRUARY, forecasts=(Forecast(material="BRADS", needed_in=month("2027-10")),)),
        [
            "forecasts 0 units: for 2027-10 are not written, and no count is forecast for that month. Write them, or fill "
            "in Past months: 6 months from 2027-04 on are then forecast."
        ],
    ),
}
