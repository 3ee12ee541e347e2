"""A roster by the app: sent, looked through, agreed to, taken in."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from kits.models import Month
from planning import intake, jobs, load
from planning.models import Intake, Job, State, Step
from planning.views import intake as view
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db

ROSTER = """\
Reference,Name,Address line 1,City,Country,Tier
N1,Ann <b>,1 Elm,Leeds,GB,FULL
N2,Bo,2 Oak,Leeds,XX,FULL
"""


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, settings: Any) -> None:
    settings.DATA_DIR = tmp_path


def send(desk: Client, month: Month, text: str | bytes = ROSTER, name: str = "people.csv") -> Any:
    made = text.encode() if isinstance(text, str) else text
    return desk.post(f"/months/{month.pk}/roster-file", {"file": SimpleUploadedFile(name, made)})


def sent(desk: Client, month: Month, text: str | bytes = ROSTER) -> Intake:
    """Return a file that was sent and looked through by a worker."""
    answer = send(desk, month, text)
    row = Intake.objects.first()
    assert row is not None
    assert answer["Location"] == f"/intakes/{row.pk}/"
    work()
    return row


def work() -> None:
    for job in Job.objects.filter(state=State.QUEUED):
        jobs.work_on(job.pk, "worker")


def shown(desk: Client, row: Intake, **headers: str) -> str:
    return str(desk.get(f"/intakes/{row.pk}/", headers=headers).content.decode())


def test_it_works(desk: Client, month: Month) -> None:
    assert desk.get(f"/months/{month.pk}/roster-file").status_code == 200
    row = sent(desk, month)
    page = shown(desk, row)
    assert "Add 1 and change 0, leave out 1" in page
    assert "XX" in page
    assert "Is not a country code." in page
    assert load.month(month.pk) == SMALL_MONTH

    assert desk.post(f"/intakes/{row.pk}/agree")["Location"] == f"/intakes/{row.pk}/"
    work()
    assert "<b>Taken in.</b> 1 added, 0 changed." in shown(desk, row)
    assert [one.reference for one in load.rows("subscribers", month)][-1] == "N1"
    assert row.name in desk.get(f"/months/{month.pk}/roster-file").content.decode()


def test_the_faulty_rows_are_a_file(desk: Client, month: Month) -> None:
    row = sent(desk, month)
    answer = desk.get(f"/intakes/{row.pk}/refused")
    assert 'filename="people-faults.xlsx"' in answer["Content-Disposition"]
    sheet = openpyxl.load_workbook(BytesIO(b"".join(answer))).worksheets[0]
    assert [sheet["A4"].value, sheet["C4"].value] == [3, "N2"]


def test_without_a_file_and_with_too_large_a_one_it_says_so(
    desk: Client, month: Month, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer = desk.post(f"/months/{month.pk}/roster-file")
    assert answer.status_code == 422
    assert '<a href="#file">Choose a roster' in answer.content.decode()
    monkeypatch.setattr(view, "MOST_BYTES", 10)
    answer = send(desk, month)
    assert "<title>Error: Take in a roster" in answer.content.decode()
    assert "people.csv is larger than" in answer.content.decode()
    assert not Intake.objects.exists()


def test_a_file_that_cannot_be_read_says_why(desk: Client, month: Month) -> None:
    row = sent(desk, month, ROSTER.replace("Ann <b>", "Jürgen").encode("cp1252"))
    page = shown(desk, row)
    assert "<title>Error: Not taken in: people.csv" in page
    assert "read as Windows-1252 it is" in page
    assert not list((intake.pending.folder()).glob("*-file"))


def test_while_it_waits_the_page_looks_again_by_itself_and_then_no_more(desk: Client, month: Month) -> None:
    send(desk, month)
    row = Intake.objects.get()
    page = shown(desk, row)
    assert 'hx-trigger="every 2s"' in page
    assert "Waiting for a worker" in page
    part = desk.get(f"/intakes/{row.pk}/", headers={"HX-Request": "true"})
    assert part.status_code == 200
    assert "<h1>" not in part.content.decode()
    work()
    assert desk.get(f"/intakes/{row.pk}/", headers={"HX-Request": "true"}).status_code == 286


def test_a_file_nobody_looks_through_is_asked_for_again(desk: Client, month: Month) -> None:
    """As when it came in the moment the last job ended."""
    send(desk, month)
    Job.objects.update(state=State.DONE)
    shown(desk, Intake.objects.get())
    work()
    assert Intake.objects.get().step == Step.LOOKED_AT


def test_a_job_that_failed_is_told_and_tried_again(desk: Client, month: Month) -> None:
    send(desk, month)
    row = Intake.objects.get()
    Job.objects.update(state=State.FAILED, error="No room.")
    page = shown(desk, row)
    assert "No room." in page
    assert "hx-trigger" not in page
    desk.post(f"/intakes/{row.pk}/look-again")
    work()
    assert "Nothing is changed yet" in shown(desk, row)


def test_a_file_may_be_dropped_and_a_later_one_takes_its_place(desk: Client, month: Month) -> None:
    first = sent(desk, month)
    second = sent(desk, month)
    first.refresh_from_db()
    assert first.step == Step.DROPPED
    assert desk.post(f"/intakes/{second.pk}/drop")["Location"] == f"/months/{month.pk}/roster-file"
    assert "Dropped." in shown(desk, second)
    desk.post(f"/intakes/{second.pk}/agree")
    work()
    assert load.month(month.pk) == SMALL_MONTH


def test_a_month_changed_since_is_compared_anew(desk: Client, month: Month) -> None:
    row = sent(desk, month)
    Month.objects.filter(pk=month.pk).update(fingerprint="another")
    page = desk.post(f"/intakes/{row.pk}/agree", follow=True).content.decode()
    assert "The file is looked through again" in page
    work()
    row.refresh_from_db()
    assert (row.step, row.fingerprint) == (Step.LOOKED_AT, "another")


def test_the_same_file_again_has_nothing_to_change(desk: Client, month: Month) -> None:
    row = sent(desk, month)
    desk.post(f"/intakes/{row.pk}/agree")
    work()
    again = shown(desk, sent(desk, month))
    assert "There is nothing to change:" in again
    assert "Add 0" not in again


def test_a_roster_on_its_way_is_no_planning(desk: Client, month: Month) -> None:
    send(desk, month)
    assert "Being planned" not in desk.get("/").content.decode()
    assert "See how planning goes" not in desk.get(f"/months/{month.pk}/").content.decode()


def test_nobody_sees_it_who_is_not_signed_in(client: Client, month: Month) -> None:
    row = Intake.objects.create(month=month, name="people.csv")
    for page in (f"/months/{month.pk}/roster-file", f"/intakes/{row.pk}/", f"/intakes/{row.pk}/refused"):
        assert client.get(page)["Location"].startswith("/sign-in")
    for page in ("agree", "drop", "look-again"):
        assert client.post(f"/intakes/{row.pk}/{page}")["Location"].startswith("/sign-in")


def test_a_number_nobody_has_is_not_found(desk: Client, month: Month) -> None:
    row = Intake.objects.create(month=month, name=replace(SMALL_MONTH.club).name)
    assert desk.get("/intakes/999/").status_code == 404
    assert desk.get(f"/intakes/{row.pk}/refused").status_code == 404
