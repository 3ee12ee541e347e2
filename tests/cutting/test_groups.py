"""Jobs that may share a sheet, planned together."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import Grain
from kits.guillotine import EdgeTrim, PieceSize, SheetProblem, check
from kits.kit import Direction
from kits.measures import INCH
from planning.cutting import (
    CuttingProblem,
    CuttingResult,
    Guillotine,
    PieceJob,
    SheetStock,
    Supply,
    cutting_faults,
    plan_cutting,
)
from planning.cutting.alone import alone
from planning.cutting.choose import groups, rank_of
from planning.cutting.parents import pattern_problem
from planning.cutting.tickets import labels
from tests.cutting.test_cutting import FREE_KNIFE, LARGE, SHEET, TRIMMER, job, sold
from tests.support.effort import examples


def problem(
    *jobs: PieceJob,
    sheets: tuple[SheetStock, ...] = (SHEET,),
    supplies: tuple[Supply, ...] = (),
    machine: Guillotine = FREE_KNIFE,
    quick: bool = False,
) -> CuttingProblem:
    return CuttingProblem(pieces=jobs, sheets=sheets, supplies=supplies, guillotines=(machine,), quick=quick)


def planned(asked: CuttingProblem) -> CuttingResult:
    result = plan_cutting(asked)
    assert cutting_faults(asked, result) == ()
    return result


LARGE_MAT = job("8", "8", 100, item="piece:M", name="Mat")
TAG = job("4", "4", 500, item="piece:T", name="Tag")
SOLD = (sold("CARD", (1, "1.00")),)


def test_small_pieces_come_out_of_what_large_ones_leave() -> None:
    # A sheet of 12 x 12 in holds one mat of 8 x 8 in and five tags of 4 x 4 in beside it, nothing left over: 100 sheets.
    # One size to a sheet takes 100 + 500 / 9 = 156 sheets.
    result = planned(problem(LARGE_MAT, TAG, supplies=SOLD))

    [ticket], [group] = result.tickets, result.groups
    assert [(one.label, one.out) for one in ticket.pieces] == [("Mat", 1), ("Tag", 5)]
    assert (ticket.sheets, result.spare) == (100, {"piece:M": 0, "piece:T": 0})
    assert (group.proof, group.is_proved) == ("proved: no cutting plan uses fewer sheets", True)
    assert result.made == {"piece:M": 100, "piece:T": 500}


def test_the_plans_there_were_are_told_the_one_taken_first() -> None:
    # 156 sheets cut in a moment cost less than 100 that take long, when the knife's time is dear.
    cheap = planned(problem(LARGE_MAT, TAG, supplies=SOLD)).groups[0].choices
    assert [(one.is_taken, one.sheets) for one in cheap] == [(True, 100), (False, 156)]
    assert [one.paper for one in cheap] == [Decimal("100.00"), Decimal("156.00")]

    dear = replace(
        TRIMMER, cost_per_hour=Decimal(2000), minutes_per_cut=Decimal(2), minutes_per_lift=Decimal(0)
    )
    fewer_cuts = replace(SHEET, thickness=Fraction(INCH, 1000))  # all in one lift
    result = planned(problem(LARGE_MAT, TAG, sheets=(fewer_cuts,), supplies=SOLD, machine=dear))
    costs = [one.cost for one in result.groups[0].choices]
    assert costs == sorted(costs)
    assert result.groups[0].choices[0].is_taken


def test_jobs_are_planned_together_only_where_they_may_share_a_sheet() -> None:
    a, b, c, d = (
        job("3", "4", item=f"piece:{code}", cut_from=sheets)
        for code, sheets in (("A", ("CARD",)), ("B", ("LARGE",)), ("C", ("OTHER",)), ("D", ("LARGE", "CARD")))
    )
    other = replace(SHEET, material="OTHER")
    found = groups(problem(a, b, c, d, sheets=(SHEET, LARGE, other)))
    assert [[one.item for one in group] for group in found] == [
        ["piece:A", "piece:B", "piece:D"],
        ["piece:C"],
    ]


def test_a_piece_comes_only_from_its_own_sheets() -> None:
    # Red tags are not cut from what blue mats leave, though a bridge job that takes either joins them in one group.
    red, blue = replace(SHEET, material="RED", name="Red"), replace(SHEET, material="BLUE", name="Blue")
    mat = replace(LARGE_MAT, cut_from=("BLUE",))
    tag = replace(TAG, cut_from=("RED",))
    either = job("2", "2", 40, item="piece:E", name="Either", cut_from=("RED", "BLUE"))
    supplies = sold("RED", (1, "1.00")), sold("BLUE", (1, "1.00"))
    result = planned(problem(mat, tag, either, sheets=(red, blue), supplies=supplies))
    assert len(result.groups) == 1
    assert result.sources["piece:M"] == ("BLUE",)
    assert result.sources["piece:T"] == ("RED",)


def test_two_pieces_of_one_name_are_told_apart() -> None:
    twins = replace(TAG, name="Tag"), replace(LARGE_MAT, name="Tag")
    result = planned(problem(*twins, supplies=SOLD))
    assert {one.label for ticket in result.tickets for one in ticket.pieces} == {
        "Tag (piece:T)",
        "Tag (piece:M)",
    }
    assert result.made["piece:T"] >= 500


def test_sheets_that_are_there_are_used_before_any_is_bought() -> None:
    # 100 sheets do, and 100 are there: nothing is ordered, though the other sheet is cheap.
    supplies = sold("CARD", (1, "5.00"), in_time=100), sold("LARGE", (1, "1.00"))
    either = replace(LARGE_MAT, cut_from=("CARD", "LARGE")), replace(TAG, cut_from=("CARD", "LARGE"))
    result = planned(problem(*either, sheets=(SHEET, LARGE), supplies=supplies))
    assert {ticket.source for ticket in result.tickets} == {"CARD"}
    assert result.sheets == 100


def test_what_is_on_the_shelf_is_worth_something() -> None:
    supply = sold("CARD", (1, "0.50"), in_time=10, value_each=Decimal("0.40"))
    assert supply.outlay(0, 8).cost == Decimal("3.20")  # 8 x 0.40
    assert supply.outlay(8, 4).cost == Decimal("1.80")  # 2 x 0.40 + 2 x 0.50


def test_late_sheets_are_taken_only_for_pieces_that_need_them() -> None:
    # The large mat comes only out of the large sheet, which is late; the tags would fit beside it, but need not wait.
    mat = job("20", "20", 10, item="piece:M", name="Mat", cut_from=("LARGE",))
    tag = replace(TAG, count=20, cut_from=("LARGE", "CARD"))
    supplies = sold("CARD", (1, "1.00")), sold("LARGE", (1, "1.00"), is_late=True)
    result = planned(problem(mat, tag, sheets=(SHEET, LARGE), supplies=supplies))
    assert result.sources == {"piece:M": ("LARGE",), "piece:T": ("CARD",)}


def test_the_price_break_that_one_large_order_reaches_decides() -> None:
    # 60 sheets of either, in two papers or one: 60 of CARD cost 60 x 0.50 = 30.00; 30 + 30 would cost 30 + 24.
    a = job("6", "6", 120, item="piece:A", name="A", cut_from=("CARD", "OTHER"))
    b = job("6", "12", 60, item="piece:B", name="B", cut_from=("CARD", "OTHER"))
    other = replace(SHEET, material="OTHER", name="Other")
    supplies = sold("CARD", (1, "1.00"), (60, "0.50")), sold("OTHER", (1, "0.80"))
    result = planned(problem(a, b, sheets=(SHEET, other), supplies=supplies))
    assert {ticket.source for ticket in result.tickets} == {"CARD"}
    assert result.groups[0].choices[0].paper == Decimal("30.00")


def test_edges_are_trimmed_before_anything_else() -> None:
    # 12 x 12 in, 1/2 in off each edge: 11 x 11 in hold four of 5 1/2 x 5 1/2 in.
    trimmed = replace(SHEET, trim=INCH // 2)
    result = planned(problem(job("11/2", "11/2", 8), sheets=(trimmed,)))
    [ticket] = result.tickets
    assert (ticket.out, ticket.sheets) == (4, 2)
    assert ticket.lines[0].step.off.name == "edge trim"
    whole = SheetProblem(
        12 * INCH, 12 * INCH, (PieceSize("Piece", 11 * INCH // 2, 11 * INCH // 2),), EdgeTrim()
    )
    assert check(whole, ticket.tree) == ()


def test_the_same_question_has_the_same_answer() -> None:
    asked = problem(LARGE_MAT, TAG, job("3", "5", 77, item="piece:X", name="X"), supplies=SOLD, quick=True)
    assert plan_cutting.__wrapped__(asked) == plan_cutting.__wrapped__(asked)  # and not from memory


def test_what_the_search_is_asked_offers_the_shelf_first() -> None:
    supply = sold("CARD", (1, "2.00"), in_time=5, coming=3, whole=2)
    asked = pattern_problem(labels([LARGE_MAT]), [SHEET], {"CARD": supply}, Counter(CARD=10))
    assert [(one.name, one.available) for one in asked.problem.sheets] == [
        ("CARD, there", 3),
        ("CARD, on order", 3),
        ("CARD, bought", None),
    ]
    # 4 of 10 must be bought, at 2.00; the others count a thousandth of that
    prices = [one.price for one in asked.problem.sheets]
    assert prices == [Fraction(2, 1000), Fraction(2, 1000), 2]
    assert asked.cost({"CARD": 4}) == 4 * Fraction(2, 1000)
    assert asked.cost({"CARD": 8}) == 6 * Fraction(2, 1000) + 4


@pytest.mark.parametrize("quick", [True, False])
def test_a_large_sheet_is_cut_within_the_opening(quick: bool) -> None:
    board = replace(SHEET, width=28 * INCH, height=40 * INCH)
    jobs = LARGE_MAT, TAG, job("5", "13/2", 300, item="piece:C", name="Card")
    narrow = replace(TRIMMER, opening=29 * INCH)
    result = planned(problem(*jobs, sheets=(board,), supplies=SOLD, machine=narrow, quick=quick))
    assert max(line.step.height for ticket in result.tickets for line in ticket.lines) == 40 * INCH


sizes = st.tuples(st.integers(2, 16), st.integers(2, 16))


@settings(max_examples=examples(24), deadline=None)
@given(
    st.lists(st.tuples(sizes, st.integers(1, 60), st.sampled_from(Direction)), min_size=2, max_size=4),
    st.sampled_from([Grain.WIDTH, Grain.HEIGHT]),
    st.integers(0, 2),
    st.sampled_from([0, 20]),
)
def test_any_plan_passes_its_checker_and_is_no_worse_than_one_size_to_a_sheet(
    wanted: list[tuple[tuple[int, int], int, Direction]], grain: Grain, trim: int, shelf: int
) -> None:
    jobs = tuple(
        replace(
            job("1", "1", count, item=f"piece:{n}", name=f"P{n}", direction=direction),
            width=wide * INCH // 2,
            height=high * INCH // 2,
        )
        for n, ((wide, high), count, direction) in enumerate(wanted)
    )
    sheet = replace(SHEET, grain=grain, trim=trim * INCH // 4, width=13 * INCH, height=16 * INCH)
    asked = problem(
        *jobs,
        sheets=(sheet,),
        supplies=(sold("CARD", (1, "0.40"), in_time=shelf),),
        machine=TRIMMER,
        quick=True,
    )
    result = planned(asked)
    supplies = {one.material: one for one in asked.supplies}
    first, _ = alone(labels(jobs), asked)
    assert rank_of(result.tickets, supplies) <= rank_of(first, supplies)
    [group] = result.groups
    taken = [choice for choice in group.choices if choice.is_taken]
    assert [one.sheets for one in taken] == [result.sheets]
