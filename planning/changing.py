"""Changing a month that is kept: nobody else does meanwhile, and the month then has another fingerprint."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import fields

from django.db.transaction import atomic

from kits import models as kits
from planning import load
from planning.digests import digest, fingerprint_of
from planning.month import Month

NAMES = tuple(each.name for each in fields(Month))


@contextmanager
def changing(month: kits.Month, *tables: str) -> Iterator[dict[str, int]]:
    """Let nobody else change the month meanwhile, and find its new fingerprint at the end.

    tables: which of its tables are changed; all may be where none is named, and then all are read. Yields the digests of
    the tables as they were: whoever knows that of a table it changes may put it there and leave the table unnamed.
    """
    with atomic():
        row = kits.Month.objects.select_for_update().get(pk=month.pk)
        digests = dict(row.digests)
        yield digests
        row.refresh_from_db()
        keep_digests(row, digests, tables or NAMES)


def keep_digests(row: kits.Month, digests: dict[str, int], tables: Iterable[str]) -> None:
    """Keep a month's digests, those of some tables and any it lacks found anew, and its fingerprint."""
    anew = {"club", *tables, *(name for name in NAMES if name not in digests)}
    found = {name: digest_of(name, row) for name in anew}
    row.digests = {name: found.get(name, digests.get(name, 0)) for name in NAMES}
    row.fingerprint = fingerprint_of(row.digests)
    row.save(update_fields=["digests", "fingerprint", "saved_at"])


def digest_of(table: str, row: kits.Month) -> int:
    """Return the digest of a table as it is kept."""
    return digest((load.club(row),) if table == "club" else load.rows(table, row))
