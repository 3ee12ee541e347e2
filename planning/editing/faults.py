"""What a month's rules say of one row that somebody typed."""

from collections.abc import Sequence
from dataclasses import replace

from planning.editing.change import Change, Placed, after
from planning.editing.proposal import with_rows
from planning.faults import OWN_RULES, Fault, Unread, faults
from planning.faults.model import Rule
from planning.month import Month


def month_with(month: Month, table: str, kept: Sequence[Placed], change: Change) -> tuple[Month, int | None]:
    """Return a month in which a row is changed, and where in its table the row is then."""
    if table == "club":
        return replace(month, club=change.after), None
    rows = after(kept, [change])
    place = rows[-1][0] if change.before is None else change.place
    return with_rows(month, table, rows), next((at for at, row in enumerate(rows) if row[0] == place), None)


def faults_of_row(
    month: Month, table: str, index: int | None, unread: Unread, rules: Sequence[Rule] = OWN_RULES
) -> list[Fault]:
    """Return what is wrong with a row that no other row could put right."""
    return [one for one in faults(month, unread, rules) if one.table == table and one.row == index]
