"""The job row: who may take it, how it ends, what becomes of it when its worker dies."""

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from functools import partial
from threading import Event, Thread
from typing import TypeVar

import pytest
from django.db import connection
from django.db.models.functions import Now
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kits.models import Month
from planning import jobs, save
from planning.cutting import CuttingError
from planning.jobs import KINDS, Watch
from planning.models import LIVE, Job, State
from planning.month import Month as Book
from tests.support.effort import examples
from tests.web.small_month import SMALL_MONTH

# Workers are threads here, each with its own connection, so nothing may hide in a test's own transaction.
pytestmark = pytest.mark.django_db(transaction=True)

T = TypeVar("T")
ENDS = {State.DONE, State.FAILED, State.CANCELLED}


@pytest.fixture
def month() -> Month:
    return save.month(SMALL_MONTH)


@pytest.fixture
def work(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[Job, Watch], None]], str]:
    """Return kind(work): a kind of job that does this work."""

    def kind(does: Callable[[Job, Watch], None]) -> str:
        monkeypatch.setitem(KINDS, "test", does)
        return "test"

    return kind


Kind = Callable[[Callable[[Job, Watch], None]], str]


def nothing(job: Job, watch: Watch) -> None:
    pass


def test_it_works(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(lambda job, watch: watch.stage("folding")), month)
    jobs.work_on(job.pk, "anna")
    job.refresh_from_db()
    assert (job.state, job.stage, job.error, job.attempt, job.owner) == (State.DONE, "folding", "", 1, "anna")
    assert job.started_at is not None
    assert job.ended_at is not None
    assert job.created_at <= job.started_at <= job.ended_at


# --- Asking ---


def test_asking_twice_is_asking_once(month: Month, work: Kind) -> None:
    kind = work(nothing)
    assert jobs.enqueue(kind, month) == jobs.enqueue(kind, month)
    assert Job.objects.count() == 1


def test_once_it_has_ended_it_can_be_asked_for_again(month: Month, work: Kind) -> None:
    kind = work(nothing)
    first = jobs.enqueue(kind, month)
    jobs.work_on(first.pk, "anna")
    assert jobs.enqueue(kind, month) != first


def test_many_who_ask_at_once_get_the_same_job(month: Month, work: Kind) -> None:
    kind = work(nothing)
    assert len(set(at_once(8, lambda _: jobs.enqueue(kind, month).pk))) == 1


# --- Taking ---


def test_of_many_workers_exactly_one_gets_the_job(month: Month, work: Kind) -> None:
    for _ in range(5):
        job = jobs.enqueue(work(nothing), month)
        took = at_once(8, partial(claim_as_one_of_many, job.pk))
        assert sorted(took) == [False] * 7 + [True]
        Job.objects.filter(pk=job.pk).update(state=State.DONE)


def test_running_a_job_a_second_time_changes_nothing(month: Month, work: Kind) -> None:
    done: list[int] = []
    job = jobs.enqueue(work(lambda job, watch: done.append(job.pk)), month)
    jobs.work_on(job.pk, "anna")
    before = Job.objects.values().get()
    jobs.work_on(job.pk, "bram")
    assert done == [job.pk]
    assert Job.objects.values().get() == before


def test_workers_that_look_for_work_do_each_job_once(work: Kind) -> None:
    done: list[int] = []
    kind = work(lambda job, watch: done.append(job.pk))
    months = [save.month(month_of(f"C{i}")) for i in range(12)]
    asked = [jobs.enqueue(kind, month).pk for month in months]
    over = Event()
    workers = [Thread(target=in_thread, args=(lambda: jobs.work_until(over),)) for _ in range(3)]
    for worker in workers:
        worker.start()
    wait_for(lambda: not Job.objects.filter(state__in=LIVE).exists())
    over.set()
    for worker in workers:
        worker.join()
    assert sorted(done) == sorted(asked)


# --- Ending ---


def test_a_cause_in_the_month_is_told_in_its_own_words(month: Month, work: Kind) -> None:
    def too_large(job: Job, watch: Watch) -> None:
        raise CuttingError("Tag does not come out of Shore White. Name a larger sheet.")

    job = run_to_its_end(jobs.enqueue(work(too_large), month))
    assert (job.state, job.error) == (
        State.FAILED,
        "Tag does not come out of Shore White. Name a larger sheet.",
    )


def test_a_full_disk_is_told_as_one(month: Month, work: Kind) -> None:
    def full(job: Job, watch: Watch) -> None:
        raise OSError(28, "No space left on device")

    job = run_to_its_end(jobs.enqueue(work(full), month))
    assert job.error == "The papers could not be written: No space left on device."


def test_a_mistake_of_the_program_names_the_job_and_shows_no_traceback(month: Month, work: Kind) -> None:
    job = run_to_its_end(jobs.enqueue(work(lambda job, watch: print(1 / 0)), month))
    assert job.state == State.FAILED
    assert job.error == f"The program made a mistake; its log says more under job {job.pk}."


def test_a_worker_that_is_told_to_stop_gives_its_job_back(month: Month, work: Kind) -> None:
    def stopped(job: Job, watch: Watch) -> None:
        raise KeyboardInterrupt

    job = jobs.enqueue(work(stopped), month)
    with pytest.raises(KeyboardInterrupt):
        jobs.work_on(job.pk, "anna")
    job.refresh_from_db()
    assert (job.state, job.attempt) == (State.QUEUED, 0)


# --- Calling off ---


