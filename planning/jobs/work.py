"""What a worker does: take a part, do it, keep what came of it; and what it says of whatever goes wrong."""

import errno
import logging
import os
import socket
import time
from collections.abc import Callable
from datetime import timedelta
from threading import Event
from uuid import uuid4

from django.db import InterfaceError, OperationalError, connection

from planning.jobs import rows
from planning.jobs.ask import wake
from planning.jobs.kinds import KINDS, RefusedError, StartOverError
from planning.jobs.rows import Hold
from planning.jobs.tend import TEND, tend
from planning.jobs.watch import Watch
from planning.logs import about
from planning.models import Job
from planning.states import Cancelled, Lost

LOOK = 0.5  # seconds between looks for work
PATIENCE = 60.0  # seconds in which a worker tries to give a part back to a database that does not answer
NO_ROOM = (errno.ENOSPC, errno.EDQUOT)
WAIT_FOR_ROOM = timedelta(seconds=10)

log = logging.getLogger(__name__)


def worker_name() -> str:
    """Return a name for this worker that no other ever has."""
    return f"{socket.gethostname()} {os.getpid()} {uuid4().hex[:8]}"


def work_until(over: Event) -> None:
    """Take parts, those of the oldest job first, until told to stop. Any number of workers may do so at once."""
    worker, tended = worker_name(), 0.0
    while not over.is_set():
        try:
            if time.monotonic() - tended >= TEND:
                tend()
                tended = time.monotonic()
            worked = work_on_one(worker)
        except (OperationalError, InterfaceError):  # the database may come back
            log.exception("the database does not answer")
            connection.close()
            worked = False
        if not worked:
            over.wait(LOOK)


def work_on(job: int, worker: str) -> None:
    """Do a job's parts one after the other until none waits."""
    while work_on_one(worker, job):
        pass


def work_on_one(worker: str, job: int | None = None) -> bool:
    """Do one part, of one job or of the oldest that waits; tell whether there was one."""
    hold = rows.take(worker, job)
    if hold is None:
        return False
    with about(job=hold.job, part=hold.part, worker=worker):
        do(hold)
    return True


def do(hold: Hold) -> None:
    """Do a part, keep what came of it, and wake somebody for the next one, or as many as a new stage has parts."""
    watch, opened = Watch(hold), 0
    try:
        with watch:
            job = Job.objects.select_related("month").get(pk=hold.job)
            keep = KINDS[job.kind][hold.stage].do(job, hold.asks, watch)
        opened = rows.finish(hold, keep)
        log.info("a part is done")
    except (Cancelled, Lost) as end:
        log.info("a part is not wanted any more: %s", type(end).__name__, extra={"job": hold.job})
        if watch.interrupted:  # perhaps in the middle of a query
            connection.close()
    except Exception as error:
        put_right(hold, error)
    except BaseException:  # told to stop: whoever starts next goes on with it at once
        put_away(lambda: rows.give_back(hold), hold)
        raise
    wake(hold.job, max(1, opened))


def put_right(hold: Hold, error: Exception) -> None:
    """Decide what becomes of a part that could not be done."""
    if isinstance(error, StartOverError):
        put_away(lambda: rows.start_over(hold), hold)
    elif isinstance(error, RefusedError):
        put_away(lambda: rows.refuse(hold, str(error)), hold)
    elif isinstance(error, OperationalError | InterfaceError):
        log.exception("the database does not answer", extra={"job": hold.job})
        connection.close()
        put_away(lambda: rows.give_back(hold, timedelta(seconds=1)), hold)
    elif isinstance(error, OSError) and error.errno in NO_ROOM:
        why = "The disk is full. The work goes on by itself as soon as there is room."
        put_away(lambda: rows.give_back(hold, WAIT_FOR_ROOM, why), hold)
    elif isinstance(error, OSError):
        why = f"The papers could not be written: {error.strerror or error}."
        put_away(lambda: rows.fail(hold, why), hold)
    else:
        log.error("a job failed", exc_info=error, extra={"job": hold.job})
        why = f"The program made a mistake; its log says more under job {hold.job}."
        put_away(lambda: rows.refuse(hold, why), hold)


def put_away(move: Callable[[], None], hold: Hold) -> None:
    """Make a move that says what became of a part, as soon as the database takes it.

    Where it does not, or the part is not this worker's any more, nothing is said: `tend` sees to it.
    """
    latest = time.monotonic() + PATIENCE
    while True:
        try:
            return move()
        except (Cancelled, Lost):
            return None
        except (OperationalError, InterfaceError):
            connection.close()
            if time.monotonic() > latest:
                log.warning("the part is left to whoever finds it", extra={"job": hold.job})
                return None
        time.sleep(1)
