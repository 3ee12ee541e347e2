"""Rows proposed for a month that is kept: what they would change is found anew on every look, beside the rows there are."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from django.db.models import Sum

from kits import models as kits
from planning import edits, load
from planning.drafts import UNREAD, draft_faults
from planning.editing import NEW, Change, Proposal, ReadLine, State, habits_of, judged, propose, read_lines
from planning.editing.change import Placed, after
from planning.editing.faults import faults_of_row, month_with
from planning.editing.proposal import in_the_way, with_rows
from planning.faults import OWN_RULES, Fault, Unread
from planning.faults.keys import KEYS
from planning.faults.model import Rule
from planning.faults.roster import rows_out_of_reach, too_many
from planning.models import Edit, EditState, OneOffOrder, Subscriber
from planning.models.tables import TABLES
from planning.month import Month
from planning.monthfile.codecs import Habits
from planning.monthfile.problems import refuse
from planning.monthfile.sheets import BY_TABLE, Sheet
from planning.monthfile.xlsx import Broken, Row, Value

ROSTER_RULES: tuple[Rule, ...] = (*OWN_RULES, rows_out_of_reach)


# --- A block on its way in ---


def receive(
    month: kits.Month, sheet: Sheet, name: str, rows: Iterable[Row], by: str, *, replaces: bool
) -> Edit:
    """Keep a block's rows until somebody says yes or no to them. Raises MonthFileError where they cannot be read at all."""
    kept = list(rows)
    if not read_lines(sheet, kept, habits_of(load.club(month))):
        raise refuse("there is no row in it", "Copy the rows, with or without their headings.")
    edits.tidy()
    packed = [[number, {str(at): pack(value) for at, value in cells.items()}] for number, cells in kept]
    may_replace = replaces and sheet.table not in load.PEOPLE
    return Edit.objects.create(
        month=month, table=sheet.table, name=name, rows=packed, replaces=may_replace, by=by
    )


def pack(value: Value) -> Any:
    """Return a cell as JSON holds it."""
    if isinstance(value, Broken):
        return {"broken": [value.shown, value.why, value.allowed]}
    return {"day": value.isoformat()[:10]} if isinstance(value, date) else value


def unpack(value: Any) -> Value:
    """Return a cell as it was read."""
    if isinstance(value, dict):
        return Broken(*value["broken"]) if "broken" in value else date.fromisoformat(value["day"])
    plain: Value = value
    return plain


def rows_in(edit: Edit) -> Iterator[Row]:
    """Yield the rows of a block."""
    return ((number, {int(at): unpack(value) for at, value in cells.items()}) for number, cells in edit.rows)


def look(edit: Edit) -> Proposal:
    """Find what a block would change, and which of its rows are refused."""
    month, sheet = edit.month, BY_TABLE[edit.table]
    habits = habits_of(load.club(month))
    return proposed(month, sheet, read_lines(sheet, rows_in(edit), habits), habits, replaces=edit.replaces)


def proposed(
    month: kits.Month, sheet: Sheet, lines: Sequence[ReadLine], habits: Habits, *, replaces: bool = False
) -> Proposal:
    """Put rows that were read beside those of the month, and judge what would come of them."""
    kept = rows_beside(month, sheet, [line.fields for line in lines])
    proposal = propose(sheet, lines, kept, habits, replaces=replaces)
    wanted = [line.after for line in proposal.lines if line.after is not None]
    rules = ROSTER_RULES if sheet.table in load.PEOPLE else OWN_RULES
    return judged(sheet, proposal, book_for(month, sheet.table, wanted), unread_for(sheet.table), rules)


def rows_beside(month: kits.Month, sheet: Sheet, wanted: Sequence[dict[str, Any]]) -> tuple[Placed, ...]:
    """Return the rows to put a block beside: all of a small sheet, of the roster those the block names."""
    rows = edits.rows_of(sheet.table, month)
    if sheet.table not in load.PEOPLE:
        return edits.as_placed(sheet.table, rows)
    named = [one["reference"] for one in wanted if "reference" in one]
    found: list[Placed] = []
    for some in edits.in_parts(named):
        found += edits.as_placed(sheet.table, rows.filter(reference__in=some))
    return tuple(sorted(found, key=lambda one: one[0]))


