"""Forecasts of an open series, scored against "as many as last month"."""

from planning.forecast import Cohort, ForecastProblem, PastMonth, forecast_faults, plan_forecast
from planning.forecast.model import month_of

# Monthly airline passengers in thousands, January 1949 to December 1960: series G of G. E. P. Box and G. M. Jenkins, Time
# Series Analysis, 1970. These are the 144 figures that the package sktime 1.2.0 carries as its data set Airline; they sum
# to 40,363 there.
PASSENGERS = """
    112 118 132 129 121 135 148 148 136 119 104 118 115 126 141 135 125 149 170 170 158 133 114 140
    145 150 178 163 172 178 199 199 184 162 146 166 171 180 193 181 183 218 230 242 209 191 172 194
    196 196 236 235 229 243 264 272 237 211 180 201 204 188 235 227 234 264 302 293 259 229 203 229
    242 233 267 269 270 315 364 347 312 274 237 278 284 277 317 313 318 374 413 405 355 306 271 306
    315 301 356 348 355 422 465 467 404 347 305 336 340 318 362 348 363 435 491 505 404 359 310 337
    360 342 406 396 420 472 548 559 463 407 362 405 417 391 419 461 472 535 622 606 508 461 390 432
"""


def test_a_series_with_trend_and_season_is_forecast_far_better_than_naive() -> None:
    """Whoever flies is a member for that month: so the series is forecast by who joins."""
    counts = [int(word) for word in PASSENGERS.split()]
    assert (len(counts), sum(counts)) == (144, 40_363)
    known, came = counts[:-6], counts[-6:]
    first = 1949 * 12
    problem = ForecastProblem(
        months=tuple(PastMonth(month=month_of(first + at)) for at in range(len(known))),
        cohorts=tuple(
            Cohort(joined=month_of(first + at), members=(count, *[0] * (len(known) - at - 1)))
            for at, count in enumerate(known)
        ),
    )
    result = plan_forecast(problem)
    assert forecast_faults(problem, result) == ()
    methods = {one.key: one for one in result.methods}
    assert result.method in ("flat-season", "shifted-season")
    share, held = methods[result.method].share, methods[result.method].held
    assert share is not None
    assert held is not None
    assert share < 50  # percent of naive's error, over the last year before
    assert held >= 60  # percent of what came lay between 10 and 90 %
    # and of the half-year that it was told nothing of: naive is off by 84.5 on average
    naive = sum(abs(count - known[-1]) for count in came) / 6
    off = sum(abs(count - month.boxes(50)) for count, month in zip(came, result.months, strict=True)) / 6
    assert off < naive / 2
