"""What becomes of rows: each by the place it has among the others of its table, which it keeps for good."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from planning.faults.book import key_of

NEW = -1  # the place of a row that has none yet: behind all others

RISING = {
    "price_breaks": ("offer", "from_quantity"),
    "rates": ("service", "zone", "valid_from", "valid_to", "up_to"),
    "quantiles": ("tier", "percent"),
    "past": ("in_month",),
}
"""Table -> the fields by which its rows belong together, and the last, by which they rise among these."""

Placed = tuple[int, Any]  # a row's place, and the row


@dataclass(frozen=True, slots=True)
class Change:
    """A row as it was, None for none, and as it is then, None where it is taken out."""

    place: int
    before: Any
    after: Any


def placed(changes: Iterable[Change], last: int) -> tuple[Change, ...]:
    """Return changes whose new rows have places of their own, in their order behind the last."""
    found = []
    for one in changes:
        last += one.place == NEW
        found.append(Change(last, one.before, one.after) if one.place == NEW else one)
    return tuple(found)


def after(kept: Iterable[Placed], changes: Iterable[Change]) -> list[Placed]:
    """Return the rows of a table once changes are made, in their order."""
    rows = dict(kept)
    for one in placed(changes, max(rows, default=-1)):
        rows.pop(one.place, None)
        if one.after is not None:
            rows[one.place] = one.after
    return sorted(rows.items(), key=lambda row: row[0])


def taken_back(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return what undoes changes whose rows have their places."""
    return tuple(Change(one.place, one.after, one.before) for one in changes)


def rearranged(kept: Sequence[Placed], rows: Sequence[Any]) -> tuple[Change, ...]:
    """Return what makes a table hold these rows and no others, in this order."""
    ours = [*kept, *((NEW, None) for _ in rows[len(kept) :])]
    theirs = [*rows, *(None for _ in kept[len(rows) :])]
    pairs = zip(ours, theirs, strict=True)
    return tuple(Change(place, row, wanted) for (place, row), wanted in pairs if row != wanted)


def in_order(kept: Iterable[Placed], changes: Iterable[Change], names: Sequence[str]) -> tuple[Change, ...]:
    """Return changes after which rows that share all but the last of some fields rise by the last, in the places they have.

    A row more is thus put where it belongs among its like, and other rows stay where they are.
    """
    before = dict(kept)
    rows = after(before.items(), changes)
    touched = {
        key_of(one, names)[:-1] for each in changes for one in (each.before, each.after) if one is not None
    }
    groups: dict[tuple[object, ...], list[Placed]] = {}
    for place, row in rows:
        groups.setdefault(key_of(row, names)[:-1], []).append((place, row))
    then = dict(rows)
    for group in touched & groups.keys():
        places = [place for place, _ in groups[group]]
        then |= zip(places, sorted((row for _, row in groups[group]), key=attrgetter(names[-1])), strict=True)
    changed = [place for place in sorted(before.keys() | then.keys()) if before.get(place) != then.get(place)]
    return tuple(
        Change(place if place in before else NEW, before.get(place), then.get(place)) for place in changed
    )
