"""The job row: the truth about a piece of background work, whoever does it. The rules are in `planning.states`."""

from django.conf import settings
from django.db import models
from django.db.models import Q, UniqueConstraint
from django.utils.timezone import now

from kits.models import Month
from planning.states import LIVE, PartState, State


class Job(models.Model):
    """One piece of work. Messages to workers carry only its id; what happens to it is decided by this row and its parts'.

    key: what the work is about; at most one live job has it. stage: what it is at, in words; stage_number: the same from
    0; stage_at: since when; done, total: its parts (total 0: not countable). heartbeat: the last sign of life of any of
    its workers; owner: that worker, by its own name for itself. cancel: someone asked for it to stop. attempt: 1, and 1
    for each time a part had to be taken up again. error: why it failed, or what it waits for.
    """

    key = models.TextField()
    kind = models.TextField()
    month = models.ForeignKey(Month, models.CASCADE, related_name="jobs")
    state = models.TextField(choices=[(one.value, one.value) for one in State], default=State.QUEUED)
    stage = models.TextField(blank=True)
    stage_number = models.PositiveIntegerField(default=0, db_default=0)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    stage_at = models.DateTimeField(null=True)
    cancel = models.BooleanField(default=False)
    attempt = models.PositiveIntegerField(default=1)
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


class JobPart(models.Model):
    """One part of a job's stage: what any worker can do on its own. Kept until the job has ended.

    number: its place in the stage, from 0. asks: what it is to do, as plain values; it says all of it, so that a part cut by
    an earlier version of the program is still understood. The rest is as `planning.states.Part` has it.
    """

    job = models.ForeignKey(Job, models.CASCADE, related_name="parts", db_index=False)
    stage = models.PositiveIntegerField()
    number = models.PositiveIntegerField()
    asks = models.JSONField()
    state = models.TextField(choices=[(one.value, one.value) for one in PartState], default=PartState.WAITING)
    owner = models.TextField(blank=True)
    attempt = models.PositiveIntegerField(default=0)
    due = models.DateTimeField()
    heartbeat = models.DateTimeField(null=True)

    class Meta:
        constraints = [UniqueConstraint(fields=["job", "stage", "number"], name="one_part_of_a_number")]
        indexes = [
            models.Index(fields=["job", "number"], condition=Q(state="waiting"), name="parts_that_wait"),
            models.Index(fields=["heartbeat"], condition=Q(state="taken"), name="parts_in_hand"),
        ]

    def __str__(self) -> str:
        return f"part {self.number} of stage {self.stage} of job {self.job_id}, {self.state}"
