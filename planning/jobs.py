"""Background work. The job row is the truth; every race is decided by an update of it that says what it expects to find.

enqueue -> claim -> watch -> end. A message to a worker is only a hint to look at the row, so it may be lost or come twice.
"""

import logging
import os
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from threading import Event, Thread
from uuid import uuid4

from django.conf import settings
from django.contrib.auth.models import User
from django.db import IntegrityError, InterfaceError, OperationalError, connection
from django.db.models import F
from django.db.models.functions import Now
from django.db.transaction import atomic, on_commit

from kits.models import Month
from planning import load, run, save
from planning.drafts import DraftError, refuse_drafts
from planning.models import LIVE, Job, State
from planning.run import MONTH_ERRORS

BEAT = 5.0  # seconds between signs of life
STALE = timedelta(seconds=30)  # without one for so long, the worker is taken for dead
FORGOTTEN = timedelta(seconds=60)  # queued for so long, its message is taken for lost
MOST_ATTEMPTS = 3
LOOK = 0.5  # seconds between looks for work

log = logging.getLogger(__name__)


class Cancelled(Exception):  # noqa: N818 - an end, not an error
    """Somebody asked for the job to stop."""


class Lost(Exception):  # noqa: N818
    """The job is no longer this worker's: it was taken for dead and another has it."""


# --- Asking for work, and calling it off ---


def enqueue(kind: str, month: Month, asked_by: User | None = None) -> Job:
    """Return the live job of this kind for the month, a new one unless there is one already."""
    wanted = {"key": f"{kind} {month.pk}", "kind": kind, "month": month}
    try:
        with atomic():
            job = Job.objects.create(**wanted, asked_by=asked_by)
    except IntegrityError:
        live = Job.objects.filter(key=wanted["key"], state__in=LIVE).first()
        return live or enqueue(kind, month, asked_by)  # it ended in this very moment
    on_commit(lambda: send(job.pk))
    return job


def send(pk: int) -> None:
    """Tell a worker of the row. Without Redis the embedded worker finds it by itself."""
    if not settings.REDIS_URL:
        return
    from kombu.exceptions import OperationalError as BrokerError

    from planning.tasks import work_on

    try:
        work_on.delay(pk)
    except BrokerError:
        log.warning("the broker takes no message; the job waits in its row", extra={"job": pk})


def cancel(pk: int) -> None:
    """Ask for a job to stop; one that nobody has begun has stopped."""
    Job.objects.filter(pk=pk, state=State.QUEUED).update(state=State.CANCELLED, cancel=True, ended_at=Now())
    Job.objects.filter(pk=pk, state=State.RUNNING).update(cancel=True)


# --- Doing it ---


def worker_name() -> str:
    """Return a name for this worker that no other ever has."""
    return f"{socket.gethostname()} {os.getpid()} {uuid4().hex[:8]}"


def claim(pk: int, owner: str) -> bool:
    """Take a queued job; of any number of workers exactly one is told yes."""
    return bool(
        Job.objects.filter(pk=pk, state=State.QUEUED).update(
            state=State.RUNNING,
            owner=owner,
            attempt=F("attempt") + 1,
            stage="",
            done=0,
            total=0,
            started_at=Now(),
            heartbeat=Now(),
        )
    )


def work_on(pk: int, owner: str) -> None:
    """Run the job if it still waits to be run; otherwise do nothing. Ends it in words whatever happens."""
    if not claim(pk, owner):
        return
    watch = Watch(pk, owner)
    job = Job.objects.get(pk=pk)
    try:
        with watch.beating():
            KINDS[job.kind](job, watch)
        watch.end(State.DONE)
    except Cancelled:
        watch.end(State.CANCELLED)
    except Lost:
        log.warning("another worker has the job", extra={"job": pk})
    except (DraftError, *MONTH_ERRORS) as problem:
        watch.end(State.FAILED, str(problem))
    except (
        OperationalError,
        InterfaceError,
    ):  # the database went away: the row is queued again once it is stale
        log.exception("the database does not answer", extra={"job": pk})
        connection.close()
    except OSError as problem:
        watch.end(State.FAILED, f"The papers could not be written: {problem.strerror or problem}.")
    except Exception:
        log.exception("a job failed", extra={"job": pk})
        watch.end(State.FAILED, f"The program made a mistake; its log says more under job {pk}.")
    except BaseException:  # told to stop: whoever starts next goes on with it at once
        watch.release()
        raise


