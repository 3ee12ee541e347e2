"""Rows of a month in the database: changed, refused where they are another by now, taken back."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django.utils.timezone import now

from kits.models import Month
from planning import edits, load, proposals, save
from planning.editing import NEW, Change, block_rows, habits_of
from planning.editing.change import Placed
from planning.models import Edit, EditState
from planning.monthfile.sheets import BY_TABLE, SHEETS, Sheet
from planning.run import fingerprint
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db


@pytest.fixture
def month() -> Month:
    return save.month(SMALL_MONTH)


def first(table: str, month: Month) -> Placed:
    return (
        (0, load.club(month)) if table == "club" else edits.as_placed(table, edits.rows_of(table, month))[0]
    )


def changes_of(sheet: Sheet, month: Month) -> Iterator[list[Change]]:
    """Yield ways to change a sheet: one row changed, taken out, and one more."""
    if sheet.table != "club" and not getattr(SMALL_MONTH, sheet.table):
        return
    place, row = first(sheet.table, month)
    other = row
    name = next(
        (one.field for one in sheet.columns if one.field in ("name", "note", "code", "reference")), ""
    )
    if name:
        other = replace(row, **{name: "Another"})
        yield [Change(place, row, other)]
    if sheet.table != "club":
        yield [Change(place, row, None)]
        if name in ("code", "reference"):
            yield [Change(NEW, None, other), Change(place, row, None)]


def test_what_is_taken_back_leaves_the_month_as_it_was(month: Month) -> None:
    for sheet in SHEETS:
        for changes in changes_of(sheet, month):
            done = edits.make(month, sheet.table, changes, "cleo", "a try")
            month.refresh_from_db()
            there = load.month(month.pk)
            assert there != SMALL_MONTH, sheet.table
            assert month.fingerprint == fingerprint(there), (
                sheet.table
            )  # from few rows it is that of the whole
            edits.undo(done, "cleo")
            month.refresh_from_db()
            assert load.month(month.pk) == SMALL_MONTH, sheet.table
            assert month.fingerprint == fingerprint(SMALL_MONTH), sheet.table


@pytest.mark.parametrize("wanted", [[0], [4], [1, 2], [0, 1, 2, 3, 4], [0, 4], []])
def test_the_roster_s_digest_is_found_from_few_rows_wherever_they_stand(
    month: Month, wanted: list[int]
) -> None:
    rows = edits.as_placed("subscribers", edits.rows_of("subscribers", month))
    gone = [Change(place, row, None) for place, row in rows if place in wanted]
    new = [Change(NEW, None, replace(rows[0][1], reference=reference)) for reference in ("N1", "N2")]
    edits.make(month, "subscribers", [*gone, *new], "cleo", "a try")
    month.refresh_from_db()
    assert month.fingerprint == fingerprint(load.month(month.pk))


def test_a_row_somebody_else_changed_is_left_as_it_is(month: Month) -> None:
    place, row = first("tiers", month)
    edits.make(month, "tiers", [Change(place, row, replace(row, name="Theirs"))], "bo", "theirs")
    with pytest.raises(edits.ChangedError) as refused:
        edits.make(month, "tiers", [Change(place, row, replace(row, name="Mine"))], "cleo", "mine")
    assert refused.value.now.name == "Theirs"
    assert load.month(month.pk).tiers[0].name == "Theirs"


def test_a_row_of_the_same_key_added_meanwhile_is_no_error_of_the_database(month: Month) -> None:
    row = replace(SMALL_MONTH.tiers[0], code="GOLD")
    edits.make(month, "tiers", [Change(NEW, None, row)], "bo", "theirs")
    with pytest.raises(edits.ChangedError):
        edits.make(month, "tiers", [Change(NEW, None, row)], "cleo", "mine")
    assert len(load.month(month.pk).tiers) == 3


def test_an_edit_can_be_taken_back_for_ten_minutes_and_while_the_sheet_is_as_it_left_it(month: Month) -> None:
    place, row = first("tiers", month)
    own = replace(row, name="Mine")
    done = edits.make(month, "tiers", [Change(place, row, own)], "cleo", "mine")
    later = edits.make(month, "tiers", [Change(place, own, replace(row, name="Theirs"))], "bo", "theirs")
    with pytest.raises(edits.TooLateError, match="changed since"):
        edits.undo(done, "cleo")
    edits.undo(later, "bo")
    edits.undo(Edit.objects.get(pk=done.pk), "cleo")  # it is as it left it again
    assert load.month(month.pk) == SMALL_MONTH
    with pytest.raises(edits.TooLateError, match="already"):
        edits.undo(Edit.objects.get(pk=done.pk), "cleo")
    old = edits.make(month, "tiers", [Change(place, row, own)], "cleo", "mine")
    Edit.objects.filter(pk=old.pk).update(at=now() - timedelta(minutes=11))
    with pytest.raises(edits.TooLateError, match="10 minutes"):
        edits.undo(Edit.objects.get(pk=old.pk), "cleo")


def test_rows_nobody_can_take_back_any_more_are_dropped(month: Month) -> None:
    place, row = first("tiers", month)
    done = edits.make(month, "tiers", [Change(place, row, replace(row, name="Mine"))], "cleo", "mine")
    Edit.objects.filter(pk=done.pk).update(at=now() - timedelta(days=2))
    edits.tidy()
    assert not Edit.objects.exists()


def proposal_of(month: Month, table: str, block: str) -> tuple[Edit, Any]:
    sheet = BY_TABLE[table]
    rows = block_rows(block, sheet, habits_of(load.club(month)))
    edit = proposals.receive(month, sheet, "a block", rows, "cleo", replaces=False)
    return edit, proposals.look(edit)


def test_rows_of_the_roster_are_judged_by_themselves_and_by_where_carriers_go(month: Month) -> None:
    block = (
        "Reference\tName\tAddress line 1\tCity\tCountry\tTier\n"
        "S1\tŁucja Dvořáková\t1 Mill Lane\tWells\tGB\tHALF\n"
        "S6\tFay Gant\t6 Mill Lane\tWells\tFR\tFULL\n"
        "S7\tGus Hale\t7 Mill Lane\tWells\tGB\tFUL\n"
        "S8\tHal Ivey\t8 Mill Lane\tWells\tGB\tFULL\n"
    )
    edit, proposal = proposal_of(month, "subscribers", block)
    assert [line.state.value for line in proposal.lines] == ["changed", "refused", "refused", "new"]
    assert proposal.lines[1].problems[0].why == "has no zone at any carrier"
    assert proposal.lines[2].problems[0].allowed == "Did you mean FULL?"
    proposals.make(edit, proposal, "cleo")
    people = load.month(month.pk).subscribers
    assert [one.reference for one in people] == ["S1", "S2", "S3", "S4", "S5", "S8"]
    assert people[0].tier == "HALF"
    assert people[0].quantity == 2  # a column that is not in the block keeps what it holds


def test_an_order_names_somebody_on_the_roster(month: Month) -> None:
    _, proposal = proposal_of(month, "orders", "O2\tS5\tTAG\t1\nO3\tS9\tTAG\t1")
    assert [line.state.value for line in proposal.lines] == ["new", "refused"]
    assert proposal.lines[1].problems[0].why == "is not on the Roster sheet"


def test_a_block_is_looked_at_anew_when_the_month_is_another(month: Month) -> None:
    edit, before = proposal_of(month, "tiers", "GOLD\tGold\t1")
    edits.make(month, "tiers", [Change(NEW, None, before.lines[0].after)], "bo", "theirs")
    assert [line.state.value for line in proposals.look(Edit.objects.get(pk=edit.pk)).lines] == ["same"]
    assert edit.state == EditState.PROPOSED
