"""Rows somebody wants to have beside those there are: which are new, changed, the same, and which are refused, and why."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, replace
from enum import StrEnum
from typing import Any

from planning.editing.change import NEW, Change, Placed, after, rearranged
from planning.editing.reading import ReadLine
from planning.faults import OWN_RULES, Fault, Unread, faults
from planning.faults.book import Key, key_of
from planning.faults.keys import KEYS
from planning.faults.model import Rule
from planning.faults.texts import shown
from planning.month import Month
from planning.monthfile.codecs import Habits
from planning.monthfile.problems import Problem
from planning.monthfile.sheets import Sheet


class State(StrEnum):
    """What a row of the block is beside the rows there are."""

    NEW = "new"
    CHANGED = "changed"
    SAME = "same"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Line:
    """A row of the block and what would become of it. before: the row of the same key; after: what it would be."""

    read: ReadLine
    state: State
    place: int = NEW
    before: Any = None
    after: Any = None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Proposal:
    """All rows of a block.

    kept: the rows there are, by their places; all of a small table, of the roster those the block names. replaces: rows of
    the table that are not in the block are taken out, if every row of the block is well.
    """

    lines: tuple[Line, ...]
    kept: tuple[Placed, ...]
    replaces: bool = False

    def count(self, state: State) -> int:
        """Return how many lines are of a state."""
        return sum(line.state is state for line in self.lines)

    @property
    def gone(self) -> tuple[Placed, ...]:
        """The rows that would be taken out."""
        if not self.replaces or self.count(State.REFUSED):
            return ()
        named = {line.place for line in self.lines}
        return tuple(one for one in self.kept if one[0] not in named)

    @property
    def changes(self) -> tuple[Change, ...]:
        """What would become of rows."""
        wanted = [line for line in self.lines if line.state is not State.REFUSED]
        if self.replaces and len(wanted) == len(self.lines):
            return rearranged(self.kept, [line.after for line in wanted])
        return tuple(
            Change(line.place, line.before, line.after) for line in wanted if line.state is not State.SAME
        )


def propose(
    sheet: Sheet,
    lines: Sequence[ReadLine],
    kept: Sequence[Placed],
    habits: Habits,
    *,
    replaces: bool = False,
) -> Proposal:
    """Put the rows of a block beside those there are, by what tells the table's rows apart."""
    names = KEYS[sheet.table]
    ours = {key_of(row, names): (place, row) for place, row in reversed(kept)}
    seen: dict[Key, int] = {}
    settled = tuple(settle(sheet, line, ours, seen, habits) for line in lines)
    return Proposal(settled, tuple(kept), replaces)


def settle(
    sheet: Sheet, line: ReadLine, ours: Mapping[Key, Placed], seen: dict[Key, int], habits: Habits
) -> Line:
    """Put one row beside those there are. seen: the keys of the rows above it."""
    if line.problems:
        return Line(line, State.REFUSED, problems=line.problems)
    key = key_in(sheet, line)
    if (first := seen.setdefault(key, line.number)) != line.number:
        return refused(
            sheet, line, f"the same row stands here already, in row {first}", "Keep one of the two."
        )
    place, before = ours.get(key, (NEW, None))
    try:
        row = new_row(sheet, line, habits) if before is None else replace(before, **line.fields)
    except ValueError as error:
        return refused(sheet, line, str(error), "")
    state = State.NEW if before is None else State.SAME if row == before else State.CHANGED
    return Line(line, state, place, before, row)


def key_in(sheet: Sheet, line: ReadLine) -> Key:
    """Return what tells a row of the block from the others; of a column that is not in it, what an empty cell means."""
    defaults = {column.field: sheet.default(column) for column in sheet.columns}
    return tuple(line.fields.get(name, defaults[name]) for name in KEYS[sheet.table])


def new_row(sheet: Sheet, line: ReadLine, habits: Habits) -> Any:
    """Return a row the table does not have yet. Raises ValueError where the block says too little for one."""
    lacking = [
        column.title(habits)
        for column in sheet.columns
        if column.field not in line.fields and sheet.default(column) is MISSING
    ]
    if lacking:
        raise ValueError(f"it would be a new row, for which the block lacks: {', '.join(lacking)}")
    return sheet.row_type(**line.fields)


def refused(sheet: Sheet, line: ReadLine, why: str, allowed: str) -> Line:
    """Return a line that is not taken, with the one reason why."""
    said = Problem(sheet=sheet.title, row=line.number, why=why, allowed=allowed)
    return Line(line, State.REFUSED, problems=(said,))


# --- What the whole month makes of it ---


def judged(
    sheet: Sheet,
    proposal: Proposal,
    month: Month,
    unread: Unread,
    rules: Sequence[Rule] = OWN_RULES,
) -> Proposal:
    """Refuse the rows that no other row of the month could put right.

    month: as it is; its own rows of the table do not count. unread: see `planning.faults.faults`.
    """
    every = replace(proposal, replaces=False)
    rows = after(every.kept, every.changes)
    found = faults(with_rows(month, sheet.table, rows), unread, rules)
    by_row: dict[int, list[Fault]] = {}
    for fault in found:
        if fault.table == sheet.table and fault.row is not None:
            by_row.setdefault(fault.row, []).append(fault)
    index = {place: at for at, (place, _) in enumerate(rows)}
    behind = max((place for place, _ in every.kept), default=-1)
    lines = []
    for line in proposal.lines:
        behind += line.state is State.NEW
        place = behind if line.state is State.NEW else line.place
        wrong = by_row.get(index[place], ()) if line.state in (State.NEW, State.CHANGED) else ()
        lines.append(with_faults(sheet, line, wrong))
    return replace(proposal, lines=tuple(lines))


def with_faults(sheet: Sheet, line: Line, wrong: Sequence[Fault]) -> Line:
    """Return a line, refused if its row has faults."""
    if not wrong:
        return line
    return replace(line, state=State.REFUSED, problems=tuple(problem_of(sheet, line, one) for one in wrong))


def problem_of(sheet: Sheet, line: Line, fault: Fault) -> Problem:
    """Return a fault of the month as a problem of the block."""
    letter, heading = line.read.places.get(fault.field or "", ("", ""))
    return Problem(
        sheet=sheet.title,
        row=line.read.number,
        column=letter,
        heading=heading,
        value=shown(fault.value),
        why=fault.why,
        allowed=fault.allowed,
    )


def with_rows(month: Month, table: str, rows: Sequence[Placed]) -> Month:
    """Return a month with other rows in one of its tables."""
    changed: dict[str, Any] = {table: tuple(row for _, row in rows)}
    return replace(month, **changed)


def in_the_way(before: Sequence[Fault], now: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the faults a month would have that it has not got yet."""
    left = Counter(map(gist, before))
    found = []
    for fault in now:
        left[gist(fault)] -= 1
        if left[gist(fault)] < 0:
            found.append(fault)
    return tuple(found)


def gist(fault: Fault) -> tuple[str, str, str, str]:
    """Return what makes a fault the same one, wherever its row stands by then."""
    return fault.table, fault.field or "", fault.value, fault.why
