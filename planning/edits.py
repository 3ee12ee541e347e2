"""Rows of a month that is kept, changed a few at a time: all of a change or nothing, never over somebody else's.

Of the roster and its one-off orders only the rows in question are read, however many there are.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import fields
from datetime import timedelta
from functools import cache
from itertools import groupby, pairwise
from typing import Any

from django.db import IntegrityError
from django.db.models import Max, QuerySet
from django.db.transaction import atomic
from django.utils.timezone import now
from pydantic import TypeAdapter

from kits import models as kits
from planning import load
from planning.changing import changing
from planning.digests import FIRST, Link, changed, mark
from planning.editing import Change, taken_back
from planning.editing.change import RISING, Placed, in_order, placed
from planning.models.edits import UNDO_FOR, Edit, EditState
from planning.models.tables import TABLES
from planning.month import Club
from planning.save import club_values

KEPT_FOR = timedelta(days=1)  # what was proposed and not made, and what can no longer be taken back
FEW = 2_000  # rows of the roster beyond which its digest is found anew
AT_ONCE = 500  # rows in one statement


class ChangedError(Exception):
    """A row is no longer as it was looked at: somebody else changed it, or there is one of the same key by now.

    now: the row as it is, None where it is gone.
    """

    def __init__(self, now: Any) -> None:
        super().__init__(now)
        self.now = now


class TooLateError(Exception):
    """A change that can no longer be taken back; the message says why."""


# --- Rows by their places ---


def row_type(table: str) -> type[Any]:
    """Return the type of a table's rows; the club is the only row of its own."""
    return Club if table == "club" else load.ROW_TYPES[table]


def rows_of(table: str, month: kits.Month) -> "QuerySet[Any]":
    """Return a table's rows of a month, in their order."""
    return TABLES[table].objects.filter(month=month).order_by("position")


def as_placed(table: str, found: "QuerySet[Any]") -> tuple[Placed, ...]:
    """Return rows as plain data with their places."""
    made = row_type(table)
    names = [each.name for each in fields(made)]
    return tuple(
        (place, made(**dict(zip(names, values, strict=True))))
        for place, *values in found.values_list("position", *names)
    )


def row_at(table: str, month: kits.Month, place: int) -> Any:
    """Return the row at a place, None where there is none."""
    return rows_at(table, month, [place]).get(place)


def rows_at(table: str, month: kits.Month, places: Sequence[int]) -> dict[int, Any]:
    """Return the rows at some places."""
    if table == "club":
        return {0: load.club(month)}
    found: dict[int, Any] = {}
    for some in in_parts(places):
        found |= dict(as_placed(table, rows_of(table, month).filter(position__in=some)))
    return found


def in_parts(things: Sequence[Any]) -> Iterator[Sequence[Any]]:
    """Yield things so many at a time."""
    return (things[at : at + AT_ONCE] for at in range(0, len(things), AT_ONCE))


# --- Making changes ---


@atomic
def make(
    month: kits.Month,
    table: str,
    changes: Iterable[Change],
    by: str,
    name: str,
    edit: Edit | None = None,
    *,
    as_they_stand: bool = False,
) -> Edit:
    """Make changes of one table and keep how to take them back. edit: what proposed them. Raises ChangedError.

    as_they_stand: rows that ought to rise are not put in their order.
    """
    own = edit or Edit(month=month, table=table)
    unnamed = table in load.PEOPLE
    with changing(month, "club" if unnamed else table) as digests:
        last = last_place(table, month)
        made = placed(changes, last)
        refuse_stale(month, table, made)
        if not as_they_stand:
            made = placed(ordered(month, table, made), last)
        few = unnamed and table in digests and len(made) <= FEW
        gone = links(month, table, made) if few else ()
        write(month, table, made)
        if few:
            digests[table] = changed(digests[table], gone, links(month, table, made))
        elif unnamed:
            digests.pop(table, None)
    month.refresh_from_db()
    tidy()
    own.name, own.by, own.at, own.state, own.rows = name, by, now(), EditState.DONE, []
    held = [(one.place, one.before, one.after) for one in made]
    own.made = (
        changes_json(table).dump_json(held, warnings=False).decode()
    )  # a whole number may stand for a fraction
    own.digest = str(month.digests[table])
    own.save()
    return own


def ordered(month: kits.Month, table: str, changes: Sequence[Change]) -> tuple[Change, ...]:
    """Return changes by which the rows of a table that ought to rise do so, wherever a row was added or changed."""
    if table not in RISING:
        return tuple(changes)
    return in_order(as_placed(table, rows_of(table, month)), changes, RISING[table])


