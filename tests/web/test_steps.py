"""The pages of the steps: each shows its figures, the sums behind them, and what is proved."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from django.test import Client

from kits.models import Month
from planning import load, save
from planning.models import Job, Plan, State
from planning.run import make_plan
from planning.views.parts import Pages
from planning.views.steps import STEPS
from tests.web.small_month import SMALL_MONTH

Show = Callable[[str], str]


@pytest.fixture
def show(desk: Client, plan: Plan) -> Show:
    """Return show(step): the page of a step."""

    def page(step: str) -> str:
        answer = desk.get(f"/months/{plan.month_id}/{step}")
        assert answer.status_code == 200
        return answer.content.decode()

    return page


@pytest.mark.parametrize("step", STEPS)
def test_it_works(show: Show, step: str) -> None:
    page = show(step)
    assert f"<h1>{step.capitalize()}</h1>" in page
    assert f'/{step}" aria-current="page"' in page
    assert "style=" not in page  # the content security policy would drop it
    assert 'class="stamp"' in page


@pytest.mark.parametrize("step", STEPS)
def test_before_there_is_a_plan_it_says_what_it_waits_for(desk: Client, month: Month, step: str) -> None:
    page = desk.get(f"/months/{month.pk}/{step}").content.decode()
    assert "waits for the month to be planned" in page
    assert "Plan this month</button>" in page


# Five people: S1 gets two boxes, S2 one (her first), S4 one with six tags; S3 skips, S5 is not active. Four boxes.


def test_the_roster_shows_boxes_by_tier_and_who_is_left_out(show: Show) -> None:
    page = show("roster")
    assert "<b>4</b>" in page
    assert "Skips this month" in page
    assert "Full, 6 Tag 2 1/2 × 3 1/2 (add-on order)" in page


def test_requirements_show_the_sum_behind_each_line(show: Show) -> None:
    # Tags: 3 Full kits x 4 + 6 ordered once = 18 good, 2 overs, 2 from the shelf: 18 to cut.
    page = show("requirements")
    assert "3 × Full kit × 4" in page
    assert "= 18 good + 2 overs − 2 from the shelf = 18" in page


def test_cutting_shows_each_ticket_as_a_drawing_with_the_same_numbers(show: Show) -> None:
    page = show("cutting")
    assert page.count('<svg xmlns="http://www.w3.org/2000/svg" class="drawing"') >= 2
    assert "All pieces" in page
    assert "Proved: no cutting plan uses fewer sheets." in page
    assert ", on the tickets" in page
    assert (
        "The machine&#x27;s manual, local rules and trained staff come before anything on this page." in page
    )


def test_buying_shows_what_is_late_and_why_as_many(show: Show) -> None:
    page = show("buying")
    assert '<strong class="need">Late</strong>' in page
    assert "sold in lots of" in page or "the supplier&#x27;s minimum is 25" in page


def test_packing_shows_weight_stack_and_waves(show: Show) -> None:
    page = show("packing")
    assert "All lie flat" not in page  # that is the month page's
    assert "Flat Carton" in page
    assert "of at most 4 each" in page


def test_shipping_shows_what_cannot_be_in_time(show: Show) -> None:
    page = show("shipping")
    assert "Full, 6 Tag 2 1/2 × 3 1/2 (add-on order) to far" in page
    assert "13 Apr 2027" in page


def test_cost_sums_up_and_shows_a_loss(show: Show) -> None:
    page = show("cost")
    assert "Costs more than its price" in page
    assert "kits = " in page


def test_balance_shows_every_line(show: Show) -> None:
    page = show("balance")
    for name in ("Shore White", "Reed Ribbon", "Welcome Fold", "Flat Carton"):
        assert name in page


# --- Long tables ---


def test_a_long_table_is_shown_page_by_page(desk: Client) -> None:
    [one, *_] = SMALL_MONTH.subscribers
    many = tuple(replace(one, reference=f"S{i}", quantity=1) for i in range(250))
    club = replace(SMALL_MONTH.club, cart_boxes=1)
    week = tuple(replace(day, minutes=10_000) for day in SMALL_MONTH.week)
    month = save.month(replace(SMALL_MONTH, club=club, subscribers=many, orders=(), week=week))
    planned = make_plan(load.month(month.pk), 1, datetime(2027, 3, 1, 9, tzinfo=UTC))
    save.plan(Job.objects.create(key="x", kind="plan", month=month, state=State.DONE), planned, "nowhere", [])
    url = f"/months/{month.pk}/packing"
    first, last = desk.get(url).content.decode(), desk.get(f"{url}?waves=3").content.decode()
    assert "1 to 100 of 250" in first
    assert "201 to 250 of 250" in last
    assert 'waves=3" aria-current="page">3</a>' in last
    assert "201 to 250 of 250" in desk.get(f"{url}?waves=99").content.decode()
    assert desk.get(f"{url}?waves=x").status_code == 404


def test_of_many_pages_the_ends_and_those_nearby_are_shown() -> None:
    assert Pages("waves", 1, 250).numbers == [1, 2, 3]
    assert Pages("waves", 10, 2_000).numbers == [1, 0, 8, 9, 10, 11, 12, 0, 20]
    assert Pages("waves", 3, 2_000).numbers == [1, 2, 3, 4, 5, 0, 20]
