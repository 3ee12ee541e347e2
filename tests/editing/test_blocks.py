"""A block as spreadsheets copy it, and what it becomes beside the rows there are."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.measures import INCH
from planning.drafts import UNREAD
from planning.editing import (
    NEW,
    Change,
    State,
    block_rows,
    field_texts,
    habits_of,
    judged,
    propose,
    read_fields,
    read_lines,
    taken_back,
)
from planning.editing.change import RISING, Placed, after, in_order, placed, rearranged
from planning.month import Month
from planning.monthfile.problems import MonthFileError
from planning.monthfile.sheets import BY_TABLE, TABLES, Sheet
from tests.monthfile.strategies import months
from tests.web.small_month import SMALL_MONTH

HABITS = habits_of(SMALL_MONTH.club)
TIERS, OFFERS, BREAKS = BY_TABLE["tiers"], BY_TABLE["offers"], BY_TABLE["price_breaks"]


def kept(sheet: Sheet, month: Month = SMALL_MONTH) -> list[Placed]:
    return list(enumerate(getattr(month, sheet.table)))


def proposed(sheet: Sheet, block: str, *, replaces: bool = False, month: Month = SMALL_MONTH):  # type: ignore[no-untyped-def]
    lines = read_lines(sheet, block_rows(block, sheet, HABITS), HABITS)
    return judged(sheet, propose(sheet, lines, kept(sheet, month), HABITS, replaces=replaces), month, UNREAD)


# --- What spreadsheets copy (common practice, no source: tabs, line ends of any system, quotes where a cell has lines) ---


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_cell_of_several_lines_comes_in_quotes_and_typed_quotes_stay(end: str) -> None:
    block = end.join(["Code\tName\tPrice a box", 'A\t"one\n""two"""\t1', 'B\t"Bee"\t2', 'C\t12" wide\t3', ""])
    rows = [cells for _, cells in block_rows(block, TIERS, HABITS)]
    assert [cells[2] for cells in rows[1:]] == ['one\n"two"', '"Bee"', '12" wide']


def test_a_block_without_headings_has_the_columns_in_their_order() -> None:
    found = proposed(TIERS, "FULL\tFull\t£25.50\nGOLD\tGold\t1,200")
    assert [line.state for line in found.lines] == [State.CHANGED, State.NEW]
    assert found.lines[0].after == replace(SMALL_MONTH.tiers[0], price=Decimal("25.50"))
    assert found.lines[1].after.price == 1200


def test_columns_that_are_left_out_keep_what_they_hold() -> None:
    found = proposed(BY_TABLE["materials"], "Code\tMake-ready (count)\nSHORE\t9\nRIBBON\t")
    ours, ribbon = found.lines
    assert ours.after == replace(SMALL_MONTH.materials[0], overs_fixed=9)
    assert ribbon.state is State.SAME  # empty means what it does in the month file: none


def test_a_new_row_needs_what_the_sheet_needs() -> None:
    [line] = proposed(TIERS, "Code\tPrice a box\nGOLD\t1").lines
    assert line.state is State.REFUSED
    assert "lacks: Name" in line.problems[0].why


def test_without_the_column_that_tells_rows_apart_nothing_is_read() -> None:
    with pytest.raises(MonthFileError, match='the heading "Code" is missing'):
        proposed(TIERS, "Name\tPrice a box\nFull\t2")


def test_a_refused_cell_names_row_column_value_reason_and_cure() -> None:
    found = proposed(
        BREAKS, "Offer\tFrom quantity\tPrice each\nMILL-SHORE\tmany\t1\nMIL-SHORE\t5\t1\nMILL-SHORE\t9\t0.2"
    )
    many, unknown, well = found.lines
    [problem] = many.problems
    assert (problem.sheet, problem.row, problem.column, problem.value) == ("Price breaks", 2, "B", "many")
    [problem] = unknown.problems
    assert (problem.row, problem.column, problem.heading, problem.value) == (3, "A", "Offer", "MIL-SHORE")
    assert problem.why == "is not on the Offers sheet"
    assert problem.allowed == "Did you mean MILL-SHORE?"
    assert well.state is State.NEW


def test_the_same_row_twice_is_taken_once() -> None:
    first, second = proposed(TIERS, "GOLD\tGold\t1\nGOLD\tGolden\t2").lines
    assert first.state is State.NEW
    assert second.problems[0].why == "the same row stands here already, in row 1"


def test_an_offer_may_come_before_its_price() -> None:
    # what only another row can put right refuses nothing: it keeps the month from being planned until that row is there
    [line] = proposed(OFFERS, "NEW-OFFER\tMILL\tSHORE").lines
    assert line.state is State.NEW


