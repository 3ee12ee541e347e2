"""Files that came by the app, in the hands of workers that may be killed, or be two."""

import os
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils.timezone import now

from kits.models import Month
from planning import intake, save
from planning.intake import looking, pending
from planning.models import Intake, IntakeRow, Step
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db

ROSTER = b"Reference,Name,Address line 1,City,Country,Tier\nN1,Ann,1 Elm,Leeds,GB,FULL\n"


@pytest.fixture
def month(tmp_path: Path, settings: Any) -> Month:
    settings.DATA_DIR = tmp_path
    return save.month(SMALL_MONTH)


def received(month: Month) -> Intake:
    return intake.receive(month, SimpleUploadedFile("people.csv", ROSTER))


def step(row: Intake) -> str:
    row.refresh_from_db()
    return row.step


def test_it_works(month: Month) -> None:
    row = received(month)
    intake.work(month.pk)
    assert (step(row), row.new) == (Step.LOOKED_AT, 1)
    Intake.objects.update(step=Step.AGREED)
    intake.work(month.pk)
    intake.work(month.pk)
    assert step(row) == Step.TAKEN
    assert not list(Path(intake.refused_path(row)).parent.glob("*-file"))


def test_a_worker_that_was_overtaken_leaves_the_file_to_the_other(month: Month) -> None:
    row, seen = received(month), list[int]()

    def overtaken(rows: int) -> None:
        seen.append(rows)
        looking.begin(row, "another worker")

    intake.work(month.pk, overtaken)
    assert seen == [1]
    assert (step(row), row.owner) == (Step.WAITING, "another worker")
    intake.work(month.pk)
    assert (step(row), row.new, IntakeRow.objects.count()) == (Step.LOOKED_AT, 1, 1)


def test_a_file_dropped_while_it_is_looked_through_stays_dropped(month: Month) -> None:
    row = received(month)
    intake.work(month.pk, lambda rows: intake.forget(row))
    assert (step(row), IntakeRow.objects.count()) == (Step.DROPPED, 0)


def test_a_worker_killed_on_the_way_has_done_no_harm(month: Month) -> None:
    row = received(month)

    def killed(rows: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        intake.work(month.pk, killed)
    assert step(row) == Step.WAITING
    intake.work(month.pk)
    assert (step(row), row.rows, row.new, IntakeRow.objects.count()) == (Step.LOOKED_AT, 1, 1, 1)


def test_a_later_file_takes_the_place_of_one_nobody_agreed_to(month: Month) -> None:
    first = received(month)
    intake.work(month.pk)
    second = received(month)
    assert (step(first), step(second)) == (Step.DROPPED, Step.WAITING)
    assert not IntakeRow.objects.exists()


def test_one_that_was_agreed_to_is_taken_first(month: Month) -> None:
    first = received(month)
    intake.work(month.pk)
    Intake.objects.update(step=Step.AGREED)
    second = received(month)
    intake.work(month.pk)
    assert (step(first), step(second), second.same) == (Step.TAKEN, Step.LOOKED_AT, 1)


def test_addresses_are_not_kept_longer_than_somebody_may_need_them(month: Month) -> None:
    old = received(month)
    intake.work(month.pk)
    Intake.objects.update(created_at=now() - 2 * pending.FORGOTTEN)
    refused = intake.refused_path(old)
    fresh = refused.with_name("0-refused.xlsx")
    for path in (refused, fresh):
        path.write_bytes(b"")
    long_ago = (now() - 2 * pending.FORGOTTEN).timestamp()
    os.utime(refused, (long_ago, long_ago))
    pending.tidy()
    assert step(old) == Step.DROPPED
    assert (refused.exists(), fresh.exists()) == (False, True)
    assert not list(refused.parent.glob("*-file"))
