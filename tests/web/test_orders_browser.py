"""A buyer in a real browser: from the month page to a sent order and goods on the shelf, by what the pages say alone."""

import pytest
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from planning import ordering
from planning.models import Plan, PurchaseOrder
from planning.orders import State
from tests.stock.small_stock import faults_of_the_book
from tests.support.effort import thorough
from tests.web.test_browser import look_at


def state(number: str) -> State:
    [one] = ordering.kept(PurchaseOrder.objects.select_related("book").filter(number=number))
    return one.state


def test_a_buyer_goes_from_the_month_page_to_a_sent_order(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    page = at_desk
    page.goto(f"{live_server.url}/months/{plan.month_id}/")
    expect(page.get_by_text("2 orders of the plan not drafted.")).to_be_visible()
    page.get_by_role("main").get_by_role("link", name="Orders", exact=True).click()
    page.get_by_role("button", name="Make 2 drafts from the plan").click()
    expect(page.get_by_role("status")).to_have_text(
        "Orders HERON-2704-1 and HERON-2704-2 are drafted. Check each, then send it."
    )
    page.get_by_role("link", name="HERON-2704-1").click()
    page.get_by_role("link", name="Check and send").click()
    page.get_by_role("link", name="Change lines, prices, tax").click()
    page.get_by_label("Tax on every line, in percent").fill("20 %")
    page.get_by_role("button", name="Save and check").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="as PDF").click()
    assert download.value.suggested_filename == "HERON-2704-1-mill-version-1.pdf"
    page.get_by_role("button", name="Record as sent: 2 materials").click()
    expect(page.get_by_role("status")).to_have_text("Order HERON-2704-1 is recorded as sent.")
    assert state("HERON-2704-1") is State.SENT
    page.get_by_role("link", name="Receive").click()
    page.get_by_label("Good units that came, Shore White").fill("24")
    page.get_by_label("Damaged units that came, Shore White").fill("1")
    page.get_by_role("button", name="Enter what came").click()
    expect(page.get_by_role("status")).to_contain_text("still to come: 1 of Shore White")
    page.get_by_role("link", name="Stock", exact=True).click()
    expect(page.get_by_role("row", name="Shore White 24 1")).to_be_visible()
    assert faults_of_the_book() == ()


def test_a_form_that_is_refused_leads_to_its_fields(
    at_desk: Page, live_server: LiveServer, plan: Plan
) -> None:
    page = at_desk
    page.goto(f"{live_server.url}/months/{plan.month_id}/stock-adjust")
    page.get_by_label("By how many").fill("many")
    page.get_by_role("button", name="Enter the correction").click()
    expect(page).to_have_title("Error: Set the shelf right, Heron Lane Paper Club – Kit production planning")
    summary = page.get_by_role("alert")
    expect(summary).to_be_focused()
    summary.get_by_role("link", name="Reason").click()
    page.keyboard.type("recount")
    expect(page.get_by_label("Reason")).to_have_value("recount")
    expect(page.get_by_label("By how many")).to_have_value("many")


@thorough
def test_every_page_of_orders_and_stock(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    page, month = at_desk, f"{live_server.url}/months/{plan.month_id}"
    for empty in ("orders", "receipts", "stock", "stock-entries", "stock-issue"):
        look_at(page, f"{month}/{empty}")
    page.goto(f"{month}/orders")
    page.get_by_role("button", name="Make 2 drafts").click()
    page.goto(f"{month}/stock")
    page.get_by_role("button", name="Begin the book").click()
    first = "number=HERON-2704-1"
    for drafted in ("order", "order-edit", "order-check"):
        look_at(page, f"{month}/{drafted}?{first}")
    page.goto(f"{month}/order-check?{first}")
    page.get_by_role("button", name="Record as sent").click()
    for sent in ("order", "receive", "order-days", "order-close"):
        look_at(page, f"{month}/{sent}?{first}")
    for book in (
        "orders",
        "receipts",
        "stock",
        "stock-issue?plan=yes",
        "stock-count",
        "stock-adjust",
        "stock-cut",
        "stock-cut?ticket=1",
        "stock-take",
        "stock-check",
        "stock-entries",
        "stock-entry?entry=1",
        "stock-item?item=SHORE",
    ):
        look_at(page, f"{month}/{book}")


@pytest.mark.parametrize("width", [1280, 320])
def test_lines_can_be_typed_at_any_width(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str], width: int
) -> None:
    page, month = at_desk, f"{live_server.url}/months/{plan.month_id}"
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(f"{month}/orders")
    page.get_by_role("button", name="Make 2 drafts").click()
    page.goto(f"{month}/order-edit?number=HERON-2704-1")
    page.get_by_label("Quantity, Shore White").fill("50")
    page.get_by_label("Price each, Shore White").fill("")
    page.get_by_role("button", name="Save and check").click()
    expect(page.get_by_role("status")).to_have_text("The lines are saved.")
    [one] = ordering.kept(PurchaseOrder.objects.select_related("book").filter(number="HERON-2704-1"))
    assert one.order.goods[0].quantity == 50
