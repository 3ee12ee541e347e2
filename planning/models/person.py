"""What somebody may do, and what was done by whom."""

from django.conf import settings
from django.db import models
from django.utils.timezone import now

from planning.rights.table import Role


class Person(models.Model):
    """The role of somebody who can sign in."""

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="person"
    )
    role = models.TextField(choices=[(one.value, one.value) for one in Role])

    def __str__(self) -> str:
        return f"{self.user_id}, {self.role}"


class Change(models.Model):
    """One thing that somebody did: where, to what, and which fields they filled in; never what they wrote.

    who: their user name as it was. page: the name of the page, as in `planning.urls`. month: the club's code and month.
    what: what of it, such as the number of an order.
    """

    at = models.DateTimeField(default=now)
    who = models.TextField()
    page = models.TextField()
    month = models.TextField(blank=True)
    what = models.TextField(blank=True)
    fields = models.JSONField(default=list)

    class Meta:
        ordering = ["-id"]
        indexes = [models.Index(fields=["month", "-id"], name="changes_of_a_month")]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M} {self.who}: {self.page}"
