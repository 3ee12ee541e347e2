from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from kits.guillotine import number_out
from kits.measures import INCH, MM
from planning.cutting import CuttingProblem, CuttingResult, CuttingTicket, PieceJob, plan_cutting
from planning.documents.cuts import TOO_NARROW
from planning.documents.pdf import cutting_tickets
from planning.documents.pdf.cutting_tickets import MOST_TALLIED, lift_rows, lift_words
from planning.flow import MonthPlan
from planning.problems.cutting import sheet_stock
from tests.documents.small_month import MONTH, STAMP

Texts = Callable[[bytes], list[str]]


@pytest.fixture
def tag(plan: MonthPlan) -> CuttingTicket:
    job = next(job for job in plan.cutting.jobs if isinstance(job, PieceJob) and job.name == "Tag")
    alone = CuttingProblem(pieces=(job,), sheets=tuple(sheet_stock(MONTH)), guillotines=MONTH.guillotines)
    [ticket] = plan_cutting(alone).tickets
    return ticket


def only(*tickets: CuttingTicket) -> CuttingResult:
    return CuttingResult(tickets=tickets, lengths=(), ended="")


def in_lifts(ticket: CuttingTicket, sheets: int, per_lift: int) -> CuttingTicket:
    return replace(ticket, sheets=sheets, sheets_per_lift=per_lift, lifts=-(-sheets // per_lift))


# --- Against the plan ---


def test_every_ticket_says_what_the_plan_says(plan: MonthPlan, texts: Texts) -> None:
    for ticket in plan.cutting.tickets:
        page = texts(cutting_tickets(MONTH, only(ticket), STAMP))[0]
        assert f"{ticket.name} Ticket 1 of 1, on {ticket.machine.name}" in page
        assert f"Cut from {ticket.sheet.name}" in page
        assert f"Sheets {ticket.sheets:,} " in page
        assert f"Cuts {ticket.cuts_per_lift:,} a lift, {ticket.cuts:,} in all" in page
        for one in ticket.pieces:
            assert f"{one.out:,} {ticket.sheets * one.out:,}" in page
        assert f"Tally: {ticket.made:,} pieces to come from {ticket.sheets:,} sheet" in page


def test_every_page_carries_the_plan_and_its_number(plan: MonthPlan, texts: Texts) -> None:
    pages = texts(cutting_tickets(MONTH, plan.cutting, STAMP))
    assert len(pages) > len(plan.cutting.tickets)
    for number, page in enumerate(pages, 1):
        assert STAMP.text in page
        assert f"page {number} of {len(pages)}" in page
        assert "Cutting tickets, Kingfisher, April 2027" in page


def test_every_piece_is_in_one_table_with_what_is_beyond_the_wanted(plan: MonthPlan, texts: Texts) -> None:
    page = next(page for page in texts(cutting_tickets(MONTH, plan.cutting, STAMP)) if "All pieces" in page)
    made, spare = plan.cutting.made, plan.cutting.spare
    for job in plan.cutting.jobs[: -len(plan.cutting.lengths)]:
        tickets = ", ".join(
            str(n) for n, ticket in enumerate(plan.cutting.tickets, 1) if job.item in ticket.items
        )
        figures = (
            f"{job.count:,} {job.overs:,} {job.wanted:,} {tickets} {made[job.item]:,} {spare[job.item]:,}"
        )
        assert f"{job.name} {figures}" in page


def test_pieces_of_several_sizes_have_a_line_each_in_the_tally(tag: CuttingTicket, texts: Texts) -> None:
    [one] = tag.pieces
    other = replace(one, label="Mat", out=2, job=replace(one.job, item="piece:MAT", name="Mat"))
    both = replace(in_lifts(tag, 250, 150), pieces=(replace(one, out=14), other))
    rows = [row.cells[:4] for row in lift_rows(both)]
    assert rows == [
        ("1", "150", "Tag", "2,100"),
        ("", "", "Mat", "300"),
        ("2", "100", "Tag", "1,400"),
        ("", "", "Mat", "200"),
        ("All", "250", "Tag", "3,500"),
        ("", "", "Mat", "500"),
    ]
    assert "Tag, Mat Ticket 1 of 1" in texts(cutting_tickets(MONTH, only(both), STAMP))[0]


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
    [one] = tag.pieces
    piece = replace(one, label="名札 Řada", job=replace(one.job, name="名札 Řada"))
    named = replace(tag, pieces=(piece,), tree=sheet)
    page = texts(cutting_tickets(MONTH, only(named), STAMP))[0]
    assert page.count("?? Řada") > 2
    assert "名" not in page


def test_names_as_long_as_a_cell_holds_still_make_a_ticket(tag: CuttingTicket, texts: Texts) -> None:
    long = "Very long name " * 2_000
    sheet = replace(tag.sheet, name=long)
    [one] = tag.pieces
    piece = replace(one, label=long, job=replace(one.job, name=long))
    ticket = replace(tag, pieces=(piece,), sheet=sheet, machine=replace(tag.machine, name=long))
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
    [one] = tag.pieces
    fourteen = replace(in_lifts(tag, 512, 150), pieces=(replace(one, out=14),))
    page = " ".join(texts(cutting_tickets(MONTH, only(fourteen), STAMP)))
    assert "Cut by 1 150 Tag 2,100 2 150 Tag 2,100 3 150 Tag 2,100" in page
    assert "4 62 Tag 868" in page
    assert "All 512 Tag 7,168" in page


def test_many_lifts_go_on_to_the_next_page_under_the_same_heads(tag: CuttingTicket, texts: Texts) -> None:
    pages = texts(cutting_tickets(MONTH, only(in_lifts(tag, 100, 1)), STAMP))
    assert len(pages) > 3
    assert all("Lift Sheets Piece To come Good Spoiled Cut by" in page for page in pages[1:-1])


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
    page = texts(cutting_tickets(MONTH, only(wide), STAMP))[0]
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


def test_minutes_are_the_machines_own(tag: CuttingTicket, texts: Texts) -> None:
    page, _ = texts(cutting_tickets(MONTH, only(replace(tag, minutes=Decimal("24.5"))), STAMP))
    assert "about 25 minutes" in page
