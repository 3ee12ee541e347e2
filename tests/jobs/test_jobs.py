"""The job's row and its parts': who may take one, how it ends, what becomes of it when its worker dies."""

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from functools import partial
from threading import Event, Thread
from typing import TypeVar

import pytest
from django.db import OperationalError, connection
from django.db.models.functions import Now
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kits.models import Month
from planning import jobs, save, states
from planning.jobs import KINDS, Hold, Stage, Watch, rows, watch
from planning.jobs.kinds import Asks, Keep, RefusedError, StartOverError, one_part
from planning.models import LIVE, Job, JobPart, PartState, State
from planning.month import Month as Book
from tests.support.effort import examples
from tests.web.small_month import SMALL_MONTH

# Workers are threads here, each with its own connection, so nothing may hide in a test's own transaction.
pytestmark = pytest.mark.django_db(transaction=True)

T = TypeVar("T")
Does = Callable[[Job, Asks, Watch], Keep]
Kind = Callable[..., str]
ENDS = {State.DONE, State.FAILED, State.CANCELLED}


@pytest.fixture
def month() -> Month:
    return save.month(SMALL_MONTH)


@pytest.fixture
def work(monkeypatch: pytest.MonkeyPatch) -> Kind:
    """Return kind(does, parts): a kind of job with one stage, of so many parts that each do this."""

    def kind(does: Does, parts: int = 1) -> str:
        monkeypatch.setitem(
            KINDS, "test", (Stage("folding", lambda job: [{"n": n} for n in range(parts)], does),)
        )
        return "test"

    return kind


def nothing(job: Job, asks: Asks, watch: Watch) -> Keep:
    return lambda: None


def raising(error: BaseException) -> Does:
    def does(job: Job, asks: Asks, watch: Watch) -> Keep:
        raise error

    return does


def test_it_works(month: Month, work: Kind) -> None:
    kept: list[int] = []
    job = jobs.enqueue(work(lambda job, asks, watch: lambda: kept.append(asks["n"]), parts=3), month)
    assert (job.state, job.stage) == (State.QUEUED, "folding")
    jobs.work_on(job.pk, "anna")
    job.refresh_from_db()
    assert kept == [0, 1, 2]
    assert (job.state, job.done, job.total, job.error, job.attempt, job.owner) == (
        State.DONE,
        3,
        3,
        "",
        1,
        "anna",
    )
    assert job.started_at is not None
    assert job.ended_at is not None
    assert job.created_at <= job.started_at <= job.ended_at


def test_stages_follow_one_another_and_one_without_parts_is_passed_over(
    month: Month, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[tuple[str, int]] = []

    def stage(name: str, parts: int) -> Stage:
        def does(job: Job, asks: Asks, watch: Watch) -> Keep:
            return lambda: seen.append((Job.objects.get().stage, asks["n"]))

        return Stage(name, lambda job: [{"n": n} for n in range(parts)], does)

    monkeypatch.setitem(KINDS, "test", (stage("cut", 2), stage("dry", 0), stage("fold", 1)))
    job = run_to_its_end(jobs.enqueue("test", month))
    assert job.state == State.DONE
    assert seen == [("cut", 0), ("cut", 1), ("fold", 0)]


# --- Asking ---


def test_asking_twice_is_asking_once(month: Month, work: Kind) -> None:
    kind = work(nothing)
    assert jobs.enqueue(kind, month) == jobs.enqueue(kind, month)
    assert (Job.objects.count(), JobPart.objects.count()) == (1, 1)


def test_once_it_has_ended_it_can_be_asked_for_again(month: Month, work: Kind) -> None:
    kind = work(nothing)
    first = jobs.enqueue(kind, month)
    jobs.work_on(first.pk, "anna")
    assert jobs.enqueue(kind, month) != first


def test_many_who_ask_at_once_get_the_same_job(month: Month, work: Kind) -> None:
    kind = work(nothing)
    assert len(set(at_once(8, lambda _: jobs.enqueue(kind, month).pk))) == 1


# --- Taking ---


def test_of_many_workers_exactly_one_gets_a_part(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing, parts=5), month)
    took = at_once(8, partial(take_as_one_of_many, job.pk))
    assert sorted(hold.asks["n"] for hold in took if hold) == [0, 1, 2, 3, 4]
    assert took.count(None) == 3


