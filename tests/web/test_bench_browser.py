"""The bench's screen in real browsers: a scanner's keys, a finger, a network that goes away, two benches at once."""

import pytest
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning.at_bench.people import add_packer
from planning.models import Bench, BoxWork
from planning.packed import Status
from tests.at_bench.conftest import AtBench, lines, release_month
from tests.support.effort import thorough
from tests.web.test_browser import look_at

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def released_month(db: None) -> Month:
    month = release_month(weigh=True)
    add_packer(month.code, "Anna", "2580")
    return month


def signed_in(page: Page, live_server: LiveServer, month: Month, name: str, pin: str, bench: str) -> Page:
    """Sign in at a bench by keyboard alone."""
    page.goto(f"{live_server.url}/months/{month.pk}/bench")
    page.get_by_label("Your name").select_option(label=name)
    page.get_by_label("PIN").focus()
    page.keyboard.type(pin)
    page.keyboard.press("Tab")
    page.keyboard.type(bench)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text(bench)
    return page


def scan(page: Page, text: str, end: str = "Enter") -> None:
    """Type as a scanner does, wherever the focus is."""
    page.keyboard.type(text)
    page.keyboard.press(end)


def test_a_box_is_packed_with_a_scanner_and_what_is_wrong_stops_it(
    at_desk: Page, live_server: LiveServer, released_month: Month, complaints: list[str]
) -> None:
    page = signed_in(at_desk, live_server, released_month, "Anna", "2580", "Bench 1")
    anna = AtBench(released_month, Bench())
    mark = page.locator("#mark")
    expect(page.get_by_label("Scan or type a code")).to_be_focused()
    scan(page, "HERON2704000001X")
    expect(mark).to_contain_text("is neither a box nor an item")
    scan(page, f"{anna.code(3)}/1", "Tab")
    expect(mark).to_contain_text("is in hand")
    expect(page.locator("#box-whose")).to_contain_text("Bram O’Hare")
    for line in lines(anna.released, 3):
        for _ in range(line.count):
            page.evaluate("before = { text: '', at: 0 }")  # as if 1.5 s had gone by
            scan(page, line.code)
    expect(mark).to_have_text("All is in. Weigh the box.")
    scan(page, "TAG")
    expect(mark).to_contain_text("Wrong: Tag 2 1/2 × 3 1/2 does not belong in this box")
    expect(mark).to_have_class("mark-box stop")
    page.get_by_role("button", name="It is taken out").click()
    page.get_by_label("Weight of the whole box").fill("20")
    page.get_by_role("button", name="Close the box").click()
    expect(mark).to_contain_text("Too light by")
    low = page.locator("#grams-hint").inner_text().split()[1]
    page.get_by_label("Weight of the whole box").fill(low)
    page.keyboard.press("Enter")
    expect(mark).to_have_text(f"{anna.code(3)} is closed.")
    expect(page.locator("#wave-done")).to_have_text("1 of 3")
    page.get_by_role("button", name="again").click()
    expect(page.locator("#wave-done")).to_have_text("0 of 3")
    assert BoxWork.objects.get().status == Status.IN_HAND


@thorough
def test_the_screens_of_the_desk_are_sound(
    at_desk: Page, live_server: LiveServer, released_month: Month, complaints: list[str]
) -> None:
    for page in ("benches", "bench-release", "bench-people"):
        look_at(at_desk, f"{live_server.url}/months/{released_month.pk}/{page}")


@thorough
def test_the_screens_are_sound_at_every_width(
    at_desk: Page, live_server: LiveServer, released_month: Month, complaints: list[str]
) -> None:
    url = f"{live_server.url}/months/{released_month.pk}"
    look_at(at_desk, f"{url}/bench-sign-in")
    page = signed_in(at_desk, live_server, released_month, "Anna", "2580", "Bench 1")
    anna = AtBench(released_month, Bench())
    scan(page, anna.code(1))
    expect(page.locator("#box-code")).to_have_text(anna.code(1))
    scan(page, "FOLD")
    look_at(page, f"{url}/bench")
    for button in page.locator("#bench button:visible, #bench input:visible").all():
        box = button.bounding_box()
        assert box is None or box["height"] >= 48
