"""Planning in the background, and the page that shows how it goes."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils.timezone import now

from kits.models import Month
from planning import jobs
from planning.jobs import Hold, rows
from planning.jobs.plan_month import decision
from planning.models import Job, JobPart, Plan, State
from planning.views.job import LATER, STAGES, left


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
    assert jobs.take("tests", job.pk) is not None
    begun = now() - timedelta(seconds=10)
    Job.objects.update(stage="papers", stage_number=3, done=20, total=80, stage_at=begun)
    JobPart.objects.update(stage=3)
    return job


def hold_of(job: Job) -> Hold:
    part = job.parts.get()
    return Hold(part=part.pk, job=job.pk, stage=part.stage, asks=part.asks, worker="tests")


def test_it_shows_stage_count_and_time_left(desk: Client, running: Job) -> None:
    page = page_of(desk, running)
    assert "Papers, 20 of 80" in page
    assert " s left" in page
    assert f"Stage {len(STAGES) - 1} of {len(STAGES)}" in page
    # Thirteen stages and the check count once, the listing three times, the papers twenty times, the bundle once: of these
    # 38 seventeen and a quarter of the papers' are behind it.
    assert '<progress id="bar" max="100" value="58">' in page


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
    assert "Nothing of it was kept" in page_of(desk, running)
    with pytest.raises(jobs.Cancelled):
        jobs.Watch(hold_of(running)).stage("papers")


def test_a_failure_states_its_cause_and_what_was_kept(desk: Client, running: Job) -> None:
    rows.refuse(hold_of(running), "Tag does not come out of Shore White.")
    page = page_of(desk, running)
    assert "<title>Error: Failed" in page
    assert "Tag does not come out of Shore White." in page
    assert "Nothing of this attempt was kept" in page
    assert "Try again</button>" in page


def test_what_a_job_waits_for_is_told(desk: Client, running: Job) -> None:
    why = "The disk is full. The work goes on by itself as soon as there is room."
    rows.give_back(hold_of(running), why=why)
    assert why in page_of(desk, running)


def test_the_history_of_a_month_says_how_each_job_ended(desk: Client, running: Job) -> None:
    rows.refuse(hold_of(running), "Tag does not come out of Shore White.")
    desk.post(f"/months/{running.month_id}/plan")
    jobs.work_on(Job.objects.latest("pk").pk, "tests")
    page = desk.get(f"/months/{running.month_id}/history").content.decode()
    assert "2 jobs" in page
    assert "Failed: Tag does not come out of Shore White." in page
    assert f'href="/months/{running.month_id}/?version=1"' in page
    assert "a command" in page
    assert "desk" in page


def test_a_month_without_jobs_says_what_to_do(desk: Client, month: Month) -> None:
    assert "Nothing yet" in desk.get(f"/months/{month.pk}/history").content.decode()


def test_the_plan_can_be_looked_at_while_it_gets_better(desk: Client, running: Job, plan: Plan) -> None:
    Plan.every.create(
        job=running,
        month=running.month,
        version=plan.version + 1,
        plan_id=plan.plan_id,
        made_at=plan.made_at,
        answers=plan.answers,
        ready=False,
        boxes=plan.boxes,
        late_boxes=plan.late_boxes,
        short_materials=plan.short_materials,
        cost=plan.cost,
    )
    page = desk.get(f"/jobs/{running.pk}/").content.decode()
    link = f"/months/{running.month_id}/cutting?version={plan.version + 1}"
    assert f'href="{link}">Look at the plan as it stands</a>' in page
    assert "Still being worked on" in desk.get(link).content.decode()
    latest = desk.get(f"/months/{running.month_id}/cutting").content.decode()
    assert f"version {plan.version}," in latest
    assert "Still being worked on" not in latest


def test_the_bar_knows_every_stage_a_decision_tells_in_their_order(running: Job) -> None:
    told: list[str] = []

    class Heard(jobs.Watch):
        def stage(self, words: str) -> None:
            told.append(words)

    decision(running, Heard(hold_of(running)))
    places = [STAGES.index(words) for words in told]
    assert places == list(range(places[0], places[0] + len(STAGES) - len(LATER) - 2))
