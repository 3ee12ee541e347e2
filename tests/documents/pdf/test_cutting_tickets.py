from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import Cut, Direction, Lot, Offcut, Piece, count_cuts, number_out, steps
from kits.measures import INCH, MM, ruler
from planning.cutting import CuttingResult, CuttingTicket
from planning.documents.pdf import cutting_tickets
from planning.documents.pdf.cutting_steps import (
    LONGEST_RUN,
    TOO_NARROW,
    cut_rows,
    lots_words,
    measures,
    moves_of,
    part_called,
    part_names,
)
from planning.documents.pdf.cutting_tickets import MOST_TALLIED, lift_rows, lift_words
from planning.flow import MonthPlan
from tests.documents.small_month import MONTH, STAMP

Texts = Callable[[bytes], list[str]]
EIGHTHS = ruler("1/8 in")


@pytest.fixture
def tag(plan: MonthPlan) -> CuttingTicket:
    return next(ticket for ticket in plan.cutting.tickets if ticket.job.name == "Tag")


def only(*tickets: CuttingTicket) -> CuttingResult:
    return CuttingResult(tickets=tickets, lengths=(), ended="")


def in_lifts(ticket: CuttingTicket, sheets: int, per_lift: int) -> CuttingTicket:
    return replace(ticket, sheets=sheets, sheets_per_lift=per_lift, lifts=-(-sheets // per_lift))


# --- Against the plan ---


def test_every_ticket_says_what_the_plan_says(plan: MonthPlan, texts: Texts) -> None:
    for ticket in plan.cutting.tickets:
        [page] = texts(cutting_tickets(MONTH, only(ticket), STAMP))
        job = ticket.job
        assert f"{job.name} Ticket 1 of 1, on {ticket.machine.name}" in page
        assert f"Cut from {ticket.sheet.name}" in page
        assert f"Pieces wanted {job.count:,} good + {job.overs:,} overs = {job.wanted:,}" in page
        assert f"Number out {ticket.out:,} a sheet, proved best" in page
        assert f"Sheets {ticket.sheets:,} Pieces to come {ticket.made:,}, so {ticket.spare:,} spare" in page
        assert f"Cuts {ticket.cuts_per_lift:,} a lift, {ticket.cuts:,} in all" in page
        assert f"Tally: {job.count:,} good pieces are needed" in page


def test_every_page_carries_the_plan_and_its_number(plan: MonthPlan, texts: Texts) -> None:
    pages = texts(cutting_tickets(MONTH, plan.cutting, STAMP))
    assert len(pages) > len(plan.cutting.tickets)
    for number, page in enumerate(pages, 1):
        assert STAMP.text in page
        assert f"page {number} of {len(pages)}" in page
        assert "Cutting tickets, Kingfisher, April 2027" in page


def test_a_number_out_that_is_not_proved_does_not_claim_to_be(tag: CuttingTicket, texts: Texts) -> None:
    [page] = texts(cutting_tickets(MONTH, only(replace(tag, proved=False)), STAMP))
    assert "proved" not in page


def test_the_same_tickets_are_the_same_file(plan: MonthPlan) -> None:
    once = cutting_tickets(MONTH, plan.cutting, STAMP)
    assert once == cutting_tickets(MONTH, plan.cutting, STAMP)
    assert once.count(b"/BaseFont") == once.count(b"/FontFile2")


def test_lengths_have_a_page_of_their_own(plan: MonthPlan, texts: Texts) -> None:
    [one] = plan.cutting.lengths
    page = texts(cutting_tickets(MONTH, plan.cutting, STAMP))[-1]
    assert "Lengths from rolls" in page
    assert "0.4 m from rolls of 9 m" in page
    assert f"{one.job.count} {one.job.overs} {one.out} {one.rolls} {one.spare}" in page
    assert "trained staff come first" in page


def test_a_month_without_cutting_says_so(texts: Texts) -> None:
    [page] = texts(cutting_tickets(MONTH, only(), STAMP))
    assert "Nothing is cut before packing this month." in page


def test_names_in_any_script_still_make_a_ticket(tag: CuttingTicket, texts: Texts) -> None:
    sheet = number_out(12 * INCH, 12 * INCH, 5 * INCH, 7 * INCH, name="名札 Řada").tree
    named = replace(tag, job=replace(tag.job, name="名札 Řada"), tree=sheet)
    [page] = texts(cutting_tickets(MONTH, only(named), STAMP))
    assert page.count("?? Řada") > 2
    assert "名" not in page


def test_names_as_long_as_a_cell_holds_still_make_a_ticket(tag: CuttingTicket, texts: Texts) -> None:
    long = "Very long name " * 2_000
    sheet = replace(tag.sheet, name=long)
    ticket = replace(
        tag, job=replace(tag.job, name=long), sheet=sheet, machine=replace(tag.machine, name=long)
    )
    assert len(texts(cutting_tickets(MONTH, only(ticket), STAMP))) > 1


# --- Lifts and the tally ---


def test_lifts_are_full_but_for_the_last(tag: CuttingTicket) -> None:
    """512 sheets, 150 to a lift: 3 x 150 = 450, and 62 are left."""
    tally = [row.cells[:3] for row in lift_rows(in_lifts(tag, 512, 150))]
    assert [(cells[0], cells[1]) for cells in tally] == [
        ("1", "150"),
        ("2", "150"),
        ("3", "150"),
        ("4", "62"),
        ("All", "512"),
    ]
    assert lift_words(in_lifts(tag, 512, 150)) == "4 lifts: 3 of 150 sheets, the last of 62"
    assert lift_words(in_lifts(tag, 194, 174)) == "2 lifts, of 174 sheets and of 20"
    assert lift_words(in_lifts(tag, 450, 150)) == "3 lifts of 150 sheets"
    assert lift_words(in_lifts(tag, 62, 150)) == "1 lift of 62 sheets"
    assert lift_words(in_lifts(tag, 2, 1)) == "2 lifts of 1 sheet"


def test_a_tally_of_very_many_lifts_has_several_on_a_line(tag: CuttingTicket) -> None:
    """A thousand million sheets one at a time, as where nobody knows the caliper."""
    rows = [row.cells for row in lift_rows(in_lifts(tag, 1_000_000_000, 1))]
    assert len(rows) == MOST_TALLIED + 1
    assert rows[0][:2] == ("1-16,666,667", "16,666,667")
    assert rows[-2][:2] == ("983,333,354-1,000,000,000", "16,666,647")
    assert rows[-1][:2] == ("All", "1,000,000,000")


def test_the_tally_adds_up_lift_by_lift(tag: CuttingTicket, texts: Texts) -> None:
    """Fourteen out: 150 sheets make 2,100 pieces, 62 make 868, all 512 make 7,168."""
    page = " ".join(texts(cutting_tickets(MONTH, only(replace(in_lifts(tag, 512, 150), out=14)), STAMP)))
    assert "Cut by 1 150 2,100 2 150 2,100 3 150 2,100" in page
    assert "4 62 868" in page
    assert "All 512 7,168" in page


def test_many_lifts_go_on_to_the_next_page_under_the_same_heads(tag: CuttingTicket, texts: Texts) -> None:
    pages = texts(cutting_tickets(MONTH, only(in_lifts(tag, 100, 1)), STAMP))
    assert len(pages) > 2
    assert all("Lift Sheets Pieces to come Good Spoiled Cut by" in page for page in pages[1:])


# --- Cautions ---


def test_every_ticket_defers_to_manual_rules_and_staff_and_calls_nothing_safe(
    plan: MonthPlan, texts: Texts
) -> None:
    for ticket in plan.cutting.tickets:
        page = " ".join(texts(cutting_tickets(MONTH, only(ticket), STAMP)))
        assert "The machine's manual, your local rules and trained staff come before this ticket." in page
        assert "Guards and two-hand start" in page
        assert "safe" not in page.casefold()


def test_strips_below_the_machines_smallest_are_marked(tag: CuttingTicket, texts: Texts) -> None:
    """The last cut of a strip of tags leaves 2 1/2 in (63.5 mm) behind the knife."""
    wide = replace(tag, machine=replace(tag.machine, smallest_strip=5 * INCH // 2))
    [page] = texts(cutting_tickets(MONTH, only(wide), STAMP))
    assert "Narrower" not in page
    narrow = replace(tag, machine=replace(tag.machine, smallest_strip=5 * INCH // 2 + MM))
    page = " ".join(texts(cutting_tickets(MONTH, only(narrow), STAMP)))
    assert TOO_NARROW in page
    assert "would hold less than the smallest strip of 64.5 mm" in page


def test_a_heavy_lift_is_cautioned(tag: CuttingTicket, texts: Texts) -> None:
    """A 12 x 12 in sheet of 216 g/m2 weighs 216 x 0.3048^2 = 20.07 g: 797 weigh under 16 kg, 798 above."""
    for sheets, heavy in ((797, False), (798, True)):
        page = " ".join(texts(cutting_tickets(MONTH, only(in_lifts(tag, sheets, 1000)), STAMP)))
        assert ("One lift weighs about 16.01 kg" in page) is heavy


def test_a_sheet_without_a_caliper_is_cut_singly(tag: CuttingTicket, texts: Texts) -> None:
    thin = replace(tag, sheet=replace(tag.sheet, thickness=None))
    assert "caliper not known, so one sheet at a time" in texts(cutting_tickets(MONTH, only(thin), STAMP))[0]


# --- The cuts in order ---


@given(st.integers(4, 60), st.integers(4, 60), st.integers(1, 30), st.integers(1, 30), st.integers(0, 10))
def test_the_rows_number_every_cut_once_and_in_order(
    width: int, height: int, wide: int, high: int, smallest: int
) -> None:
    wide, high = min(wide, width), min(high, height)
    tree = number_out(width * INCH, height * INCH, wide * INCH, high * INCH).tree
    moves = moves_of(tree, smallest * INCH)
    expected = 1
    for row in cut_rows(tree, moves, EIGHTHS):
        first, _, last = str(row.cells[0]).partition(" to ")
        assert int(first) == expected
        expected = int(last or first) + 1
    assert expected == count_cuts(tree) + 1


@given(st.integers(4, 40), st.integers(4, 40), st.integers(1, 20), st.integers(1, 20))
def test_every_part_in_hand_is_found_by_its_name(width: int, height: int, wide: int, high: int) -> None:
    tree = number_out(width * INCH, height * INCH, min(wide, width) * INCH, min(high, height) * INCH).tree
    for step in steps(tree):
        part = part_called(tree, step.hand)
        assert isinstance(part, Cut)
        assert step.gauge < max(part.width, part.height)


def test_a_run_of_like_cuts_is_one_row_with_its_gauges_in_turn() -> None:
    """Twelve 1 in strips of a 12 in sheet: eleven cuts, the first at 11 in, the last at 1 in."""
    tree = number_out(12 * INCH, 12 * INCH, 1 * INCH, 12 * INCH, name="strip").tree
    [row] = cut_rows(tree, moves_of(tree, 0), EIGHTHS)
    assert row.cells[0] == "1 to 11"
    assert row.cells[1] == "the sheet: 12\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}12"
    assert not row.need


def test_no_row_holds_more_cuts_than_one_can_keep_track_of() -> None:
    tree = number_out(40 * INCH, 12 * INCH, 1 * INCH, 12 * INCH).tree
    numbers = [row.cells[0] for row in cut_rows(tree, moves_of(tree, 0), EIGHTHS)]
    assert LONGEST_RUN == 12
    assert numbers == ["1 to 12", "13 to 24", "25 to 36", "37 to 39"]


def test_parts_cut_alike_are_spelled_out_once() -> None:
    """12 x 12 in into twelve 3 x 4 in: two cuts make three strips, and each strip takes three cuts."""
    tree = number_out(12 * INCH, 12 * INCH, 3 * INCH, 4 * INCH, name="card").tree
    *_, last = cut_rows(tree, moves_of(tree, 0), EIGHTHS)
    assert last.cells == ("6 to 11", "parts 2, 3", "", "", "", "cut as part 1")


def test_parts_are_named_as_a_range_where_they_follow_each_other() -> None:
    assert part_names(["2"]) == "part 2"
    assert part_names(["1.2", "1.3"]) == "parts 1.2, 1.3"
    assert part_names(["1.2", "1.3", "1.4"]) == "parts 1.2 to 1.4"
    assert part_names(["1.4", "1.3", "1.2"]) == "parts 1.4 to 1.2"
    assert part_names(["1.2", "1.3", "2.1"]) == "parts 1.2, 1.3, 2.1"
    assert part_names(["1.2", "1.4", "1.6"]) == "parts 1.2, 1.4, 1.6"


def test_measures_name_their_unit_once_unless_one_is_beside_the_rulers_marks() -> None:
    plain = measures([10 * INCH, 21 * INCH // 4], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ")
    assert plain == "10, 5 1/4 in"
    beside = measures([10 * INCH, 100 * MM], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ")
    assert beside == "10 in; 3 7/8 in plus 1.575 mm (not on a 1/8 in mark)"  # 3 7/8 in are 98.425 mm


def test_a_part_narrower_than_half_a_mark_is_told_as_it_is() -> None:
    """1.5 mm are less than half of 1/8 in (3.175 mm): the nearest mark would be none at all."""
    left = [Lot("left over", Offcut(MM * 3 // 2, 38 * INCH))]
    assert lots_words(left, EIGHTHS).replace("\N{NO-BREAK SPACE}", " ") == "left over: 1.5 mm × 38"


def test_what_comes_off_is_named_with_its_size() -> None:
    inch = INCH
    strip = Cut(
        inch, 2 * inch, Direction.LEVEL, (inch,), (Piece("Tag", inch, inch), Piece("Tag", inch, inch))
    )
    lots = [Lot("1.2", strip), Lot("1.1", strip)]
    assert lots_words(lots, EIGHTHS).replace("\N{NO-BREAK SPACE}", " ") == "parts 1.2, 1.1: each 1 × 2"
    left = [Lot("left over", Offcut(inch, inch))]
    assert lots_words(left, EIGHTHS).replace("\N{NO-BREAK SPACE}", " ") == "left over: 1 × 1"
    assert lots_words([Lot("Tag", Piece("Tag", inch, inch))] * 2, EIGHTHS) == "each Tag"


def test_minutes_are_the_machines_own(tag: CuttingTicket, texts: Texts) -> None:
    [page] = texts(cutting_tickets(MONTH, only(replace(tag, minutes=Decimal("24.5"))), STAMP))
    assert "about 25 minutes" in page
