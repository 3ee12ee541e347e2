"""Everything kept of one person, as plain values for a file."""

from collections.abc import Iterator
from typing import Any

from django.db.models import Model, QuerySet

from planning.models import AddressChange, Box, BoxWork, IntakeRow, OneOffOrder, Subscriber, TrackingNumber

OURS = {"id", "month_id", "position", "plan_id", "intake_id", "listed_id"}  # what only the database needs
Rows = list[dict[str, str]]


def held(club: str, reference: str) -> dict[str, Rows]:
    """Return what is kept of a person, kind by kind, over all months of the club."""
    packed = BoxWork.objects.filter(plan__month__code=club, reference=reference)
    codes = list(packed.values_list("code", flat=True))
    months = {"month__code": club}
    found: dict[str, QuerySet[Any]] = {
        "roster": Subscriber.objects.filter(**months, reference=reference).select_related("month"),
        "one-off orders": OneOffOrder.objects.filter(**months, subscriber=reference).select_related("month"),
        "changed addresses": AddressChange.objects.filter(**months, reference=reference).select_related(
            "month"
        ),
        "boxes": Box.objects.filter(plan__month__code=club, reference=reference).select_related(
            "plan__month"
        ),
        "packing": packed.select_related("plan__month"),
        "tracking numbers": TrackingNumber.objects.filter(**months, box__in=codes).select_related("month"),
        "files on their way in": IntakeRow.objects.filter(
            intake__month__code=club, reference=reference
        ).select_related("intake__month"),
    }
    return {kind: [dict(told(row)) for row in rows] for kind, rows in found.items() if rows}


def told(row: Model) -> Iterator[tuple[str, str]]:
    """Yield the month a row is of, and its columns that say something."""
    owner = getattr(row, "plan", None) or getattr(row, "intake", None) or row
    yield "month", str(getattr(owner, "month").month)  # noqa: B009 - one of three kinds of row
    for field in row._meta.concrete_fields:  # noqa: SLF001 - documented
        value = getattr(row, field.attname)
        if field.attname not in OURS and value not in (None, "", (), []):
            yield field.attname, str(value)
