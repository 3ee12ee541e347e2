"""What becomes of rows: each by the place it has among the others of its table, which it keeps for good."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

NEW = -1  # the place of a row that has none yet: behind all others

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