def test_workers_that_look_for_work_do_each_part_once(work: Kind) -> None:
    done: list[tuple[int, int]] = []
    kind = work(lambda job, asks, watch: lambda: done.append((job.pk, asks["n"])), parts=3)
    months = [save.month(month_of(f"C{i}")) for i in range(6)]
    asked = [jobs.enqueue(kind, month).pk for month in months]
    over = Event()
    workers = [Thread(target=in_thread, args=(lambda: jobs.work_until(over),)) for _ in range(3)]
    for worker in workers:
        worker.start()
    wait_for(lambda: not Job.objects.filter(state__in=LIVE).exists())
    over.set()
    for worker in workers:
        worker.join()
    assert sorted(done) == [(pk, n) for pk in asked for n in range(3)]


# --- Keeping ---


def test_what_a_part_made_is_kept_with_its_mark_or_not_at_all(month: Month, work: Kind) -> None:
    def keep() -> None:
        Month.objects.update(name="Half kept")
        raise RuntimeError

    job = run_to_its_end(jobs.enqueue(work(lambda job, asks, watch: keep), month))
    assert job.state == State.FAILED
    assert Month.objects.get().name == SMALL_MONTH.club.name


def test_a_part_done_by_two_at_once_is_kept_once(month: Month, work: Kind) -> None:
    kept: list[str] = []
    job = jobs.enqueue(work(nothing), month)
    hold = held(job, "anna")
    ends = at_once(4, lambda n: ended_with(lambda: rows.finish(hold, lambda: kept.append(str(n)))))
    assert len(kept) == 1
    assert sorted(ends, key=str) == sorted([None, *[states.Cancelled] * 3], key=str)


