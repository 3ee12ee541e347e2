"""Asking for work, and calling it off."""

import logging

from django.conf import settings
from django.contrib.auth.models import User
from django.db import IntegrityError
from django.db.transaction import atomic, on_commit

from kits.models import Month
from planning import states
from planning.jobs.kinds import KINDS
from planning.jobs.rows import locked_job, make_parts, run_of, waiting_parts, write_run
from planning.models import LIVE, Job

MOST_SENT = (
    32  # messages for one stage: enough to wake every worker there is likely to be; `tend` wakes the rest
)

log = logging.getLogger(__name__)


def enqueue(kind: str, month: Month, asked_by: User | None = None) -> Job:
    """Return the live job of this kind for the month, a new one unless there is one already."""
    wanted = {"key": f"{kind} {month.pk}", "kind": kind, "month": month}
    try:
        with atomic():
            job = Job.objects.create(**wanted, stage=KINDS[kind][0].name, asked_by=asked_by)
            Job.objects.filter(pk=job.pk).update(total=make_parts(job, 0, job.created_at))
    except IntegrityError:
        live = Job.objects.filter(key=wanted["key"], state__in=LIVE).first()
        return live or enqueue(kind, month, asked_by)  # it ended in this very moment
    on_commit(lambda: send(job.pk))
    return job


def send(pk: int, times: int = 1, expires: float | None = None) -> None:
    """Wake workers for a job. Without Redis the embedded worker finds it by itself.

    expires: seconds after which a message nobody had time for is forgotten.
    """
    if not settings.REDIS_URL:
        return
    from kombu.exceptions import OperationalError as BrokerError

    from planning.tasks import work_on

    try:
        for _ in range(min(times, MOST_SENT)):
            work_on.apply_async((pk,), expires=expires)
    except BrokerError:
        log.warning("the broker takes no message; the job waits in its row", extra={"job": pk})


def wake(pk: int, most: int) -> None:
    """Wake so many workers at most, and none for nothing."""
    if settings.REDIS_URL:
        send(pk, min(most, waiting_parts(pk).count()))


@atomic
def cancel(pk: int) -> None:
    """End a job; its workers stop at their next sign of life, and nothing of what they do is kept."""
    job, now = locked_job(pk)
    if job.state in LIVE:
        write_run(job, states.cancel(run_of(job)), now)
        Job.objects.filter(pk=pk).update(cancel=True)
