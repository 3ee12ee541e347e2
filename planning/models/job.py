"""The job row: the truth about a piece of background work, whoever does it."""

from django.conf import settings
from django.db import models
from django.db.models import Q, UniqueConstraint
from django.utils.timezone import now

from kits.models import Month


class State(models.TextChoices):
    """Where a job stands; the last three are its ends."""

    QUEUED = "queued"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"


LIVE = (State.QUEUED, State.RUNNING)


class Job(models.Model):
    """One piece of work. Messages to workers carry only its id; what happens to it is decided by updates of this row.

    key: what the work is about; at most one live job has it. owner: the worker that runs it, by its own name for itself.
    stage, done, total: how far it is, in words and in numbers (total 0: not countable); stage_at: when the stage began.
    heartbeat: when its worker last gave a sign of life; where that is long ago the job is queued again. cancel: someone
    asked for it to stop. attempt: how often a worker has taken it.
    """

    key = models.TextField()
    kind = models.TextField()
    month = models.ForeignKey(Month, models.CASCADE, related_name="jobs")
    state = models.TextField(choices=State.choices, default=State.QUEUED)
    stage = models.TextField(blank=True)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    stage_at = models.DateTimeField(null=True)
    cancel = models.BooleanField(default=False)
    attempt = models.PositiveIntegerField(default=0)
    owner = models.TextField(blank=True)
    error = models.TextField(blank=True)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    created_at = models.DateTimeField(default=now)
    queued_at = models.DateTimeField(default=now)
    started_at = models.DateTimeField(null=True)
    heartbeat = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-id"]
        indexes = [models.Index(fields=["state", "heartbeat"])]
        constraints = [
            UniqueConstraint(fields=["key"], condition=Q(state__in=LIVE), name="one_live_job_of_a_key"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}, {self.state}"

    @property
    def is_live(self) -> bool:
        """Whether there is still something to wait for."""
        return self.state in LIVE
