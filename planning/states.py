"""How a job and its parts change: every rule of background work, without clock, database or worker.

A job goes through stages; each stage is cut into parts that any worker may do in any order. A function here is handed the
job and one part as they stand and returns them as they are next. Whoever keeps them (`planning.jobs.rows`) does so in one
transaction with what the part has made, so a part counts exactly when its work is kept, and no message, worker or clock can
make it count twice or not at all.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

STALE = timedelta(seconds=20)  # without a sign of life for so long, a worker is taken for dead
MOST_ATTEMPTS = 5
FIRST_PAUSE = timedelta(seconds=1)  # before a part that failed is tried again; doubled each time
LONGEST_PAUSE = timedelta(seconds=15)
SKEW = timedelta(seconds=5)  # a time this far ahead was written before the clock was set back


class State(StrEnum):
    """Where a job stands; the last three are its ends."""

    QUEUED = "queued"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"


LIVE = (State.QUEUED, State.RUNNING)


class PartState(StrEnum):
    """Where a part stands."""

    WAITING = "waiting"
    TAKEN = "taken"
    DONE = "done"


class Cancelled(Exception):  # noqa: N818 - an end, not an error
    """The job has ended meanwhile: what was being done for it is not wanted any more."""


class Lost(Exception):  # noqa: N818
    """The part is no longer this worker's: it was taken for dead and the part is another's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A job. stage: which one it is at, from 0; done, total: its parts. attempt: 1, and 1 for each part taken up again."""

    state: State = State.QUEUED
    stage: int = 0
    done: int = 0
    total: int = 0
    attempt: int = 1
    error: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of a stage.

    owner: the worker that has it. attempt: how often a worker has taken it. heartbeat: when its worker last gave a sign of
    life. due: it waits at least until then.
    """

    due: datetime
    stage: int = 0
    state: PartState = PartState.WAITING
    owner: str = ""
    attempt: int = 0
    heartbeat: datetime | None = None


Both = tuple[Run, Part]


# --- A worker and its part ---


def take(run: Run, part: Part, worker: str, now: datetime) -> Both | None:
    """Let a worker have a part, or return None where there is nothing to have."""
    wanted = run.state in LIVE and part.stage == run.stage
    if not wanted or part.state is not PartState.WAITING or part.due > now:
        return None
    taken = replace(part, state=PartState.TAKEN, owner=worker, attempt=part.attempt + 1, heartbeat=now)
    return replace(run, state=State.RUNNING, error=""), taken


def check(run: Run, part: Part, worker: str) -> None:
    """Raise Cancelled or Lost unless the worker still has the part and the job still wants it."""
    if run.state is not State.RUNNING:
        raise Cancelled
    if part.state is not PartState.TAKEN or part.owner != worker or part.stage != run.stage:
        raise Lost


def finish(run: Run, part: Part, worker: str) -> Both:
    """Count a part whose work is kept in this very transaction. Raises Cancelled or Lost, and then nothing may be kept."""
    check(run, part, worker)
    return replace(run, done=run.done + 1), replace(part, state=PartState.DONE)


def give_back(run: Run, part: Part, worker: str, now: datetime, pause: timedelta = timedelta(0)) -> Both:
    """Return a part untouched, as a worker does that is told to stop, or that cannot go on for want of disk or database."""
    check(run, part, worker)
    return run, waiting(replace(part, attempt=part.attempt - 1), now + pause)


def because(run: Run, why: str) -> Run:
    """Say what a job waits for, until somebody goes on with it."""
    return replace(run, error=why)


def fail(run: Run, part: Part, worker: str, why: str, now: datetime) -> Both:
    """Try a part again later, each time later than before; after too many times the job fails."""
    check(run, part, worker)
    if part.attempt >= MOST_ATTEMPTS:
        return replace(run, state=State.FAILED, error=why), part
    return replace(run, error=why, attempt=run.attempt + 1), waiting(part, now + pause_after(part.attempt))


def refuse(run: Run, part: Part, worker: str, why: str) -> Both:
    """End a job that no trying again can help."""
    check(run, part, worker)
    return replace(run, state=State.FAILED, error=why), part


def waiting(part: Part, due: datetime) -> Part:
    """Return a part as nobody's."""
    return replace(part, state=PartState.WAITING, owner="", heartbeat=None, due=due)


def pause_after(attempt: int) -> timedelta:
    """Return how long to wait after so many attempts."""
    doubled: int = 2 ** (attempt - 1)
    return min(FIRST_PAUSE * doubled, LONGEST_PAUSE)


# --- Stages ---


def is_complete(run: Run) -> bool:
    """Tell whether every part of the stage is done."""
    return run.state in LIVE and run.done == run.total


def open_stage(run: Run, stage: int, parts: int) -> Run:
    """Begin a stage of so many parts."""
    return replace(run, stage=stage, done=0, total=parts)


def end(run: Run) -> Run:
    """End a job whose last stage is complete."""
    return replace(run, state=State.DONE, error="")


def start_over(run: Run, part: Part, worker: str, parts: int) -> Run:
    """Go back to the first stage, as when the month was changed while it was being planned. Its parts are made anew."""
    check(run, part, worker)
    return replace(open_stage(run, 0, parts), attempt=run.attempt + 1)


# --- From outside ---


def cancel(run: Run) -> Run:
    """End a job at once. Its workers hear of it at their next sign of life, and nothing of theirs is kept."""
    return replace(run, state=State.CANCELLED, error="") if run.state in LIVE else run


def reap(run: Run, part: Part, now: datetime) -> Both:
    """Put right what a dead worker left, and times that were written before the clock was set back."""
    if run.state not in LIVE:
        return run, part
    if part.state is PartState.WAITING:
        return run, replace(part, due=now) if part.due > now + LONGEST_PAUSE + SKEW else part
    if part.state is PartState.DONE or part.heartbeat is None:
        return run, part
    if part.heartbeat > now + SKEW:
        return run, replace(part, heartbeat=now)
    if part.heartbeat >= now - STALE:
        return run, part
    if part.attempt >= MOST_ATTEMPTS:
        why = f"The worker stopped {MOST_ATTEMPTS} times at the same place before the job was done."
        return replace(run, state=State.FAILED, error=why), part
    return replace(run, attempt=run.attempt + 1), waiting(part, now)
