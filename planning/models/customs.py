"""What customs asks of each item, in rows. What each column means is said once, in `planning.customs.rows`."""

from django.db import models

from kits.models.fields import DecimalField
from kits.models.rows import Row, never_negative, one_each


class CustomsFact(Row):
    """A `planning.customs.CustomsFact`."""

    item = models.TextField()
    words = models.TextField()
    hs_code = models.TextField()
    origin = models.TextField()
    value = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("item"), *never_negative("value")]