# --- What holds of every sheet ---


@pytest.mark.parametrize("sheet", TABLES, ids=lambda sheet: sheet.table)
def test_rows_copied_and_pasted_are_the_same_rows(sheet: Sheet) -> None:
    rows = getattr(SMALL_MONTH, sheet.table)
    lines = [field_texts(sheet, row, HABITS).values() for row in rows]
    quoted = [
        "\t".join('"' + text.replace('"', '""') + '"' if "\n" in text else text for text in line)
        for line in lines
    ]
    block = "\n".join(["\t".join(column.title(HABITS) for column in sheet.columns), *quoted])
    found = propose(
        sheet, read_lines(sheet, block_rows(block, sheet, HABITS), HABITS), kept(sheet), HABITS, replaces=True
    )
    assert {line.state for line in found.lines} <= {State.SAME}
    assert found.changes == ()


@given(months())
def test_a_form_sent_as_it_was_shown_changes_nothing(month: Month) -> None:
    habits = habits_of(month.club)
    for sheet in TABLES:
        for row in getattr(month, sheet.table)[:2]:
            fields, wrong = read_fields(sheet, field_texts(sheet, row, habits), habits)
            assert wrong == {}
            assert sheet.row_type(**fields) == row


letters = st.lists(st.sampled_from("abcdef"), max_size=6)


@given(letters, st.data())
def test_changes_taken_back_leave_the_rows_as_they_were(rows: list[str], data: st.DataObject) -> None:
    before = [(2 * place, row) for place, row in enumerate(rows)]
    touched = dict(data.draw(st.lists(st.sampled_from(before), max_size=3))) if before else {}
    wanted = [
        Change(place, row, data.draw(st.sampled_from([None, "x", "y"]))) for place, row in touched.items()
    ]
    made = placed(
        [*wanted, *(Change(NEW, None, row) for row in data.draw(letters))], max(dict(before), default=-1)
    )
    then = after(before, made)
    assert after(then, taken_back(made)) == before


@given(letters, letters)
def test_rows_put_in_place_of_others_are_those_rows_in_that_order(rows: list[str], wanted: list[str]) -> None:
    before = [(3 * place + 1, row) for place, row in enumerate(rows)]
    changes = rearranged(before, wanted)
    assert [row for _, row in after(before, changes)] == wanted
    assert len(changes) <= max(len(rows), len(wanted))


def test_rows_that_are_not_in_the_block_go_only_where_all_of_it_is_well() -> None:
    gone = proposed(TIERS, "HALF\tHalf\t14", replaces=True)
    assert [row.code for _, row in gone.gone] == ["FULL"]
    assert [row for _, row in after(kept(TIERS), gone.changes)] == [SMALL_MONTH.tiers[1]]
    unsure = proposed(TIERS, "HALF\tHalf\t14\nFUL\tFull\tmuch", replaces=True)
    assert unsure.gone == ()
    assert unsure.changes == ()


def test_lengths_are_read_on_the_club_s_ruler() -> None:
    [line] = proposed(BY_TABLE["pre_cuts"], "Code\tWidth\nTAG\t3 1/2").lines
    assert line.after.width == 7 * INCH // 2


def test_a_price_break_is_put_where_it_belongs_among_those_of_its_offer() -> None:
    rows = kept(BREAKS)
    new = replace(SMALL_MONTH.price_breaks[0], from_quantity=50)
    changes = in_order(rows, [Change(NEW, None, new)], RISING["price_breaks"])
    told = [(one.offer, one.from_quantity) for _, one in after(rows, changes) if one.offer == "MILL-SHORE"]
    assert told == [("MILL-SHORE", 1), ("MILL-SHORE", 50), ("MILL-SHORE", 100)]
    others = [row for row in SMALL_MONTH.price_breaks if row.offer != "MILL-SHORE"]
    assert [row for _, row in after(rows, changes) if row.offer != "MILL-SHORE"] == others
    assert in_order(rows, [], RISING["price_breaks"]) == ()


@given(st.lists(st.integers(1, 9), unique=True), st.lists(st.integers(10, 19), unique=True, max_size=3))
def test_rows_in_their_order_are_the_same_rows(has: list[int], more: list[int]) -> None:
    like = SMALL_MONTH.price_breaks[0]
    rows: list[Placed] = [
        (2 * place, replace(like, from_quantity=one)) for place, one in enumerate(sorted(has))
    ]
    changes = [Change(NEW, None, replace(like, from_quantity=one)) for one in more]
    found = after(rows, in_order(rows, changes, RISING["price_breaks"]))
    assert [one.from_quantity for _, one in found] == sorted([*has, *more])
    assert dict(rows).keys() <= dict(found).keys()
