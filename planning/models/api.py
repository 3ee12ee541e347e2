"""Other programs that may ask, and what was answered to what they told."""

from django.db import models
from django.db.models import UniqueConstraint
from django.utils.timezone import now


class ApiClient(models.Model):
    """A program with a token of its own.

    token: SHA-256 of it; the token itself is shown once. scopes: what it may do, as `planning.api.tokens.Scope` has it.
    """

    name = models.TextField(unique=True)
    token = models.TextField(unique=True)
    scopes = models.JSONField(default=list)
    made_by = models.TextField(blank=True)
    made_at = models.DateTimeField(default=now)
    used_at = models.DateTimeField(null=True)
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return f"client {self.pk}"


class ApiAnswer(models.Model):
    """What was answered to a request that changed something, so that the same request sent again changes nothing.

    key: the client's own name for the request; asked: a digest of all of it. status: 0 until it is answered.
    """

    client = models.ForeignKey(ApiClient, models.CASCADE, related_name="answers")
    key = models.TextField()
    asked = models.TextField()
    status = models.PositiveIntegerField(default=0)
    body = models.JSONField(default=dict)
    at = models.DateTimeField(default=now, db_index=True)

    class Meta:
        constraints = [UniqueConstraint(fields=["client", "key"], name="one_answer_of_a_key")]

    def __str__(self) -> str:
        return f"{self.key}: {self.status}"