def test_a_job_nobody_has_begun_is_cancelled_at_once(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    jobs.cancel(job.pk)
    assert run_to_its_end(job).state == State.CANCELLED


def test_a_running_job_stops_before_its_next_stage(month: Month, work: Kind) -> None:
    stages: list[str] = []

    def two_stages(job: Job, watch: Watch) -> None:
        for name in ("cutting", "buying"):
            watch.stage(name)
            stages.append(name)
            jobs.cancel(job.pk)

    job = run_to_its_end(jobs.enqueue(work(two_stages), month))
    assert (job.state, stages) == (State.CANCELLED, ["cutting"])


def test_calling_off_what_has_ended_changes_nothing(month: Month, work: Kind) -> None:
    job = run_to_its_end(jobs.enqueue(work(nothing), month))
    jobs.cancel(job.pk)
    job.refresh_from_db()
    assert (job.state, job.cancel) == (State.DONE, False)


# --- Dying ---


def dead(job: Job, ago: timedelta = timedelta(minutes=5)) -> None:
    """Let a worker take the job and be heard of no more."""
    assert jobs.claim(job.pk, "dead")
    Job.objects.filter(pk=job.pk).update(heartbeat=Now() - ago)


def test_what_a_dead_worker_left_is_done_by_another(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    dead(job)
    jobs.tend()
    assert run_to_its_end(job).state == State.DONE
    job.refresh_from_db()
    assert job.attempt == 2


def test_a_worker_that_gives_signs_of_life_keeps_its_job(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    dead(job, ago=jobs.STALE / 2)
    jobs.tend()
    job.refresh_from_db()
    assert job.state == State.RUNNING


def test_a_worker_gives_signs_of_life_through_a_step_of_any_length(
    month: Month, work: Kind, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(jobs, "BEAT", 0.05)
    heard: list[object] = []

    def long_step(job: Job, watch: Watch) -> None:
        for _ in range(2):
            heard.append(Job.objects.get(pk=job.pk).heartbeat)
            time.sleep(0.5)

    run_to_its_end(jobs.enqueue(work(long_step), month))
    assert heard[0] != heard[1]


def test_a_worker_taken_for_dead_changes_nothing_when_it_comes_back(month: Month, work: Kind) -> None:
    def falls_asleep(job: Job, watch: Watch) -> None:
        Job.objects.filter(pk=job.pk).update(heartbeat=Now() - timedelta(minutes=5))
        jobs.tend()
        assert jobs.claim(job.pk, "bram")
        watch.stage("buying")
        raise AssertionError("it goes on although the job is another's")

    job = jobs.enqueue(work(falls_asleep), month)
    jobs.work_on(job.pk, "anna")
    job.refresh_from_db()
    assert (job.state, job.owner, job.stage) == (State.RUNNING, "bram", "")


def test_a_job_that_kills_its_workers_is_given_up(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    for _ in range(jobs.MOST_ATTEMPTS):
        dead(job)
        jobs.tend()
    job.refresh_from_db()
    assert job.state == State.FAILED
    assert "3 times" in job.error


def test_a_job_called_off_while_its_worker_died_is_cancelled(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    dead(job)
    jobs.cancel(job.pk)
    jobs.tend()
    job.refresh_from_db()
    assert job.state == State.CANCELLED


# --- Anything in any order ---

MOVES = st.sampled_from(["enqueue", "run", "claim", "die", "tend", "cancel", "wake"])


@settings(max_examples=examples(60), suppress_health_check=list(HealthCheck))
@given(st.lists(MOVES, max_size=12))
def test_in_whatever_order_things_happen_a_job_is_live_once_and_never_done_after_its_end(
    moves: list[str],
) -> None:
    Job.objects.all().delete()
    month = save.month(SMALL_MONTH)
    done: list[int] = []
    KINDS["any order"] = lambda job, watch: done.append(job.pk)
    ended: dict[int, str] = {}
    asleep: list[Watch] = []
    for move in moves:
        for job in Job.objects.all():
            if move == "run":
                jobs.work_on(job.pk, "anna")
            elif move == "claim" and jobs.claim(job.pk, "bram"):
                asleep.append(Watch(job.pk, "bram"))
            elif move == "die":
                Job.objects.filter(pk=job.pk, state=State.RUNNING).update(
                    heartbeat=Now() - timedelta(minutes=5)
                )
            elif move == "cancel":
                jobs.cancel(job.pk)
        if move == "enqueue":
            jobs.enqueue("any order", month)
        elif move == "tend":
            jobs.tend()
        elif move == "wake" and asleep:
            asleep.pop().end(State.DONE)
        states = {job.pk: str(job.state) for job in Job.objects.all()}
        assert sum(state in LIVE for state in states.values()) <= 1
        assert all(states[pk] == state for pk, state in ended.items())
        ended |= {pk: state for pk, state in states.items() if state in ENDS}
    assert len(done) == len(set(done))


# --- Helpers ---


def claim_as_one_of_many(pk: int, number: int) -> bool:
    return jobs.claim(pk, f"worker {number}")


def run_to_its_end(job: Job) -> Job:
    jobs.work_on(job.pk, "anna")
    job.refresh_from_db()
    return job


def month_of(club: str) -> Book:
    return replace(SMALL_MONTH, club=replace(SMALL_MONTH.club, code=club), subscribers=())


def in_thread(does: Callable[[], T]) -> T:
    """Do it, and leave no connection of this thread behind."""
    try:
        return does()
    finally:
        connection.close()


def at_once(many: int, does: Callable[[int], T]) -> list[T]:
    """Do it in many threads at the same time; return what came of each."""
    with ThreadPoolExecutor(many) as pool:
        return list(pool.map(lambda i: in_thread(lambda: does(i)), range(many)))


def wait_for(condition: Callable[[], bool], seconds: float = 30) -> None:
    latest = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < latest, "it did not come about"
        time.sleep(0.05)
