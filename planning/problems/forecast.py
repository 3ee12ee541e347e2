"""The forecast's question: the club's past as cohorts, and what it knows of the months ahead; and its answer, tier by tier.

Where nobody knows when those who left had joined, they are taken out of all cohorts alike. One rate of loss for all is then
the only retention that can be asked for, and for that it makes no difference whom they are taken from.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from kits.measures import split_count
from planning.calendar import YearMonth
from planning.forecast import Announced, Cohort, ForecastProblem, ForecastResult, Override, PastMonth
from planning.forecast.model import month_of, serial
from planning.month import Month
from planning.overs import QuantilePoint, Quantiles

AHEAD = 6  # months, the one that is planned included where it is not over
FEWEST = 2  # months of the past
RECENT = 3  # months whose boxes say how a count is shared out over tiers
STEP = 5  # percent between the quantiles of a tier


def forecast_problem(month: Month) -> ForecastProblem | None:
    """Ask for the boxes of the months ahead; None where less than two months are told of."""
    if not is_told(month):
        return None
    months = months_told(month)
    after, ahead = serial(months[-1]), months_ahead(month)
    within = range(after + 1, after + ahead + 1)
    promoted = {row.in_month for row in month.promoted}
    away: Counter[tuple[YearMonth, str]] = Counter()
    for row in month.past:
        away[row.in_month, "skipped"] += row.skipped
        away[row.in_month, "paused"] += row.paused
    return ForecastProblem(
        months=tuple(
            PastMonth(
                month=one, skipped=away[one, "skipped"], paused=away[one, "paused"], promotion=one in promoted
            )
            for one in months
        ),
        cohorts=cohorts_told(month) if month.stayed else cohorts_alike(month),
        tenures=bool(month.stayed),
        promotions=tuple(sorted(one for one in promoted if serial(one) in within)),
        announced=tuple(
            Announced(first=row.first, last=row.last, boxes=row.boxes, why=row.why)
            for row in month.announced
            if serial(row.first) > after  # what began before is in the counts
        ),
        overrides=tuple(
            Override(month=row.in_month, low=row.low, likely=row.likely, high=row.high, why=row.why)
            for row in month.by_hand
            if serial(row.in_month) in within
        ),
        ahead=ahead,
    )


# --- What is told ---


def months_told(month: Month) -> tuple[YearMonth, ...]:
    """Return the months of the past."""
    return tuple(sorted({row.in_month for row in month.past}))


def is_told(month: Month) -> bool:
    """Tell whether there is past enough to forecast from."""
    return len(months_told(month)) >= FEWEST


def months_ahead(month: Month) -> int:
    """Return how many months a forecast is made of, from the last one told of on."""
    gone = serial(month.club.month) - serial(months_told(month)[-1])
    return gone + AHEAD - (gone > 0)


def is_forecast(month: Month, when: YearMonth) -> bool:
    """Tell whether a month is among those that are forecast."""
    if not is_told(month):
        return False
    return 0 < serial(when) - serial(months_told(month)[-1]) <= months_ahead(month)


def cohorts_told(month: Month) -> tuple[Cohort, ...]:
    """Return those who joined in one month, with how many were there in each month since."""
    months = months_told(month)
    counts: defaultdict[YearMonth, dict[YearMonth, int]] = defaultdict(dict)
    for row in month.stayed:
        counts[row.joined][row.in_month] = row.members
    return tuple(
        Cohort(
            joined=joined,
            members=tuple(counts[joined].get(one, 0) for one in months if one >= joined),
        )
        for joined in sorted(counts)
    )


def cohorts_alike(month: Month) -> tuple[Cohort, ...]:
    """Return cohorts of which each loses as large a share of its members as all do together."""
    months = months_told(month)
    here: Counter[YearMonth] = Counter()
    joined: Counter[YearMonth] = Counter()
    for row in month.past:
        here[row.in_month] += row.members
        joined[row.in_month] += row.joined
    before = month_of(serial(months[0]) - 1)
    live = {before: [max(0, here[months[0]] - joined[months[0]])]}
    live[months[0]] = [here[months[0]] - live[before][0]]
    for one in months[1:]:
        new = min(joined[one], here[one])
        there = [counts[-1] for counts in live.values()]
        kept = split_count(here[one] - new, there) if any(there) else there
        for counts, count in zip(live.values(), kept, strict=True):
            counts.append(count)
        live[one] = [new]
    return tuple(Cohort(joined=one, members=tuple(counts)) for one, counts in live.items())


# --- What is forecast, tier by tier ---


def tier_counts(month: Month, forecast: ForecastResult | None) -> Mapping[str, Quantiles]:
    """Return each tier's boxes in the month that is planned, where that is forecast: its recent share of the count.

    Tiers nobody took of late have none.
    """
    found = (
        next((one for one in forecast.months if one.month == month.club.month), None) if forecast else None
    )
    if found is None:
        return {}
    points = [(at, found.boxes(at)) for at in range(0, 101, STEP)]
    return {
        tier: Quantiles(
            tuple(QuantilePoint(Decimal(percent), Decimal(round(boxes * share))) for percent, boxes in points)
        )
        for tier, share in tier_shares(month).items()
    }


def tier_shares(month: Month) -> Mapping[str, Fraction]:
    """Return which part of the boxes of the last months each tier of today had."""
    recent = months_told(month)[-RECENT:]
    known = {tier.code for tier in month.tiers}
    boxes: Counter[str] = Counter()
    for row in month.past:
        if row.in_month in recent and row.tier in known:
            boxes[row.tier] += row.boxes
    return {tier: Fraction(count, boxes.total()) for tier, count in boxes.items() if count}


def expected_boxes(forecast: ForecastResult | None, when: YearMonth) -> int | None:
    """Return the boxes of a month in the middle of its forecast; None where it is not forecast."""
    found = next((one for one in forecast.months if one.month == when), None) if forecast else None
    return None if found is None else found.boxes(50)