def test_a_worker_taken_for_dead_keeps_nothing_when_it_comes_back(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    late = held(job, "anna")
    silent(job)
    jobs.tend()
    now = held(job, "bram")
    with pytest.raises(states.Lost):
        rows.finish(late, lambda: pytest.fail("kept by a worker that is taken for dead"))
    rows.finish(now, lambda: None)
    job.refresh_from_db()
    assert (job.state, job.attempt) == (State.DONE, 2)


# --- Ending ---


def test_a_cause_in_the_month_is_told_in_its_own_words(month: Month, work: Kind) -> None:
    why = "Tag does not come out of Shore White. Name a larger sheet."
    job = run_to_its_end(jobs.enqueue(work(raising(RefusedError(why))), month))
    assert (job.state, job.error) == (State.FAILED, why)


def test_a_mistake_of_the_program_names_the_job_and_shows_no_traceback(month: Month, work: Kind) -> None:
    job = run_to_its_end(jobs.enqueue(work(raising(ZeroDivisionError())), month))
    assert job.state == State.FAILED
    assert job.error == f"The program made a mistake; its log says more under job {job.pk}."


def test_a_full_disk_is_waited_for_and_told_as_one(month: Month, work: Kind) -> None:
    job = run_to_its_end(jobs.enqueue(work(raising(OSError(28, "No space left on device"))), month))
    assert (job.state, job.attempt) == (State.RUNNING, 1)
    assert job.error == "The disk is full. The work goes on by itself as soon as there is room."
    JobPart.objects.update(due=Now())
    work(nothing)
    assert run_to_its_end(job).state == State.DONE


def test_a_folder_that_cannot_be_written_is_tried_again_and_then_told(month: Month, work: Kind) -> None:
    job = run_to_its_end(jobs.enqueue(work(raising(OSError(13, "Permission denied"))), month))
    assert (job.state, job.attempt) == (State.RUNNING, 2)
    for _ in range(states.MOST_ATTEMPTS):
        JobPart.objects.update(due=Now())
        run_to_its_end(job)
    assert (job.state, job.error) == (State.FAILED, "The papers could not be written: Permission denied.")


def test_a_database_that_does_not_answer_is_no_failure(
    month: Month, work: Kind, caplog: pytest.LogCaptureFixture
) -> None:
    job = run_to_its_end(jobs.enqueue(work(raising(OperationalError("gone"))), month))
    assert (job.state, job.attempt) == (State.RUNNING, 1)
    assert JobPart.objects.get().attempt == 0


def test_a_worker_that_is_told_to_stop_gives_its_part_back(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(raising(KeyboardInterrupt())), month)
    with pytest.raises(KeyboardInterrupt):
        jobs.work_on(job.pk, "anna")
    part = JobPart.objects.get()
    assert (part.state, part.owner, part.attempt) == (PartState.WAITING, "", 0)


def test_a_job_whose_ground_has_shifted_starts_over(month: Month, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []

    def second(job: Job, asks: Asks, watch: Watch) -> Keep:
        seen.append("second")
        if seen.count("second") == 2:
            raise StartOverError
        return lambda: None

    def first(job: Job, asks: Asks, watch: Watch) -> Keep:
        return lambda: seen.append("first")

    two = Stage("second", lambda job: [{}, {}], second)
    monkeypatch.setitem(KINDS, "test", (Stage("first", one_part, first), two))
    job = run_to_its_end(jobs.enqueue("test", month))
    assert seen == ["first", "second", "second", "first", "second", "second"]
    assert (job.state, job.attempt) == (State.DONE, 2)


# --- Calling off ---


def test_a_job_nobody_has_begun_is_cancelled_at_once(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    jobs.cancel(job.pk)
    assert run_to_its_end(job).state == State.CANCELLED


def test_a_worker_stops_within_five_seconds_whatever_it_is_doing(month: Month, work: Kind) -> None:
    begun, stopped = Event(), Event()

    def never_looks(job: Job, asks: Asks, watch: Watch) -> Keep:
        begun.set()
        try:
            while True:
                time.sleep(0.01)
        finally:
            stopped.set()

    job = jobs.enqueue(work(never_looks), month)
    worker = Thread(target=in_thread, args=(lambda: jobs.work_on(job.pk, "anna"),))
    worker.start()
    begun.wait(10)
    jobs.cancel(job.pk)
    assert stopped.wait(5)
    worker.join(5)
    assert not worker.is_alive()
    job.refresh_from_db()
    assert (job.state, job.cancel) == (State.CANCELLED, True)


def test_calling_off_what_has_ended_changes_nothing(month: Month, work: Kind) -> None:
    job = run_to_its_end(jobs.enqueue(work(nothing), month))
    jobs.cancel(job.pk)
    job.refresh_from_db()
    assert (job.state, job.cancel) == (State.DONE, False)


def test_nothing_is_kept_of_a_job_called_off_while_it_is_being_kept(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    hold = held(job, "anna")

    def keep() -> None:
        Month.objects.update(name="Half kept")
        job_row = Job.objects.filter(pk=job.pk)
        job_row.update(state=State.CANCELLED)  # as another process may, while this one keeps

    with pytest.raises(states.Cancelled):
        rows.finish(hold, keep)
    assert Month.objects.get().name == SMALL_MONTH.club.name


# --- Dying ---


def test_what_a_dead_worker_left_is_done_by_another(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing, parts=2), month)
    held(job, "dead")
    silent(job)
    jobs.tend()
    assert run_to_its_end(job).state == State.DONE
    assert job.attempt == 2


def test_a_worker_that_gives_signs_of_life_keeps_its_part(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    held(job, "slow")
    silent(job, states.STALE / 2)
    jobs.tend()
    assert JobPart.objects.get().owner == "slow"


def test_a_worker_gives_signs_of_life_through_a_step_of_any_length(
    month: Month, work: Kind, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(watch, "BEAT", 0.05)
    heard: list[object] = []

    def long_step(job: Job, asks: Asks, watch: Watch) -> Keep:
        for _ in range(2):
            heard.append(JobPart.objects.get().heartbeat)
            time.sleep(0.5)
        return lambda: None

    run_to_its_end(jobs.enqueue(work(long_step), month))
    assert heard[0] != heard[1]


def test_when_the_clock_is_set_back_the_dead_are_still_found(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    held(job, "dead")
    silent(job, timedelta(hours=-1))  # its last sign of life is an hour ahead of the clock
    jobs.tend()
    silent(job, states.STALE * 2)
    jobs.tend()
    assert run_to_its_end(job).state == State.DONE


def test_a_part_that_kills_its_workers_ends_the_job(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    for _ in range(states.MOST_ATTEMPTS):
        held(job, "dead")
        silent(job)
        jobs.tend()
    job.refresh_from_db()
    assert job.state == State.FAILED
    assert "5 times" in job.error


def test_a_job_from_before_there_were_parts_is_begun(month: Month, work: Kind) -> None:
    job = jobs.enqueue(work(nothing), month)
    JobPart.objects.all().delete()
    jobs.tend()
    assert run_to_its_end(job).state == State.DONE


# --- Anything in any order ---

MOVES = st.sampled_from(
    ["enqueue", "run one", "take", "finish", "die", "tend", "cancel", "give back", "fail"]
)


@settings(max_examples=examples(80), suppress_health_check=list(HealthCheck))
@given(st.lists(MOVES, max_size=14))
def test_the_rows_keep_the_rules_in_whatever_order_things_happen(moves: list[str]) -> None:
    Job.objects.all().delete()
    month = save.month(SMALL_MONTH)
    kept: list[tuple[int, int, int]] = []

    def stage(number: int) -> Stage:
        def does(job: Job, asks: Asks, watch: Watch) -> Keep:
            return lambda: kept.append((job.pk, number, asks["n"]))

        return Stage(f"stage {number}", lambda job: [{"n": 0}, {"n": 1}], does)

    KINDS["any order"] = (stage(0), stage(1))
    ended: dict[int, str] = {}
    holds: list[Hold] = []
    for move in moves:
        if move == "enqueue":
            jobs.enqueue("any order", month)
        elif move == "run one":
            jobs.work_on_one("anna")
        elif move == "take" and (hold := jobs.take("bram")):
            holds.append(hold)
        elif move == "die":
            JobPart.objects.filter(state=PartState.TAKEN).update(heartbeat=Now() - timedelta(minutes=5))
        elif move == "tend":
            jobs.tend()
        elif move == "cancel":
            for job in Job.objects.all():
                jobs.cancel(job.pk)
        elif holds:
            ended_with(partial(put_down, holds[-1], move, kept))
        JobPart.objects.filter(due__gt=Now()).update(due=Now())
        states_now = {job.pk: str(job.state) for job in Job.objects.all()}
        assert sum(state in LIVE for state in states_now.values()) <= 1
        assert all(states_now[pk] == state for pk, state in ended.items())
        ended |= {pk: state for pk, state in states_now.items() if state in ENDS}
        assert len(kept) == len(set(kept))
        for job in Job.objects.filter(state__in=LIVE):
            assert job.done == job.parts.filter(stage=job.stage_number, state=PartState.DONE).count()
        for pk, state in states_now.items():
            if state == State.DONE:
                assert {(s, n) for of, s, n in kept if of == pk} == {(0, 0), (0, 1), (1, 0), (1, 1)}


# --- Helpers ---


def held(job: Job, worker: str) -> Hold:
    hold = jobs.take(worker, job.pk)
    assert hold is not None
    return hold


def put_down(hold: Hold, move: str, kept: list[tuple[int, int, int]]) -> None:
    if move == "finish":
        rows.finish(hold, lambda: kept.append((hold.job, hold.stage, hold.asks["n"])))
    elif move == "give back":
        rows.give_back(hold)
    elif move == "fail":
        rows.fail(hold, "full")


def silent(job: Job, ago: timedelta = timedelta(minutes=5)) -> None:
    """Let the last sign of life of the job's workers be so long ago."""
    JobPart.objects.filter(job=job, state=PartState.TAKEN).update(heartbeat=Now() - ago)


def take_as_one_of_many(pk: int, number: int) -> Hold | None:
    return jobs.take(f"worker {number}", pk)


def ended_with(act: Callable[[], object]) -> type[Exception] | None:
    try:
        act()
    except (states.Lost, states.Cancelled) as end:
        return type(end)
    return None


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