def make(edit: Edit, proposal: Proposal, by: str) -> Edit:
    """Make what a block would change. Raises planning.edits.ChangedError."""
    counts = [
        f"{proposal.count(State.NEW):,} new",
        f"{proposal.count(State.CHANGED):,} changed",
        *([f"{len(proposal.gone):,} taken out"] if proposal.gone else []),
    ]
    said = f"{BY_TABLE[edit.table].title}: {edit.name}, {', '.join(counts)}"
    return edits.make(edit.month, edit.table, proposal.changes, by, said, edit)


def drop(edit: Edit) -> None:
    """Forget a block nobody wants."""
    Edit.objects.filter(pk=edit.pk, state=EditState.PROPOSED).update(state=EditState.DROPPED, rows=[])


# --- The month around rows that are looked at ---


def book_for(month: kits.Month, table: str, rows: Sequence[Any]) -> Month:
    """Return a month's book without its people, but with the subscribers that some one-off orders name."""
    book = load.without_people(month)
    if table != "orders":
        return book
    found: list[Placed] = []
    for some in edits.in_parts(sorted({one.subscriber for one in rows})):
        found += edits.as_placed("subscribers", Subscriber.objects.filter(month=month, reference__in=some))
    return replace(book, subscribers=tuple(one for _, one in found))


def unread_for(table: str) -> Unread:
    """Return which people a month's book is without, so that nobody is called missing who is not looked at."""
    return {"orders": UNREAD["orders"]} if table == "orders" else UNREAD


def why_refused(month: kits.Month, sheet: Sheet, change: Change) -> Iterator[Fault]:
    """Yield what keeps one row from being kept at all."""
    table = sheet.table
    if table not in load.PEOPLE:
        kept = () if table == "club" else edits.as_placed(table, edits.rows_of(table, month))
        book, index = month_with(load.without_people(month), table, kept, change)
        yield from faults_of_row(book, table, index, UNREAD)
        return
    book, index = month_with(
        book_for(month, table, [change.after]), table, (), Change(NEW, None, change.after)
    )
    yield from faults_of_row(book, table, index, unread_for(table), ROSTER_RULES)
    yield from twice(month, table, change)
    if table == "subscribers":
        yield from too_many_boxes(month, [change])


def twice(month: kits.Month, table: str, change: Change) -> Iterator[Fault]:
    """Yield the fault of a row of the roster that is there already."""
    key = {name: getattr(change.after, name) for name in KEYS[table]}
    if TABLES[table].objects.filter(month=month, **key).exclude(position=change.place).exists():
        first = KEYS[table][0]
        yield Fault(table, None, first, str(key[first]), "stands here already", "Give each its own.")


def too_many_boxes(month: kits.Month, changes: Iterable[Change]) -> Iterator[Fault]:
    """Yield the fault of changes on the roster that make more boxes than a month may have."""
    more = sum(boxes_of(one.after) - boxes_of(one.before) for one in changes)
    if more <= 0:
        return
    active = (
        Subscriber.objects.filter(month=month, active=True).aggregate(boxes=Sum("quantity"))["boxes"] or 0
    )
    tiers = kits.Tier.objects.filter(month=month).values("code")
    ordered = (
        OneOffOrder.objects.filter(month=month, item__in=tiers).aggregate(boxes=Sum("count"))["boxes"] or 0
    )
    for fault in too_many(active + ordered + more, load.club(month)):
        yield Fault("subscribers", None, "quantity", fault.value, fault.why, fault.allowed)


def boxes_of(one: Any) -> int:
    """Return how many boxes a subscriber gets in a month."""
    return int(one.quantity) if one is not None and one.active else 0


def newly_in_the_way(month: kits.Month, table: str, changes: Sequence[Change]) -> tuple[Fault, ...]:
    """Return what would stand in the way of a plan after changes of a table that does not yet."""
    if table in load.PEOPLE or not changes:
        return ()
    book = load.without_people(month)
    if table == "club":
        then = replace(book, club=changes[0].after)
    else:
        kept = edits.as_placed(table, edits.rows_of(table, month))
        then = with_rows(book, table, after(kept, edits.ordered(month, table, changes)))
    return in_the_way(draft_faults(book), draft_faults(then))
