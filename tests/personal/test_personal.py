"""Somebody asks what is kept of them, and to be erased; months long over are erased by themselves."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client

from kits.models import Month
from planning import load, save
from planning.calendar import Weekday
from planning.models import Artefact, Edit, Plan, Subscriber
from planning.personal import ERASED, erase_old_months, erase_person, held
from planning.rights.table import Role
from tests.web.conftest import somebody
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db
CLUB = SMALL_MONTH.club.code
WHO = SMALL_MONTH.subscribers[0]


@pytest.fixture
def plan() -> Plan:
    return plan_of(save.month(SMALL_MONTH))


def texts_in(files: list[Path]) -> bytes:
    return b"".join(path.read_bytes() for path in files if path.is_file())


def test_all_that_is_kept_of_somebody_is_told_and_nothing_of_others(plan: Plan) -> None:
    kept = held(CLUB, WHO.reference)
    [row] = kept["roster"]
    assert (row["name"], row["address_1"], row["month"]) == (
        WHO.name,
        WHO.address_1,
        str(SMALL_MONTH.club.month),
    )
    others = [one.name for one in SMALL_MONTH.subscribers[1:]]
    assert not any(name in json.dumps(kept) for name in others)
    assert held(CLUB, "nobody") == {}


def test_who_is_erased_is_nowhere_any_more_and_the_books_still_add_up(plan: Plan) -> None:
    named = [paper for paper in plan.papers.all() if paper.name.startswith(("slips/", "lists/"))]
    files = [settings.ARTEFACTS_DIR / paper.path for paper in plan.papers.all()]
    assert named
    assert WHO.name.encode() in texts_in(files)
    before = Subscriber.objects.count()
    assert erase_person(CLUB, WHO.reference) == 1
    assert erase_person(CLUB, WHO.reference) == 0
    row = Subscriber.objects.get(reference=WHO.reference)
    assert (row.name, row.address_1, row.postcode, row.active) == (ERASED, ERASED, "", False)
    assert Subscriber.objects.count() == before
    assert WHO.name.encode() not in texts_in(files)
    assert not Artefact.objects.filter(name__startswith="slips/").exists()
    assert plan.papers.filter(name="cutting-tickets.pdf").exists()
    month = Month.objects.get()
    assert not Edit.objects.exists()
    plan_of(month)  # and the month can be planned as before
    assert load.month(month.pk).subscribers[1] == SMALL_MONTH.subscribers[1]


def test_months_long_over_are_erased_whole_and_others_left(plan: Plan) -> None:
    last = SMALL_MONTH.club.promised.day(Weekday.SUN)
    Month.objects.update(saved_at=datetime(2027, 1, 1, tzinfo=UTC))
    assert erase_old_months(last + timedelta(400), 400) == 0
    assert erase_old_months(last + timedelta(401), 400) == 1
    assert set(Subscriber.objects.values_list("name", flat=True)) == {ERASED}
    assert erase_old_months(last + timedelta(402), 400) == 0


def test_a_month_somebody_works_on_is_left_however_old_it_is(plan: Plan) -> None:
    saved = Month.objects.get().saved_at.date()
    long_ago = Month.objects.filter(pk=plan.month_id)
    long_ago.update(promised="2020-W10")
    assert erase_old_months(saved + timedelta(400), 400) == 0
    assert erase_old_months(saved + timedelta(401), 400) == 1


def test_an_owner_hands_it_over_or_erases_it_after_typing_the_reference_again(plan: Plan) -> None:
    desk = Client()
    desk.force_login(somebody("desk", Role.OWNER))
    page = f"/months/{plan.month_id}/person-data"
    file = desk.post(page, {"reference": WHO.reference, "act": "do"})
    assert json.loads(file.content)["kept"]["roster"][0]["name"] == WHO.name
    assert desk.post(page, {"reference": "nobody", "act": "do"}).status_code == 422
    assert desk.post(page, {"reference": WHO.reference, "act": "erase"}).status_code == 422
    assert Subscriber.objects.filter(name=WHO.name).exists()
    said = {"reference": WHO.reference, "again": WHO.reference, "act": "erase"}
    assert desk.post(page, said).status_code == 302
    assert not Subscriber.objects.filter(name=WHO.name).exists()
