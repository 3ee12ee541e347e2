"""The desk in a real browser: rows pasted and taken back, a form somebody else was quicker with, everything by keyboard."""

import pytest
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month, Tier
from planning import load
from planning.models import Plan
from tests.support.effort import thorough
from tests.web.small_month import SMALL_MONTH
from tests.web.test_browser import look_at

BLOCK = "Code\tName\tPrice a box\nFULL\tFull\t£1,025\nGOLD\tGold\t40\nBAD\tBad\tmuch"


def test_a_block_is_pasted_by_keyboard_looked_at_and_taken_back(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    page = at_desk
    page.goto(f"{live_server.url}/months/{month.pk}/rows?sheet=tiers")
    page.get_by_role("link", name="Paste rows").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Rows", exact=True).focus()
    page.keyboard.insert_text(BLOCK)
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("row", name="4 C Price a box much")).to_be_visible()
    expect(page.get_by_role("row", name="2 FULL Price a box: 24 → 1025")).to_be_visible()
    look_at(page, page.url)
    with page.expect_download() as download:
        page.get_by_role("link", name="Download the refused rows").click()
    assert download.value.suggested_filename == "tiers-faults.xlsx"
    page.get_by_role("button", name="Add 1, change 1, leave out 1").click()
    expect(page.get_by_role("status")).to_contain_text("Tiers: a pasted block, 1 new, 1 changed.")
    assert [one.code for one in load.month(month.pk).tiers] == ["FULL", "HALF", "GOLD"]
    page.get_by_role("button", name="Take back Tiers: a pasted block").click()
    expect(page.get_by_role("status")).to_contain_text("Taken back")
    assert load.month(month.pk) == SMALL_MONTH


def test_a_form_somebody_else_was_quicker_with_shows_both_and_can_be_saved_over(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    mine, url = at_desk, f"{live_server.url}/months/{month.pk}/row?sheet=tiers&at=0"
    theirs = mine.context.new_page()
    for page in (mine, theirs):
        page.goto(url)
    theirs.get_by_label("Name", exact=True).fill("Theirs")
    theirs.get_by_role("button", name="Save").click()
    expect(theirs.get_by_role("status")).to_contain_text("Tiers: FULL changed.")
    mine.get_by_label("Name", exact=True).fill("Mine")
    mine.get_by_role("button", name="Save").click()
    expect(mine.get_by_role("alert")).to_be_focused()
    expect(mine).to_have_title("Error: FULL, Heron Lane Paper Club – Kit production planning")
    expect(mine.get_by_role("row", name="Name Mine Theirs")).to_be_visible()
    mine.get_by_role("button", name="Save mine over it").click()
    expect(mine.get_by_role("status")).to_contain_text("Tiers: FULL changed.")
    assert Tier.objects.get(month=month, code="FULL").name == "Mine"
    complaints[:] = [said for said in complaints if "422" not in said]


def test_anything_is_found_from_any_page(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    page = at_desk
    page.goto(f"{live_server.url}/months/{month.pk}/sheets")
    page.get_by_label("Find anything").fill("dvořáková")
    page.keyboard.press("Enter")
    page.get_by_role("link", name="S1", exact=True).click()
    page.get_by_role("button", name="Skip April 2027").click()
    expect(page.get_by_role("status")).to_contain_text("Roster: S1 changed.")
    expect(page.get_by_role("button", name="Send a box in April 2027")).to_be_visible()


@pytest.mark.parametrize("sheet", ["materials", "subscribers", "club"])
def test_a_sheet_s_pages_are_well_at_any_width(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str], sheet: str
) -> None:
    pages = (
        ["row?at=0&sheet="]
        if sheet == "club"
        else ["rows?sort=name&sheet=", "row?at=0&sheet=", "rows-paste?sheet="]
    )
    for each in pages:
        look_at(at_desk, f"{live_server.url}/months/{month.pk}/{each}{sheet}")


@thorough
def test_every_page_about_rows_is_well(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    month = f"{live_server.url}/months/{plan.month_id}"
    for each in (
        "sheets",
        "rows?sheet=roles&find=zzz",
        "rows?sheet=variants",
        "row?sheet=offers",
        "row-delete?sheet=materials&at=0",
        "rows-file?sheet=rates",
    ):
        look_at(at_desk, f"{month}/{each}")
    look_at(at_desk, f"{live_server.url}/search?find=mill&month={plan.month_id}")
    look_at(at_desk, f"{live_server.url}/search?find=zzz")
