"""Every page in a real browser: no fault an accessibility checker finds, no sideways scroll, nobody else asked."""

from collections.abc import Callable
from pathlib import Path
from threading import Thread

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.contrib.auth.models import User
from django.db import connection
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning import jobs
from planning.models import Job, Plan, State
from planning.monthfile import month_to_workbook
from planning.views.steps import STEPS
from tests.support.effort import thorough
from tests.web.conftest import PASSWORD
from tests.web.small_month import SMALL_MONTH

WIDTHS = (1280, 768, 320)
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def look_at(page: Page, url: str) -> None:
    """Open a page: at no width does it scroll sideways, and the checker finds nothing at the smallest and the widest."""
    page.goto(url)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{url} at {width}"
    assert_no_fault(page)
    page.set_viewport_size({"width": WIDTHS[0], "height": 800})
    assert_no_fault(page)


def assert_no_fault(page: Page) -> None:
    found = Axe().run(page, options=RULES)
    assert found.violations_count == 0, f"{page.url}\n{found.generate_report()}"


@thorough
def test_every_page_of_a_planned_month(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    for page in ("", *STEPS, "months-ahead?over=1", "chances", "documents"):
        look_at(at_desk, f"{live_server.url}/months/{plan.month_id}/{page}")


@thorough
def test_pages_before_there_is_a_plan(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    for path in (
        "",
        "upload",
        f"months/{month.pk}/",
        f"months/{month.pk}/cutting",
        f"months/{month.pk}/documents",
    ):
        look_at(at_desk, f"{live_server.url}/{path}")


@thorough
def test_the_list_without_any_month(at_desk: Page, live_server: LiveServer, complaints: list[str]) -> None:
    look_at(at_desk, live_server.url)


@thorough
def test_a_job_in_every_state(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    for state in State:
        Job.objects.update(state=state, error="It broke." if state == State.FAILED else "")
        look_at(at_desk, f"{live_server.url}/jobs/{plan.job_id}/")


def test_the_page_for_signing_in(page: Page, live_server: LiveServer, complaints: list[str]) -> None:
    look_at(page, f"{live_server.url}/sign-in")


@thorough
def test_dark_ground_grey_print_and_large_type_keep_every_word(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    at_desk.set_viewport_size({"width": 1280, "height": 800})
    at_desk.goto(f"{live_server.url}/months/{plan.month_id}/")
    said = at_desk.locator("main").inner_text()
    at_desk.emulate_media(forced_colors="active")
    assert at_desk.locator("main").inner_text() == said
    at_desk.emulate_media(media="print", forced_colors="none")
    expect(at_desk.get_by_text("Needs you").first).to_be_visible()
    expect(at_desk.get_by_role("navigation").first).to_be_hidden()
    at_desk.emulate_media(media="screen")
    at_desk.set_viewport_size({"width": 640, "height": 400})  # as 1280 x 800 zoomed to 200 %
    assert at_desk.evaluate("document.documentElement.scrollWidth") <= 640


# --- By keyboard ---


def test_signing_in_and_reaching_a_step_by_keyboard_alone(
    page: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    User.objects.create_superuser("cleo", password=PASSWORD)
    page.goto(live_server.url)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.type("cleo")
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    expect(page).to_have_title("Months – Kit production planning")
    page.get_by_role("link", name="Reedbed").focus()
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Cutting").last.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Cutting")


def test_a_failed_form_takes_the_focus_and_leads_to_the_field(at_desk: Page, live_server: LiveServer) -> None:
    at_desk.goto(f"{live_server.url}/upload")
    at_desk.get_by_role("button", name="Check and take in the month").click()
    expect(at_desk).to_have_title("Error: Add a month – Kit production planning")
    expect(at_desk.get_by_role("alert")).to_be_focused()
    at_desk.keyboard.press("Tab")
    at_desk.keyboard.press("Enter")
    expect(at_desk.get_by_label("Month file")).to_be_focused()
    assert_no_fault(at_desk)


def test_a_file_with_problems_shows_them_all(at_desk: Page, live_server: LiveServer, tmp_path: Path) -> None:
    (tmp_path / "april.xlsx").write_bytes(b"no workbook")
    at_desk.set_viewport_size({"width": 320, "height": 800})
    at_desk.goto(f"{live_server.url}/upload")
    at_desk.get_by_label("Month file").set_input_files(tmp_path / "april.xlsx")
    at_desk.get_by_role("button", name="Check and take in the month").click()
    expect(at_desk.get_by_role("table")).to_be_visible()
    assert at_desk.evaluate("document.documentElement.scrollWidth") <= 320
    assert_no_fault(at_desk)


def test_a_table_is_sorted_by_its_headings(
    at_desk: Page, live_server: LiveServer, plan: Plan, complaints: list[str]
) -> None:
    at_desk.goto(f"{live_server.url}/months/{plan.month_id}/balance")
    table = at_desk.get_by_role("table").filter(has_text="On hand + due in + ordered")
    heading = table.get_by_role("columnheader", name="Ordered")
    for order, expected in (("ascending", ["1", "10", "20", "25"]), ("descending", ["25", "20", "10", "1"])):
        heading.get_by_role("button").click()
        expect(heading).to_have_attribute("aria-sort", order)
        assert [
            row.inner_text().strip() for row in table.locator("tbody tr td:nth-child(4)").all()
        ] == expected


# --- A job while one looks at it ---


def run_in_thread(does: Callable[[], object]) -> Thread:
    def work() -> None:
        try:
            does()
        finally:
            connection.close()

    thread = Thread(target=work)
    thread.start()
    return thread


@thorough
def test_the_page_of_a_job_follows_it_to_its_end(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    at_desk.goto(f"{live_server.url}/months/{month.pk}/")
    at_desk.get_by_role("button", name="Plan this month").click()
    expect(at_desk.get_by_role("status")).to_have_text("Waiting for a worker")
    worker = run_in_thread(lambda: jobs.work_on(Job.objects.get().pk, "tests"))
    expect(at_desk.get_by_text("Version 1 of the plan")).to_be_visible(timeout=30_000)
    worker.join()
    expect(at_desk.get_by_role("status")).to_have_text("Done")
    expect(at_desk).to_have_title("Done: planning Reedbed – Kit production planning")


@thorough
def test_without_scripts_a_job_is_looked_at_again_by_a_link(
    browser: Browser, desk: object, at_desk: Page, live_server: LiveServer, month: Month
) -> None:
    cookies = at_desk.context.cookies()
    with browser.new_context(java_script_enabled=False) as context:
        context.add_cookies(cookies)  # type: ignore[arg-type]
        page = context.new_page()
        page.goto(f"{live_server.url}/months/{month.pk}/")
        page.get_by_role("button", name="Plan this month").click()
        jobs.work_on(Job.objects.get().pk, "tests")
        page.get_by_role("link", name="Look again").click()
        expect(page.get_by_text("Version 1 of the plan")).to_be_visible()


def test_a_job_is_called_off_within_seconds(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    job = jobs.enqueue("plan", month)
    hold = jobs.take("tests", job.pk)
    assert hold is not None
    jobs.Watch(hold).stage("cutting")
    at_desk.goto(f"{live_server.url}/jobs/{job.pk}/")
    at_desk.get_by_role("button", name="Cancel").click()
    with pytest.raises(jobs.Cancelled):
        jobs.Watch(hold).stage("buying")
    expect(at_desk.get_by_text("Nothing of it was kept")).to_be_visible(timeout=5_000)


# --- The whole way, as the program is started by itself ---


def test_a_month_from_upload_to_paper(page: Page, serving: Callable[[], str], tmp_path: Path) -> None:
    url = serving()
    (tmp_path / "april.xlsx").write_bytes(month_to_workbook(SMALL_MONTH))
    page.goto(url)
    page.get_by_label("User name").fill("cleo")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("link", name="Add a month").first.click()
    page.get_by_label("Month file").set_input_files(tmp_path / "april.xlsx")
    page.get_by_role("button", name="Check and take in the month").click()
    page.get_by_role("button", name="Plan this month").click()
    expect(page.get_by_text("papers are ready")).to_be_visible(timeout=60_000)
    page.get_by_role("link", name="See the papers").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="workbook").first.click()
    made = Path(download.value.path()).read_bytes()
    assert made.startswith(b"PK")
    page.get_by_role("link", name="April 2027").click()
    expect(page.get_by_text("need you.")).to_be_visible()
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")
