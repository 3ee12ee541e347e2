"""The rules of `planning.states`, applied to rows: each function is one transaction.

Rows are locked in one order, part before job, and a part's row stays locked while what it made is kept: of two workers that
have done the same part one waits, and then finds that it is done. All times are the database's own clock.
"""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta

from django.db.models import F, QuerySet
from django.db.models.functions import Now
from django.db.transaction import atomic

from planning import states
from planning.jobs.kinds import KINDS, Asks, Keep
from planning.models import LIVE, Job, JobPart, PartState, State
from planning.states import Cancelled, Lost, Part, Run


@dataclass(frozen=True, slots=True)
class Hold:
    """A part as the worker that took it sees it."""

    part: int
    job: int
    stage: int
    asks: Asks
    worker: str


# --- Rows and plain data ---


def run_of(job: Job) -> Run:
    """Return a job as the rules see it."""
    return Run(
        state=State(job.state),
        stage=job.stage_number,
        done=job.done,
        total=job.total,
        attempt=job.attempt,
        error=job.error,
    )


def part_of(row: JobPart) -> Part:
    """Return a part as the rules see it."""
    return Part(
        stage=row.stage,
        state=PartState(row.state),
        owner=row.owner,
        attempt=row.attempt,
        heartbeat=row.heartbeat,
        due=row.due,
    )


def write_run(job: Job, run: Run, now: datetime) -> None:
    """Change a job's row, which is locked, to what the rules say it is next."""
    values = asdict(run)
    values["stage_number"] = values.pop("stage")
    if run.state not in LIVE and job.state in LIVE:
        values["ended_at"] = now
    if run.state is State.RUNNING and job.state == State.QUEUED:
        values["started_at"] = now
    if run.stage != job.stage_number or (run.state is State.RUNNING and job.state == State.QUEUED):
        values |= {"stage": KINDS[job.kind][run.stage].name, "stage_at": now}
    Job.objects.filter(pk=job.pk).update(**values)


def write_part(row: JobPart, part: Part) -> None:
    """Change a part's row, which is locked."""
    JobPart.objects.filter(pk=row.pk).update(**asdict(part))


def locked_job(pk: int) -> tuple[Job, datetime]:
    """Return a job nobody else changes until the transaction ends, and the time."""
    job = Job.objects.select_for_update().annotate(now=Now()).get(pk=pk)
    return job, job.now


def locked_part(hold: Hold) -> JobPart:
    """Return the part of a worker. Raises Lost where it is there no more, as after a job has started over."""
    row = JobPart.objects.select_for_update().filter(pk=hold.part).first()
    if row is None:
        raise Lost
    return row


# --- Making parts ---


def open_stages(job: Job, run: Run, now: datetime) -> Run:
    """Open the stage after one that is complete, passing over those without parts; after the last the job has ended."""
    stages = KINDS[job.kind]
    while states.is_complete(run):
        if run.stage + 1 == len(stages):
            return states.end(run)
        run = states.open_stage(run, run.stage + 1, make_parts(job, run.stage + 1, now))
    return run


def make_parts(job: Job, stage: int, now: datetime) -> int:
    """Cut a stage into parts, and count them."""
    asked = list(KINDS[job.kind][stage].split(job))
    parts = (
        JobPart(job=job, stage=stage, number=number, asks=asks, due=now) for number, asks in enumerate(asked)
    )
    JobPart.objects.bulk_create(parts, batch_size=2_000)
    return len(asked)


# --- A worker's own moves ---


def waiting_parts(job: int | None = None) -> QuerySet[JobPart]:
    """Return the parts that can be taken, of one job or of all, in the order in which they are."""
    live = JobPart.objects.filter(
        state=PartState.WAITING, due__lte=Now(), stage=F("job__stage_number"), job__state__in=LIVE
    )
    return (live if job is None else live.filter(job=job)).order_by("job_id", "number")


@atomic
def take(worker: str, job: int | None = None) -> Hold | None:
    """Take the first part that waits; of any number of workers each gets another one."""
    row = waiting_parts(job).select_for_update(skip_locked=True, of=("self",)).first()
    if row is None:
        return None
    owner, now = locked_job(row.job_id)
    both = states.take(run_of(owner), part_of(row), worker, now)
    if both is None:
        return None
    write_run(owner, both[0], now)
    write_part(row, both[1])
    Job.objects.filter(pk=owner.pk).update(heartbeat=now, owner=worker)
    return Hold(part=row.pk, job=row.job_id, stage=row.stage, asks=row.asks, worker=worker)


def beat(hold: Hold) -> type[Exception] | None:
    """Give a sign of life; return what is the matter where the part is not this worker's to do any more."""
    mine = JobPart.objects.filter(pk=hold.part, owner=hold.worker, state=PartState.TAKEN)
    if not mine.filter(job__state=State.RUNNING).update(heartbeat=Now()):
        return Lost if Job.objects.filter(pk=hold.job, state=State.RUNNING).exists() else Cancelled
    Job.objects.filter(pk=hold.job).update(heartbeat=Now(), owner=hold.worker)
    return None


def say(hold: Hold, words: str) -> None:
    """Say what a job is at, within its stage. Raises Cancelled or Lost."""
    if (amiss := beat(hold)) is not None:
        raise amiss
    Job.objects.filter(pk=hold.job, state=State.RUNNING).update(stage=words, stage_at=Now())


@atomic
def finish(hold: Hold, keep: Keep) -> int:
    """Keep what came of a part, count it, open the next stage after the last one, and return how many parts were opened.

    Raises Cancelled or Lost. The part's row is looked at before anything is kept and again once the job's is locked: between
    the two the job may end.
    """
    row = locked_part(hold)
    states.check(run_of(Job.objects.get(pk=hold.job)), part_of(row), hold.worker)
    keep()
    job, now = locked_job(hold.job)
    run, part = states.finish(run_of(job), part_of(row), hold.worker)
    write_part(row, part)
    after = open_stages(job, run, now)
    write_run(job, after, now)
    return 0 if after.stage == run.stage else after.total


@atomic
def change(hold: Hold, rule: Callable[[Run, Part, datetime], states.Both]) -> None:
    """Let a worker's part, and its job, become what a rule says. Raises Cancelled or Lost."""
    row = locked_part(hold)
    job, now = locked_job(hold.job)
    run, part = rule(run_of(job), part_of(row), now)
    write_part(row, part)
    write_run(job, run, now)


def give_back(hold: Hold, pause: timedelta = timedelta(0), why: str = "") -> None:
    """Return a part untouched. why: what it waits for, for the job's page."""

    def rule(run: Run, part: Part, now: datetime) -> states.Both:
        run, part = states.give_back(run, part, hold.worker, now, pause)
        return states.because(run, why), part

    change(hold, rule)


def fail(hold: Hold, why: str) -> None:
    """Try a part again later, or end the job where that was tried too often."""
    change(hold, lambda run, part, now: states.fail(run, part, hold.worker, why, now))


def refuse(hold: Hold, why: str) -> None:
    """End a job that no trying again can help."""
    change(hold, lambda run, part, now: states.refuse(run, part, hold.worker, why))


@atomic
def start_over(hold: Hold) -> None:
    """Begin a job again from its first stage. Raises Cancelled or Lost."""
    row = locked_part(hold)
    job, now = locked_job(hold.job)
    states.check(run_of(job), part_of(row), hold.worker)
    JobPart.objects.filter(job=job).delete()
    run = states.start_over(run_of(job), part_of(row), hold.worker, make_parts(job, 0, now))
    write_run(job, run, now)