def last_place(table: str, month: kits.Month) -> int:
    """Return the place of a table's last row, -1 where it has none."""
    last = None if table == "club" else rows_of(table, month).aggregate(Max("position"))["position__max"]
    return -1 if last is None else int(last)


def refuse_stale(month: kits.Month, table: str, changes: Sequence[Change]) -> None:
    """Raise ChangedError unless all rows are as they were looked at."""
    month.refresh_from_db()
    now_there = rows_at(table, month, [one.place for one in changes])
    for one in changes:
        if now_there.get(one.place) != one.before:
            raise ChangedError(now_there.get(one.place))


def write(month: kits.Month, table: str, changes: Sequence[Change]) -> None:
    """Put rows in the places of others. Raises ChangedError where somebody else has just added one of the same key."""
    if table == "club":
        kits.Month.objects.filter(pk=month.pk).update(**club_values(changes[0].after))
        return
    model = TABLES[table]
    for some in in_parts([one.place for one in changes]):
        model.objects.filter(month=month, position__in=some).delete()
    names = [each.name for each in fields(row_type(table))]
    rows = (
        model(month=month, position=one.place, **{name: getattr(one.after, name) for name in names})
        for one in changes
        if one.after is not None
    )
    try:
        with atomic():
            model.objects.bulk_create(rows, batch_size=AT_ONCE)
    except IntegrityError:
        raise ChangedError(None) from None


def links(month: kits.Month, table: str, changes: Sequence[Change]) -> tuple[Link, ...]:
    """Return the links of a table in which the places of changes take part: to the row before each, and from it on."""
    found: dict[int, Link] = {}
    rows = rows_of(table, month)
    for first, last in runs(sorted(one.place for one in changes)):
        before = as_placed(table, rows.filter(position__lt=first).reverse()[:1])
        here = as_placed(table, rows.filter(position__range=(first, last)))
        behind = as_placed(table, rows.filter(position__gt=last)[:1])
        marks = [FIRST, *(mark(row) for _, row in before)][-1:] + [mark(row) for _, row in (*here, *behind)]
        found |= dict(zip((place for place, _ in (*here, *behind)), pairwise(marks), strict=True))
    return tuple(found.values())


def runs(places: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Yield the first and the last of places that follow one another."""
    for _, run in groupby(enumerate(places), lambda one: one[1] - one[0]):
        own = [place for _, place in run]
        yield own[0], own[-1]


@cache
def changes_json(table: str) -> TypeAdapter[list[tuple[int, Any, Any]]]:
    """Return what writes the changes of a table as JSON and reads them, exactly."""
    row = row_type(table) | None
    return TypeAdapter(list[tuple[int, row, row]])  # type: ignore[valid-type]


# --- Taking them back ---


def undo(edit: Edit, by: str) -> Edit:
    """Take an edit back; return the edit that does. Raises TooLateError where that cannot be any more."""
    with atomic():
        month = kits.Month.objects.select_for_update().get(pk=edit.month_id)
        if why := why_not(edit, month):
            raise TooLateError(why)
        back = taken_back(made_by(edit))
        try:
            done = make(month, edit.table, back, by, f"Taken back: {edit.name}", as_they_stand=True)
        except ChangedError:
            raise TooLateError("The rows were changed since.") from None
        Edit.objects.filter(pk=edit.pk).update(state=EditState.UNDONE)
        return done


def why_not(edit: Edit, month: kits.Month) -> str:
    """Say why an edit cannot be taken back, nothing where it can."""
    if edit.state != EditState.DONE:
        return "It is taken back already." if edit.state == EditState.UNDONE else "It was never made."
    if edit.at < now() - UNDO_FOR:
        return f"It was made more than {UNDO_FOR.seconds // 60} minutes ago."
    if edit.digest != str(month.digests.get(edit.table)):
        return "The sheet was changed since."
    return ""


def made_by(edit: Edit) -> tuple[Change, ...]:
    """Return the changes an edit made."""
    return tuple(Change(*one) for one in changes_json(edit.table).validate_json(edit.made))


def undoable(month: kits.Month, table: str = "") -> list[Edit]:
    """Return the edits of a month, or of one of its tables, that can still be taken back, the latest first."""
    recent = Edit.objects.filter(month=month, state=EditState.DONE, at__gte=now() - UNDO_FOR).defer(
        "made", "rows"
    )
    found = recent.filter(table=table) if table else recent
    return [edit for edit in found[:20] if not why_not(edit, month)]


def tidy() -> None:
    """Drop edits nobody can make or take back any more: they hold rows, of the roster too."""
    Edit.objects.filter(at__lt=now() - KEPT_FOR).delete()
