"""A month file comes in: whole, or not at all and with every problem told."""

from dataclasses import replace
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from kits.models import Month
from planning import load, save
from planning.models import Plan
from planning.month import Month as Book
from planning.monthfile import month_to_workbook
from planning.views import upload
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db
FEWER = replace(
    SMALL_MONTH,
    subscribers=(replace(SMALL_MONTH.subscribers[0], quantity=3), *SMALL_MONTH.subscribers[1:4]),
)


def send(desk: Client, month: Book | bytes, **other: str) -> Any:
    made = month if isinstance(month, bytes) else month_to_workbook(month)
    return desk.post("/upload", {"file": SimpleUploadedFile("april.xlsx", made), **other})


def problems_of(answer: Any) -> str:
    """Return the page, once it is sure that it is a failed form as one should be."""
    assert answer.status_code == 422
    page: str = answer.content.decode()
    assert "<title>Error: Add a month" in page
    assert 'role="alert"' in page
    return page


def test_it_works(desk: Client) -> None:
    assert desk.get("/upload").status_code == 200
    answer = send(desk, SMALL_MONTH)
    month = Month.objects.get()
    assert answer["Location"] == f"/months/{month.pk}/"
    assert load.month(month.pk) == SMALL_MONTH
    assert "april.xlsx is taken in. Plan the month next." in desk.get(answer["Location"]).content.decode()


def test_without_a_file_it_asks_for_one(desk: Client) -> None:
    page = problems_of(desk.post("/upload", {"replace": "yes"}))
    assert '<a href="#file">Choose a month file' in page
    assert 'value="yes" aria-describedby="replace-hint" checked' in page  # what was ticked stays ticked


def test_every_problem_of_a_file_is_shown_with_its_place(desk: Client) -> None:
    wrong = replace(
        SMALL_MONTH,
        subscribers=tuple(replace(one, tier="GOLD") for one in SMALL_MONTH.subscribers),
        zones=SMALL_MONTH.zones[:1],
    )
    page = problems_of(send(desk, wrong))
    assert page.count("GOLD") >= 5
    for heading in ("Sheet", "Row", "Column", "Value", "What is wrong", "What to do"):
        assert f">{heading}</th>" in page
    assert not Month.objects.exists()


@pytest.mark.parametrize("made", [b"", b"no workbook", b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"])
def test_what_is_no_workbook_is_told_so(desk: Client, made: bytes) -> None:
    problems_of(send(desk, made))
    assert not Month.objects.exists()


def test_a_file_that_is_too_large_is_told_so(desk: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(upload, "LARGEST_FILE", 1_000)
    assert "is larger than 1 kB" in problems_of(send(desk, SMALL_MONTH))


def test_a_files_name_cannot_write_into_the_page(desk: Client) -> None:
    evil = SimpleUploadedFile("<script>alert(1)</script>.xlsx", b"no workbook")
    assert "<script>alert" not in problems_of(desk.post("/upload", {"file": evil}))


# --- A month that is here already ---


def test_the_same_file_twice_changes_nothing(desk: Client, month: Month) -> None:
    saved_at = month.saved_at
    answer = send(desk, SMALL_MONTH)
    month.refresh_from_db()
    assert month.saved_at == saved_at
    assert "nothing changed" in desk.get(answer["Location"]).content.decode()


def test_another_file_for_the_same_month_is_taken_only_when_asked_for(desk: Client, month: Month) -> None:
    page = problems_of(send(desk, FEWER))
    assert 'href="#replace"' in page
    assert "What would change" in page
    roster = page.partition('<th scope="row">Roster')[2].partition("</tr>")[0]
    cells = [part.partition("<")[0].strip() for part in roster.split('class="number">')[1:]]
    assert cells == ["0", "1", "1", "3"]  # new, changed, gone, same
    assert load.month(month.pk) == SMALL_MONTH
    send(desk, FEWER, replace="yes")
    assert load.month(month.pk) == FEWER


def test_a_plan_of_what_was_replaced_is_called_out_of_date(desk: Client, plan: Plan) -> None:
    answer = send(desk, FEWER, replace="yes")
    page = desk.get(answer["Location"]).content.decode()
    assert "The month changed since this plan was made." in page


def test_other_months_are_left_alone(desk: Client, month: Month) -> None:
    send(desk, replace(FEWER, club=replace(FEWER.club, code="OTHER")))
    assert load.month(month.pk) == SMALL_MONTH
    assert Month.objects.count() == 2
    save.month(SMALL_MONTH)
