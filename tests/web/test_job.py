"""Planning in the background, and the page that shows how it goes."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils.timezone import now

from kits.models import Month
from planning import jobs
from planning.models import Job, Plan, State
from planning.views.job import left


def page_of(desk: Client, job: Job, **headers: str) -> str:
    return desk.get(f"/jobs/{job.pk}/", headers=headers).content.decode()


def test_it_works(desk: Client, month: Month) -> None:
    answer = desk.post(f"/months/{month.pk}/plan")
    job = Job.objects.get()
    assert answer["Location"] == f"/jobs/{job.pk}/"
    assert "Waiting for a worker" in page_of(desk, job)
    jobs.work_on(job.pk, "tests")
    page = page_of(desk, job)
    assert "Version 1 of the plan" in page
    assert "papers are ready" in page


def test_who_asked_is_kept(desk: Client, month: Month) -> None:
    desk.post(f"/months/{month.pk}/plan")
    asked_by = Job.objects.get().asked_by
    assert asked_by is not None
    assert asked_by.get_username() == "desk"


def test_asking_again_while_it_is_planned_leads_to_the_same_job(desk: Client, month: Month) -> None:
    first, second = (desk.post(f"/months/{month.pk}/plan")["Location"] for _ in range(2))
    assert first == second


@pytest.fixture
def running(month: Month) -> Job:
    job = jobs.enqueue("plan", month)
    assert jobs.claim(job.pk, "tests")
    watch = jobs.Watch(job.pk, "tests")
    watch.stage("papers")
    watch.count(20, 80)
    Job.objects.update(stage_at=now() - timedelta(seconds=10))
    return job


def test_it_shows_stage_count_and_time_left(desk: Client, running: Job) -> None:
    page = page_of(desk, running)
    assert "Papers, 20 of 80" in page
    assert " s left" in page
    assert "Stage 10 of 10" in page
    assert (
        '<progress id="bar" max="100" value="92">' in page
    )  # 9 of 10 stages and a quarter of the last: 92.5


@pytest.mark.parametrize(
    ("done", "seconds", "said"),
    [(20, 10, "about 30 s left"), (1, 10, "about 13 min left"), (79, 10, "about 1 s left"), (0, 10, "")],
)
def test_time_left_follows_from_the_time_so_far(done: int, seconds: int, said: str) -> None:
    at = now()
    job = Job(state=State.RUNNING, stage_at=at - timedelta(seconds=seconds), done=done, total=80)
    assert left(job, at) == said  # 20 of 80 took 10 s, so the other 60 take 30 s


def test_a_look_by_script_gets_only_what_changes_and_is_not_read_out_each_time(
    desk: Client, running: Job
) -> None:
    looks = [desk.get(f"/jobs/{running.pk}/?looks={n}", headers={"HX-Request": "true"}) for n in range(1, 7)]
    assert {look.status_code for look in looks} == {200}
    pages = [look.content.decode() for look in looks]
    assert not any("<html" in page for page in pages)
    assert ["hx-swap-oob" in page for page in pages] == [False, False, True, False, False, True]


def test_when_it_has_ended_nobody_asks_any_more(desk: Client, plan: Plan) -> None:
    answer = desk.get(f"/jobs/{plan.job_id}/?looks=1", headers={"HX-Request": "true"})
    assert answer.status_code == 286
    page = answer.content.decode()
    assert "hx-get" not in page
    assert "hx-swap-oob" in page


def test_it_can_be_called_off(desk: Client, running: Job) -> None:
    assert desk.post(f"/jobs/{running.pk}/cancel")["Location"] == f"/jobs/{running.pk}/"
    assert "Stopping" in page_of(desk, running)
    with pytest.raises(jobs.Cancelled):
        jobs.Watch(running.pk, "tests").count(21, 80)


def test_a_failure_states_its_cause_and_what_was_kept(desk: Client, running: Job) -> None:
    jobs.Watch(running.pk, "tests").end(State.FAILED, "Tag does not come out of Shore White.")
    page = page_of(desk, running)
    assert "<title>Error: Failed" in page
    assert "Tag does not come out of Shore White." in page
    assert "Nothing of this attempt was kept" in page
    assert "Try again</button>" in page
