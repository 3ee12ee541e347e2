"""A month planned in the background: seen when all of it is there, by any number of workers, whatever happens meanwhile."""

import hashlib
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from django.conf import settings
from django.utils.timezone import now

from kits.models import Month
from planning import jobs, load, save, states
from planning.jobs import KINDS, Hold, Watch, plan_month, rows, tidy
from planning.listing import listing_faults
from planning.models import Artefact, Box, Job, JobPart, Listing, Plan, State
from planning.run import BUNDLE, INDEX, read_index
from planning.save import folder_of
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def month() -> Month:
    return save.month(SMALL_MONTH)


def planned(month: Month) -> Plan:
    job = jobs.enqueue("plan", month)
    jobs.work_on(job.pk, "anna")
    return Plan.objects.get(job=job)


def folder(plan: Plan) -> Path:
    return Path(settings.ARTEFACTS_DIR, folder_of(plan))


def test_it_works(month: Month) -> None:
    plan = planned(month)
    assert listing_faults(plan, load.planned(plan).plan) == []
    assert plan.boxes == Box.objects.filter(plan=plan).count()
    for paper in plan.papers.all():
        made = Path(settings.ARTEFACTS_DIR, paper.path).read_bytes()
        assert (len(made), hashlib.sha256(made).hexdigest()) == (paper.size, paper.sha256)
    assert not Listing.objects.exists()


def test_the_index_and_the_bundle_hold_every_other_paper(month: Month) -> None:
    plan = planned(month)
    others = plan.papers.exclude(name__in=(INDEX, BUNDLE)).order_by("position")
    assert read_index(folder(plan)) == dict(others.values_list("name", "sha256"))
    with zipfile.ZipFile(folder(plan) / BUNDLE) as bundle:
        assert bundle.namelist() == list(others.values_list("name", flat=True))
        assert bundle.testzip() is None
        assert all(bundle.read(paper.name) == (folder(plan) / paper.name).read_bytes() for paper in others)


def do(hold: Hold) -> Callable[[], None]:
    """Do a part as a worker does."""
    job = Job.objects.select_related("month").get(pk=hold.job)
    return KINDS[job.kind][hold.stage].do(job, hold.asks, Watch(hold))


def test_every_part_done_twice_is_as_done_once(month: Month) -> None:
    job = jobs.enqueue("plan", month)
    while hold := jobs.take("anna", job.pk):
        once, again = do(hold), do(hold)
        rows.finish(hold, once)
        before = list(Box.objects.values()), list(Artefact.objects.values()), list(Plan.every.values())
        with pytest.raises((states.Lost, states.Cancelled)):
            rows.finish(hold, again)
        assert before == (
            list(Box.objects.values()),
            list(Artefact.objects.values()),
            list(Plan.every.values()),
        )
    plan = Plan.objects.get()
    assert listing_faults(plan, load.planned(plan).plan) == []


def test_nobody_sees_a_plan_before_all_of_it_is_there(month: Month) -> None:
    first = planned(month)
    job = jobs.enqueue("plan", month)
    while hold := jobs.take("anna", job.pk):
        assert list(month.plans.all()) == [first]
        rows.finish(hold, do(hold))
    latest = month.plans.first()
    assert latest is not None
    assert (latest.version, latest.papers.count()) == (2, first.papers.count())
    assert Box.objects.filter(plan=first).count() == first.boxes  # the one before stays whole
    assert folder(first) != folder(latest)


def test_a_month_changed_in_the_middle_is_planned_as_it_is_then(month: Month) -> None:
    job = jobs.enqueue("plan", month)
    while (hold := jobs.take("anna", job.pk)) and hold.stage < 3:
        rows.finish(hold, do(hold))
    assert hold is not None
    rows.give_back(hold)
    save.month(replace(SMALL_MONTH, subscribers=SMALL_MONTH.subscribers[:1], orders=()))
    jobs.work_on(job.pk, "bram")
    job.refresh_from_db()
    assert (job.state, job.attempt) == (State.DONE, 2)
    plan = Plan.objects.get()
    assert set(Box.objects.filter(plan=plan).values_list("reference", flat=True)) == {"S1"}
    month.refresh_from_db()
    assert plan.plan_id.endswith(month.fingerprint)


def test_a_plan_another_version_of_the_program_began_is_begun_again(month: Month) -> None:
    job = jobs.enqueue("plan", month)
    while not JobPart.objects.filter(job=job, stage=3).exists():
        jobs.work_on_one("anna", job.pk)
    Plan.every.update(answers='{"of": "another version"}')
    plan_month.decided_of.cache_clear()  # as in a worker that has only just started
    jobs.work_on(job.pk, "bram")
    job.refresh_from_db()
    assert (job.state, job.attempt) == (State.DONE, 2)


def test_what_a_cancelled_job_left_is_cleared_away(month: Month) -> None:
    job = jobs.enqueue("plan", month)
    while not Artefact.objects.exists():
        jobs.work_on_one("anna", job.pk)
    plan = Plan.every.get()
    jobs.cancel(job.pk)
    tidy.tidy()
    assert folder(plan).exists()  # a worker may still be writing there
    Job.objects.update(ended_at=now() - 2 * tidy.SETTLED)
    tidy.tidy()
    assert not folder(plan).exists()
    assert not any(table.objects.exists() for table in (Box, Artefact, JobPart))
    assert not Plan.every.exists()


def test_only_the_latest_plans_keep_boxes_and_papers(month: Month, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tidy, "KEPT", 2)
    plans = [planned(month) for _ in range(3)]
    tidy.tidy()
    assert [plan.papers.exists() for plan in plans] == [False, True, True]
    assert [Box.objects.filter(plan=plan).exists() for plan in plans] == [False, True, True]
    assert [folder(plan).exists() for plan in plans] == [False, True, True]
    assert month.plans.count() == 3
    tidy.tidy()


def test_half_written_files_of_dead_workers_are_cleared_away(month: Month) -> None:
    job = jobs.enqueue("plan", month)
    while not Artefact.objects.exists():
        jobs.work_on_one("anna", job.pk)
    stray = folder(Plan.every.get()) / "slips" / ".x.part"
    stray.parent.mkdir(exist_ok=True)
    stray.write_text("half a slip")
    jobs.work_on(job.pk, "bram")
    assert not stray.exists()


def test_a_month_without_people_is_planned_too() -> None:
    plan = planned(save.month(replace(SMALL_MONTH, subscribers=(), orders=())))
    assert plan.boxes == 0
    assert plan.papers.filter(name="month-workbook.xlsx").exists()
