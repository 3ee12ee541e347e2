"""Changes of a month's rows: proposed, made, taken back."""

from datetime import timedelta
from typing import Any

from django.db import models
from django.db.models import Index
from django.utils.timezone import now

from kits.models import Month

UNDO_FOR = timedelta(minutes=10)


class EditState(models.TextChoices):
    """Where an edit stands."""

    PROPOSED = "proposed"
    DONE = "done"
    UNDONE = "taken back"
    DROPPED = "dropped"


class Edit(models.Model):
    """Some rows of one sheet of a month, as somebody wants them or changed them.

    name: of the file they come from, or what was done. rows: of a block, as read from it, until it is made. replaces: rows
    that are not among them are taken out. made: the changes with the rows as they were, as JSON, so that they can be taken
    back. digest: of the table once they are made; as long as it has that, nobody changed it since.
    """

    month = models.ForeignKey(Month, models.CASCADE, related_name="edits", db_index=False)
    table = models.TextField()
    name = models.TextField()
    rows: Any = models.JSONField(default=list)
    replaces = models.BooleanField(default=False)
    state = models.TextField(choices=EditState.choices, default=EditState.PROPOSED)
    made = models.TextField(blank=True)
    digest = models.TextField(blank=True)
    by = models.TextField()
    at = models.DateTimeField(default=now)

    class Meta:
        ordering = ["-id"]
        indexes = [Index(fields=["month", "-id"], name="edits_of_a_month")]

    def __str__(self) -> str:
        return f"{self.table}: {self.name}, {self.state}"