class Watch:
    """A running job as its worker sees it: says how far the work is, and hears that it should stop."""

    def __init__(self, pk: int, owner: str) -> None:
        self.pk = pk
        self.mine = Job.objects.filter(pk=pk, owner=owner, state=State.RUNNING)

    def stage(self, name: str) -> None:
        """Begin a stage. Raises Cancelled or Lost."""
        self._say(stage=name, done=0, total=0, stage_at=Now())

    def count(self, done: int, total: int) -> None:
        """Say how far the stage is. Raises Cancelled or Lost."""
        self._say(done=done, total=total)

    def _say(self, **values: object) -> None:
        if not self.mine.filter(cancel=False).update(**values, heartbeat=Now()):
            raise Cancelled if self.mine.exists() else Lost

    def end(self, state: State, error: str = "") -> None:
        """End the job, if it is still this worker's."""
        self.mine.update(state=state, error=error, ended_at=Now())

    def release(self) -> None:
        """Give the job back, as if it had not been taken."""
        self.mine.update(state=State.QUEUED, owner="", attempt=F("attempt") - 1, queued_at=Now())

    @contextmanager
    def beating(self) -> Iterator[None]:
        """Give signs of life while the block runs, however long one of its steps takes."""
        over = Event()
        thread = Thread(target=self._beat, args=(over,), daemon=True)
        thread.start()
        try:
            yield
        finally:
            over.set()
            thread.join()

    def _beat(self, over: Event) -> None:
        while not over.wait(BEAT):
            try:
                self.mine.update(heartbeat=Now())
            except (OperationalError, InterfaceError):  # the next beat may get through
                connection.close()
        connection.close()


# --- Looking after the rows ---


def tend() -> None:
    """Queue again what a dead worker left, give up what died too often, send again what was never taken."""
    stale = Job.objects.filter(state=State.RUNNING, heartbeat__lt=Now() - STALE)
    stale.filter(cancel=True).update(state=State.CANCELLED, ended_at=Now())
    gave_up = f"The worker stopped {MOST_ATTEMPTS} times before the job was done. Nothing was kept of it."
    stale.filter(attempt__gte=MOST_ATTEMPTS).update(state=State.FAILED, error=gave_up, ended_at=Now())
    stale.update(state=State.QUEUED, owner="", queued_at=Now() - FORGOTTEN)
    for pk in Job.objects.filter(state=State.QUEUED, queued_at__lte=Now() - FORGOTTEN).values_list(
        "pk", flat=True
    ):
        Job.objects.filter(pk=pk).update(queued_at=Now())
        send(pk)


def work_until(over: Event) -> None:
    """Take queued jobs, oldest first, until told to stop. Any number of workers may do so at once."""
    owner, looks = worker_name(), 0
    while not over.is_set():
        try:
            if looks % int(BEAT / LOOK) == 0:
                tend()
            worked = work_on_next(owner)
        except (OperationalError, InterfaceError):  # the database may come back
            log.exception("the database does not answer")
            connection.close()
            worked = False
        looks += 1
        if not worked:
            over.wait(LOOK)


def work_on_next(owner: str) -> bool:
    """Run the oldest queued job, and say whether there was one."""
    waiting = Job.objects.filter(state=State.QUEUED).order_by("id").values_list("pk", flat=True).first()
    if waiting is not None:
        work_on(waiting, owner)
    return waiting is not None


# --- The kinds of work ---


def plan(job: Job, watch: Watch) -> None:
    """Load, flow, save: the month's plan and all its papers appear together, or not at all."""
    from planning.documents.papers import (
        papers,
    )  # it brings every writer, and most processes only ask for work

    watch.stage("loading the month")
    month = load.month(job.month_id)
    refuse_drafts(month)
    planned = run.make_plan(month, save.next_version(job), job.created_at, watch.stage)
    watch.stage("papers")
    folder = f"{planned.stamp.plan_id}/version-{planned.stamp.version}"
    written = run.write_papers(
        papers(month, planned.plan, planned.stamp),
        settings.ARTEFACTS_DIR / folder,
        planned.stamp,
        watch.count,
    )
    save.plan(job, planned, folder, written)


KINDS: dict[str, Callable[[Job, Watch], None]] = {"plan": plan}
