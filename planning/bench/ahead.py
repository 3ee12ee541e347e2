"""Looking ahead: a month's chances by ten thousand scenarios, and a club's count forecast from five years of history."""

from collections.abc import Callable, Iterator
from decimal import Decimal
from statistics import median
from time import process_time

from planning.bench.row import Row
from planning.chances import (
    ChancesProblem,
    GoodsStep,
    Line,
    Per,
    Range,
    TierChance,
    chances_faults,
    plan_chances,
)
from planning.forecast import Cohort, ForecastProblem, PastMonth, forecast_faults, plan_forecast
from planning.forecast.model import month_of
from planning.overs import Triangle

SCENARIOS, MOST_SECONDS, TIMES = 10_000, 3, 5
MONTHS, JOINING, FIRST = 60, 400, 2022 * 12
D = Decimal


def ahead_rows() -> Iterator[Row]:
    """Yield a row for each, with the median of the processor's seconds of some runs."""
    month, club = month_of_three_tiers(), steady_club()
    seconds = median(_spent(lambda: plan_chances(month)) for _ in range(TIMES))
    faults = chances_faults(month, plan_chances(month))
    told = f"{len(faults)} faults; at most {MOST_SECONDS} s: {'reached' if seconds <= MOST_SECONDS else 'MISSED'}"
    yield Row("chances, scenarios", None, SCENARIOS, None, told, seconds)
    seconds = median(_spent(lambda: plan_forecast(club)) for _ in range(TIMES))
    told = f"{len(forecast_faults(club, plan_forecast(club)))} faults"
    yield Row("forecast, months of history", None, MONTHS, None, told, seconds)


def _spent(work: Callable[[], object]) -> float:
    begun = process_time()
    work()
    return process_time() - begun


def month_of_three_tiers() -> ChancesProblem:
    """Return a month in which everything is uncertain that can be."""
    steps = (GoodsStep(from_kits=1, each=D("14.20")), GoodsStep(from_kits=1_300, each=D("12.90")))
    return ChancesProblem(
        tiers=tuple(
            TierChance(
                code=code,
                name=code,
                wanted=Triangle(D(low), D(low + 200), D(low + 600)),
                kits=low + 300,
                price=D(38),
                goods=steps,
                worth=D(6),
            )
            for code, low in (("FULL", 900), ("MINI", 400), ("FAMILY", 100))
        ),
        lines=(
            Line(name="Ribbon", per=Per.KIT, amount=Range(D("0.4"), D("0.6"), D("1.1"))),
            Line(name="Print", per=Per.KIT, amount=Range(D("0.9"), D("1.2"), D("1.4"))),
            Line(name="Postage", per=Per.BOX, amount=Range.sure(D("6.85")), surcharged=True),
            Line(name="Design", per=Per.MONTH, amount=Range.sure(D(9_500))),
        ),
        spoiled=Range(D("0.5"), D("1.5"), D(4)),
        damaged=Range(D("0.2"), D("0.5"), D("1.5")),
        surcharge=Range(D(0), D(4), D(12)),
        scenarios=SCENARIOS,
    )


def steady_club() -> ForecastProblem:
    """Return five years of a club in which as many join each month; in their n-th month one in 10 + n leaves."""
    kept = [JOINING]
    for tenure in range(1, MONTHS):
        kept.append(kept[-1] - kept[-1] // (10 + tenure))
    return ForecastProblem(
        months=tuple(PastMonth(month=month_of(FIRST + at)) for at in range(MONTHS)),
        cohorts=tuple(
            Cohort(joined=month_of(FIRST + at), members=tuple(kept[: MONTHS - at])) for at in range(MONTHS)
        ),
    )
