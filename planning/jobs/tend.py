"""Looking after the rows: what dead workers left, what nobody was woken for, what is not needed any more."""

import logging

from django.db.models import Q
from django.db.models.functions import Now
from django.db.transaction import atomic

from planning import states
from planning.jobs import rows
from planning.jobs.ask import send
from planning.jobs.tidy import tidy
from planning.models import LIVE, Job, JobPart, PartState

TEND = 5.0  # seconds between looks

log = logging.getLogger(__name__)


def tend(workers: int = 0) -> None:
    """Put right what dead workers left, and wake so many workers for what waits. Any number may do so at once."""
    begin()
    reap()
    for job in rows.waiting_parts().order_by("job_id").values_list("job_id", flat=True).distinct():
        waiting = rows.waiting_parts(job).count()
        send(job, min(waiting, workers), expires=2 * TEND)
    tidy()


def begin() -> None:
    """Cut the first stage of jobs without parts, as a version of the program leaves them that knew none."""
    for pk in Job.objects.filter(state__in=LIVE, parts=None).values_list("pk", flat=True):
        with atomic():
            job, now = rows.locked_job(pk)
            if job.state in LIVE and not job.parts.exists():
                rows.write_run(job, states.open_stage(rows.run_of(job), 0, rows.make_parts(job, 0, now)), now)


def reap() -> None:
    """Look at every part whose times are too old, or still to come though a clock was set back."""
    odd = Q(state=PartState.TAKEN) & (
        Q(heartbeat__lt=Now() - states.STALE) | Q(heartbeat__gt=Now() + states.SKEW)
    )
    odd |= Q(state=PartState.WAITING, due__gt=Now() + states.LONGEST_PAUSE + states.SKEW)
    for pk in JobPart.objects.filter(odd, job__state__in=LIVE).values_list("pk", flat=True):
        look_at(pk)


@atomic
def look_at(pk: int) -> None:
    """Apply the rule to one part; one that somebody keeps something of at this moment is left alone."""
    row = JobPart.objects.select_for_update(skip_locked=True).filter(pk=pk).first()
    if row is None:
        return
    job, now = rows.locked_job(row.job_id)
    before = rows.run_of(job), rows.part_of(row)
    after = states.reap(*before, now)
    if after != before:
        log.warning("a part is put right: %s", after[1].state, extra={"job": job.pk})
        rows.write_part(row, after[1])
        rows.write_run(job, after[0], now)
