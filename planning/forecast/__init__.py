"""Forecast: the boxes of coming months, as a distribution. The rule is in `plan.py`, its checker is `check.py`."""

from planning.forecast.check import forecast_faults
from planning.forecast.model import (
    Announced,
    Cohort,
    ForecastError,
    ForecastProblem,
    ForecastResult,
    Kept,
    Method,
    MonthAhead,
    Override,
    PastMonth,
)
from planning.forecast.plan import plan_forecast

__all__ = [
    "Announced",
    "Cohort",
    "ForecastError",
    "ForecastProblem",
    "ForecastResult",
    "Kept",
    "Method",
    "MonthAhead",
    "Override",
    "PastMonth",
    "forecast_faults",
    "plan_forecast",
]
