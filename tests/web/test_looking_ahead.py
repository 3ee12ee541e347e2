"""How much over, the months to come, and short supply: their pages, and what is decided there."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings as live_settings
from django.test import Client
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning import load, save
from planning.models import BuyFor, Plan
from tests.support.effort import thorough
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH

PAGES = ("overs", "lots", "short-supply")

# The maker of the welcome fold has given it up: S2's first box goes without, or holds two sheets of Shore White.
NO_FOLDS = replace(
    SMALL_MONTH,
    offers=tuple(one for one in SMALL_MONTH.offers if one.material != "FOLD"),
    price_breaks=tuple(one for one in SMALL_MONTH.price_breaks if one.offer != "TRIM-FOLD"),
)


@pytest.fixture
def short_plan(db: None) -> Plan:
    """The plan of a month in which one box goes short."""
    return plan_of(save.month(NO_FOLDS))


def text(answer: Any) -> str:
    return str(answer.content.decode())


@pytest.mark.parametrize("page", PAGES)
def test_it_works(desk: Client, plan: Plan, page: str) -> None:
    answer = desk.get(f"/months/{plan.month_id}/{page}")
    assert answer.status_code == 200
    assert '/buying" aria-current="page"' in text(answer)
    assert f'/{page}" aria-current="page"' in text(answer)
    assert "style=" not in text(answer)


@pytest.mark.parametrize("page", PAGES)
def test_before_there_is_a_plan_it_says_what_it_waits_for(desk: Client, month: Month, page: str) -> None:
    assert "waits for the month to be planned" in text(desk.get(f"/months/{month.pk}/{page}"))


@pytest.mark.parametrize("page", PAGES)
def test_nobody_else_sees_it(client: Client, plan: Plan, page: str) -> None:
    assert client.get(f"/months/{plan.month_id}/{page}").status_code == 302


# --- How much over ---


def test_the_curve_of_a_tier_stands_beside_its_table(desk: Client, plan: Plan) -> None:
    page = text(desk.get(f"/months/{plan.month_id}/overs?item=kit:HALF"))
    assert "Expected cost of Half against quantity" in page  # the drawing's title
    assert "So many to have, in boxes" in page
    assert "(least)" in page
    assert "whole kits: Full" in page


def test_a_choice_is_kept_shown_at_once_and_forgotten(desk: Client, plan: Plan) -> None:
    url = f"/months/{plan.month_id}/overs?item=kit:FULL"
    before = plan.month.fingerprint
    assert desk.post(url, {"quantity": "7"}).status_code == 302
    plan.month.refresh_from_db()
    assert BuyFor.objects.get(month=plan.month, item="FULL").quantity == 7
    assert plan.month.fingerprint != before
    page = text(desk.get(url))
    assert "Kept: 7 boxes of Full" in page
    assert "yours: 7" in page
    assert "7 (yours)" in page
    desk.post(url, {"act": "forget"})
    assert not BuyFor.objects.filter(item="FULL").exists()
    plan.month.refresh_from_db()
    assert plan.month.fingerprint == before


def test_what_is_no_quantity_is_told_and_stays_typed(desk: Client, plan: Plan) -> None:
    answer = desk.post(f"/months/{plan.month_id}/overs?item=kit:FULL", {"quantity": "a few"})
    assert answer.status_code == 422
    assert "is not a count" in text(answer)
    assert 'value="a few"' in text(answer)
    assert text(answer).count("<title>Error: ") == 1
    assert not BuyFor.objects.filter(item="FULL").exists()


def test_a_tier_without_outlook_has_no_curve(desk: Client) -> None:
    certain = replace(SMALL_MONTH, outlooks=(), quantiles=(), past=(), stayed=())
    plan = plan_of(save.month(certain))
    page = text(desk.get(f"/months/{plan.month_id}/overs"))
    assert "Add it to the sheet Count outlook" in page
    assert "Keep as my choice" not in page


# --- The months to come ---


def test_orders_for_later_months_are_kept_as_choices(desk: Client, plan: Plan) -> None:
    # Shore White: this month's need and 40 in May; freight of 6.00 is dearer than keeping 40 sheets
    url = f"/months/{plan.month_id}/lots"
    page = text(desk.get(url))
    assert "For April 2027 to May 2027" in page
    assert "Order 1 material for later months now" in page
    desk.post(url)
    kept = BuyFor.objects.get(month=plan.month, item="SHORE")
    planned = load.planned(plan).plan
    assert planned.lots is not None
    [order] = planned.lots.orders
    assert kept.quantity == 3 + order.lines[0].quantity  # three are on the shelf


def test_without_a_forecast_it_says_where_one_is_written(desk: Client) -> None:
    plan = plan_of(save.month(replace(SMALL_MONTH, forecasts=())))
    assert "Add rows to the sheet Coming months" in text(desk.get(f"/months/{plan.month_id}/lots"))


# --- Short supply ---


def test_where_nothing_is_short_it_says_so(desk: Client, plan: Plan) -> None:
    page = text(desk.get(f"/months/{plan.month_id}/short-supply"))
    assert "Nothing is short: every box holds what was planned." in page
    assert "Try this rule" not in page


def test_the_box_that_goes_short_is_named_with_what_lies_in_it_instead(
    desk: Client, short_plan: Plan
) -> None:
    page = text(desk.get(f"/months/{short_plan.month_id}/short-supply"))
    assert "Bram O’Hare" in page
    assert "Welcome Fold" in page
    assert "Plain &amp; unprinted; 2 for each one" in page
    [paper] = short_plan.papers.filter(name="short-boxes.csv")
    assert f"/papers/{paper.pk}" in text(desk.get(f"/months/{short_plan.month_id}/documents"))
    listed = (Path(live_settings.ARTEFACTS_DIR) / paper.path).read_text("utf-8-sig").splitlines()
    assert len(listed) == 2
    assert listed[1].split(",")[1:4] == ["S2", "Bram O’Hare", "HALF"]


def test_another_rule_is_tried_and_kept(desk: Client, short_plan: Plan) -> None:
    url = f"/months/{short_plan.month_id}/short-supply"
    page = text(desk.get(f"{url}?rule=joining+date"))
    assert "Keep this rule" in page
    assert "By joining date" in page
    before = short_plan.month.fingerprint
    desk.post(url, {"rule": "joining date"})
    short_plan.month.refresh_from_db()
    assert short_plan.month.short_goods == "joining date"
    assert short_plan.month.fingerprint != before
    assert load.month(short_plan.month_id).club.short_goods.value == "joining date"


def test_a_rule_nobody_knows_is_the_one_that_is_kept(desk: Client, short_plan: Plan) -> None:
    assert "Keep this rule" not in text(desk.get(f"/months/{short_plan.month_id}/short-supply?rule=luck"))


# --- In a browser ---


@pytest.fixture
def no_complaints(complaints: list[str]) -> list[str]:
    return complaints


@thorough
def test_a_buyer_chooses_by_keyboard(
    at_desk: Page, plan: Plan, live_server: LiveServer, no_complaints: Callable[[], None]
) -> None:
    at_desk.set_viewport_size({"width": 320, "height": 800})
    at_desk.goto(f"{live_server.url}/months/{plan.month_id}/overs")
    assert at_desk.evaluate("document.documentElement.scrollWidth") <= 320
    at_desk.get_by_label("Have at least (boxes)").fill("6")
    at_desk.keyboard.press("Enter")
    expect(at_desk.get_by_role("status")).to_contain_text("Kept: 6 boxes of Full")
