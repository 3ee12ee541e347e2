"""The months ahead and the month's chances: their pages, and where somebody says what they know better."""

from dataclasses import replace

import pytest
from django.test import Client

from kits.models import Month
from planning import save
from planning.models import CountByHand, Plan
from planning.monthfile.sheets import BY_TABLE
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH
from tests.web.test_looking_ahead import text

PAGES = ("months-ahead", "chances")
SURE = replace(SMALL_MONTH, past=(), stayed=(), outlooks=(), quantiles=(), uncertain=())


@pytest.mark.parametrize("page", PAGES)
def test_it_works(desk: Client, plan: Plan, page: str) -> None:
    answer = desk.get(f"/months/{plan.month_id}/{page}")
    assert answer.status_code == 200
    assert f'/{page}" aria-current="page"' in text(answer)
    assert "style=" not in text(answer)
    assert "NaN" not in text(answer)


@pytest.mark.parametrize("page", PAGES)
def test_before_there_is_a_plan_it_says_what_it_waits_for(desk: Client, month: Month, page: str) -> None:
    assert "waits for the month to be planned" in text(desk.get(f"/months/{month.pk}/{page}"))


@pytest.mark.parametrize(
    ("page", "said"), [("months-ahead", "Fill in the sheet Past months"), ("chances", "Nothing is uncertain")]
)
def test_where_there_is_nothing_to_say_it_names_the_sheet(desk: Client, page: str, said: str) -> None:
    plan = plan_of(save.month(SURE), with_papers=False)
    assert said in text(desk.get(f"/months/{plan.month_id}/{page}"))


def test_the_fan_stands_beside_its_table_with_the_method_and_its_score(desk: Client, plan: Plan) -> None:
    page = text(desk.get(f"/months/{plan.month_id}/months-ahead"))
    assert "Boxes month by month" in page  # the drawing's title
    assert "April 2027" in page
    assert "as many as last month" in page
    assert "(followed)" in page
    assert "2, 4, 9" in page  # July by hand
    assert "3 months of history" in page  # it is wide, and says so


def test_what_somebody_knows_better_is_kept_with_its_reason_and_counts_from_the_next_plan(
    desk: Client, plan: Plan
) -> None:
    page = text(desk.get(f"/months/{plan.month_id}/months-ahead"))
    assert "sheet=by_hand&amp;in_month=2027-05&amp;low=" in page  # the form is filled in with what was found
    typed = {"in_month": "2027-05", "low": "4", "likely": "6", "high": "9"}
    url = f"/months/{plan.month_id}/row?sheet=by_hand"
    refused = desk.post(url, typed | {"why": ""})
    assert refused.status_code == 422
    assert not CountByHand.objects.filter(month=plan.month, in_month="2027-05").exists()
    desk.post(url, typed | {"why": "a workshop fills the list"})
    kept = CountByHand.objects.get(month=plan.month, in_month="2027-05")
    assert (kept.low, kept.likely, kept.high, kept.why) == (4, 6, 9, "a workshop fills the list")
    assert "set by hand from the next plan on" in text(desk.get(f"/months/{plan.month_id}/months-ahead"))
    plan.month.refresh_from_db()
    again = plan_of(plan.month, with_papers=False)
    page = text(desk.get(f"/months/{again.month_id}/months-ahead"))
    assert "a workshop fills the list" in page
    assert "4, 6, 9" in page


def test_the_chances_say_cost_profit_loss_and_what_more_or_fewer_would_do(desk: Client, plan: Plan) -> None:
    page = text(desk.get(f"/months/{plan.month_id}/chances"))
    assert "chance of a loss" in page
    assert "Profit by one uncertainty at a time" in page
    assert "Price of Shore White (SHORE)" in page
    assert "the newsvendor&#x27;s choice" in page
    assert "More or fewer: Full" in page


def test_every_new_sheet_is_one_of_the_sheets_in_the_app(desk: Client, plan: Plan) -> None:
    for table in ("past", "stayed", "promoted", "announced", "by_hand", "uncertain"):
        answer = desk.get(f"/months/{plan.month_id}/rows?sheet={table}")
        assert answer.status_code == 200
        assert BY_TABLE[table].title in text(answer)


def test_what_the_month_adds_to_the_past_is_counted_from_its_roster(desk: Client, plan: Plan) -> None:
    # FULL: S1 takes two, S3 skips April, S4 one, S5 rests; there were 5 before and nobody joined. HALF: S2, new in April
    page = text(desk.get(f"/months/{plan.month_id}/months-ahead?over=1"))
    assert "What April 2027 adds to the past" in page
    begin = "sheet=past&amp;in_month=2027-04&amp;tier="
    assert f"{begin}FULL&amp;joined=0&amp;left=0&amp;skipped=1&amp;paused=1&amp;boxes=3" in page
    assert f"{begin}HALF&amp;joined=1&amp;left=2&amp;skipped=0&amp;paused=0&amp;boxes=1" in page
    assert "Still there, by month of joining" in page
