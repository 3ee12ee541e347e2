"""The pages of a roster's file in a real browser."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning import intake, load
from planning.models import Intake, Step
from tests.support.effort import thorough
from tests.web.test_browser import look_at
from tests.web.test_intake import ROSTER

pytestmark = [pytest.mark.django_db(transaction=True), thorough]


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, settings: Any) -> None:
    settings.DATA_DIR = tmp_path / "data"


def test_a_roster_in_every_state(
    at_desk: Page, live_server: LiveServer, month: Month, complaints: list[str]
) -> None:
    row = Intake.objects.create(
        month=month,
        name="people.csv",
        rows=3,
        new=1,
        faulty=2,
        found=[[3, "Tier", "GOLD", "is not on the Tiers sheet", "Add it."]],
    )
    look_at(at_desk, f"{live_server.url}/months/{month.pk}/roster-file")
    for step in Step:
        Intake.objects.update(step=step, error="It cannot be read.")
        look_at(at_desk, f"{live_server.url}/intakes/{row.pk}/")


def test_from_a_file_to_the_roster_the_page_follows_by_itself(
    at_desk: Page, live_server: LiveServer, month: Month, tmp_path: Path, complaints: list[str]
) -> None:
    (tmp_path / "people.csv").write_text(ROSTER)
    at_desk.goto(f"{live_server.url}/months/{month.pk}/")
    at_desk.get_by_role("link", name="Take in a roster").first.click()
    at_desk.get_by_label("Roster", exact=True).set_input_files(tmp_path / "people.csv")
    at_desk.get_by_role("button", name="Look through the roster").click()
    expect(at_desk.get_by_text("Waiting for a worker").last).to_be_visible()
    intake.work(month.pk)
    at_desk.get_by_role("button", name="Add 1 and change 0, leave out 1").click()
    expect(at_desk.get_by_text("Being taken in").last).to_be_visible()
    intake.work(month.pk)
    expect(at_desk.get_by_text("1 added, 0 changed.")).to_be_visible()
    with at_desk.expect_download() as download:
        at_desk.get_by_role("link", name="Download the faulty rows").click()
    assert download.value.suggested_filename == "people-faults.xlsx"
    assert [one.reference for one in load.rows("subscribers", month)][-1] == "N1"
