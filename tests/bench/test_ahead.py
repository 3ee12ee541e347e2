from planning.bench.ahead import SCENARIOS, month_of_three_tiers, steady_club
from planning.chances import chances_faults, plan_chances
from planning.forecast import forecast_faults, plan_forecast


def test_what_is_measured_is_a_month_that_adds_up() -> None:
    month = month_of_three_tiers()
    result = plan_chances(month)
    assert (month.scenarios, chances_faults(month, result)) == (SCENARIOS, ())
    # the count, both rates, the surcharge and two lines
    assert len(result.swings) == 6


def test_what_is_measured_is_a_forecast_that_holds() -> None:
    club = steady_club()
    result = plan_forecast(club)
    assert forecast_faults(club, result) == ()
    assert all(one.tries for one in result.methods)
