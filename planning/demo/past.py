"""The demo club's own past: three years and four months of who joined, stayed and left; what it knows of the months ahead.

Of those who joined, one in so many leaves in the first month, one in a few more in the next and so on; what looks like
chance is arithmetic. Everything is in proportion to the boxes of the month that is planned.
"""

from collections.abc import Iterator
from decimal import Decimal
from functools import partial
from itertools import accumulate

from kits.measures import split_count
from planning.calendar import YearMonth
from planning.chances.rows import Uncertain, Unsure
from planning.demo.kit import BRANCH, LEAF, ORCHARD
from planning.demo.luck import Luck
from planning.forecast.rows import Announcement, CountByHand, PastTier, PromotedMonth, Stayed

MONTHS = tuple(YearMonth(2024 + at // 12, at % 12 + 1) for at in range(40))  # to April 2027
FOUNDERS = (  # month of joining, and how many of a thousand of today's boxes were there in January 2024
    (YearMonth(2021, 9), 96),
    (YearMonth(2022, 3), 88),
    (YearMonth(2022, 10), 101),
    (YearMonth(2023, 3), 110),
    (YearMonth(2023, 10), 128),
)
SEASON = (
    70,
    62,
    58,
    56,
    50,
    44,
    40,
    44,
    62,
    78,
    92,
    96,
)  # joining, of a thousand of today's boxes, from January on
PROMOTED = (YearMonth(2024, 10), YearMonth(2025, 3), YearMonth(2025, 10), YearMonth(2026, 10))
TIERS, SHARES = (ORCHARD, BRANCH, LEAF), (540, 270, 190)
LEAVE, STAY = 1, 8  # of those who join one in nine leaves at once, of those who stayed one in ten, ...

PROMOTED_MONTHS = (
    *(PromotedMonth(in_month=month, note="First box at half price") for month in PROMOTED),
    PromotedMonth(in_month=YearMonth(2027, 10), note="First box at half price"),
)


def cohorts(boxes: int) -> dict[YearMonth, list[int]]:
    """Return for each month of joining how many boxes were still taken in each month since January 2024."""
    found: dict[YearMonth, list[int]] = {}
    joined = {month: boxes * share // 1_000 for month, share in FOUNDERS}
    for at, month in enumerate(MONTHS):
        share = SEASON[month.month - 1] * (110 if month in PROMOTED else 72) + Luck(7_000 + at).below(900)
        joined[month] = (boxes * share * (100 + at) + Luck(6_000 + at).below(12_500_000)) // 12_500_000
    for at, (month, count) in enumerate(joined.items()):
        age = max(0, (2024 - month.year) * 12 + 1 - month.month)
        tenures = range(age + 1, age + len(MONTHS) - max(0, MONTHS.index(month) if month in MONTHS else 0))
        found[month] = list(accumulate(tenures, partial(stayed, at), initial=count))
    return found


def stayed(cohort: int, here: int, tenure: int) -> int:
    """Return how many of those here stay another month; what is less than a whole box is lost or not, by luck."""
    luck = Luck(10_000 + 1_000 * cohort + tenure)
    share = 1_000 * LEAVE // (LEAVE + STAY + tenure - 1)
    return here - (here * share * (70 + luck.below(61)) + luck.below(100_000)) // 100_000


def who_stayed(boxes: int) -> tuple[Stayed, ...]:
    """Return who joined when and was still there, month by month."""
    return tuple(
        Stayed(joined=joined, in_month=month, members=count)
        for joined, counts in cohorts(boxes).items()
        for month, count in zip(MONTHS[-len(counts) :], counts, strict=True)
    )


def past(boxes: int) -> tuple[PastTier, ...]:
    """Return each tier's boxes month by month; some change tiers."""
    own = cohorts(boxes)
    before: tuple[int, ...] = (0, 0, 0)
    rows: list[PastTier] = []
    for at, month in enumerate(MONTHS):
        there = sum(counts[at - len(MONTHS)] for counts in own.values() if len(counts) >= len(MONTHS) - at)
        members = split_count(there, (SHARES[0], SHARES[1] + at, SHARES[2] - at))
        new = split_count(own[month][0] if at else there, SHARES)
        rows += tier_rows(month, before, members, new, Luck(9_000 + at))
        before = members
    return tuple(rows)


def tier_rows(
    month: YearMonth,
    before: tuple[int, ...],
    members: tuple[int, ...],
    new: tuple[int, ...],
    luck: Luck,
) -> Iterator[PastTier]:
    """Yield a month's row of each tier."""
    for tier, was, here, joins in zip(TIERS, before, members, new, strict=True):
        left = max(0, was + joins - here)
        skipped, paused = here * (6 + luck.below(12)) // 1_000, here * (4 + luck.below(8)) // 1_000
        yield PastTier(
            in_month=month,
            tier=tier,
            joined=here - was + left,
            left=left,
            skipped=skipped,
            paused=paused,
            boxes=here - skipped - paused,
        )


def announced(boxes: int) -> tuple[Announcement, ...]:
    """Return what is known to come."""
    return (
        Announcement(
            first=YearMonth(2027, 7),
            boxes=boxes * 3 // 100,
            why="a stationer’s in Marlow Wick takes them from July on",
        ),
    )


def by_hand(boxes: int) -> tuple[CountByHand, ...]:
    """Return what somebody knows better."""
    return (
        CountByHand(
            in_month=YearMonth(2027, 8),
            low=boxes * 95 // 100,
            likely=boxes * 102 // 100,
            high=boxes * 110 // 100,
            why="the summer fair in August sells more single boxes than the past says",
        ),
    )


UNCERTAIN = (
    Uncertain(
        what=Unsure.SPOILED,
        low=Decimal("0.2"),
        likely=Decimal("0.5"),
        high=Decimal("1.5"),
        note="Beyond the overs, as in the last year",
    ),
    Uncertain(what=Unsure.DAMAGED, low=Decimal("0.2"), likely=Decimal("0.4"), high=Decimal("1.2")),
    Uncertain(
        what=Unsure.SURCHARGE,
        low=Decimal(0),
        likely=Decimal(3),
        high=Decimal(9),
        note="Fuel, told on the 20th of the month",
    ),
    Uncertain(
        what=Unsure.PRICE,
        item="BUTTONS",
        low=Decimal("0.075"),
        likely=Decimal("0.085"),
        high=Decimal("0.12"),
        note="The carver has not answered yet",
    ),
)
