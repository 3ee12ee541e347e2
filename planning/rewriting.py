"""A month's rows replaced by others that were worked out from them, unless somebody changed the month meanwhile."""

from dataclasses import fields

from kits import models as kits
from planning import save
from planning.changing import changing
from planning.models.tables import TABLES
from planning.month import Club, Month


class ChangedMeanwhileError(ValueError):
    """Somebody changed the month after the page was opened; nothing was done."""

    def __init__(self) -> None:
        super().__init__("The month was changed since this page was opened. Look at it again, then decide.")


def rewrite(row: kits.Month, before: Month, after: Month, seen: str) -> tuple[str, ...]:
    """Keep the tables and settings in which two books of a month differ; return the names of the tables.

    seen: the month's fingerprint when somebody decided this. Raises ChangedMeanwhileError.
    """
    tables = tuple(name for name in TABLES if getattr(before, name) != getattr(after, name))
    settings = {
        each.name: getattr(after.club, each.name)
        for each in fields(Club)
        if getattr(before.club, each.name) != getattr(after.club, each.name)
    }
    if not tables and not settings:
        return ()
    with changing(row, *tables, *(["club"] if settings else [])):
        if kits.Month.objects.values_list("fingerprint", flat=True).get(pk=row.pk) != seen:
            raise ChangedMeanwhileError
        if settings:
            kits.Month.objects.filter(pk=row.pk).update(**settings)
        for table in tables:
            model = TABLES[table]
            model.objects.filter(month=row).delete()
            model.objects.bulk_create(save.model_rows(model, row, getattr(after, table)))
    return tables or ("club",)
