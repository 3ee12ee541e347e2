from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import Grain
from kits.guillotine import Cut, divide
from kits.guillotine import Direction as CutDirection
from kits.kit import Direction
from kits.measures import INCH, METRE, MM
from planning.cutting import (
    CuttingError,
    CuttingProblem,
    CuttingTicket,
    Guillotine,
    LengthJob,
    PieceJob,
    Roll,
    SheetStock,
    cutting_faults,
    plan_cutting,
)
from tests.support.effort import examples

SHEET = SheetStock(
    material="CARD",
    name="Card",
    width=12 * INCH,
    height=12 * INCH,
    thickness=Fraction(MM, 2),
    price=Fraction(3, 10),
)
TRIMMER = Guillotine(
    code="G",
    name="Guillotine",
    opening=20 * INCH,
    lift_height=50 * MM,
    minutes_per_lift=Decimal(2),
    minutes_per_cut=Decimal("0.5"),
    cost_per_hour=Decimal(30),
)


def inches(text: str) -> int:
    return int(Fraction(text) * INCH)


def job(width: str, height: str, count: int = 1000, **fields: object) -> PieceJob:
    plain = PieceJob(
        item="piece:P",
        name="Piece",
        width=inches(width),
        height=inches(height),
        count=count,
        cut_from=("CARD",),
    )
    return replace(plain, **fields)  # type: ignore[arg-type]


def plan(one: PieceJob, *sheets: SheetStock, machine: Guillotine = TRIMMER) -> CuttingTicket:
    problem = CuttingProblem(pieces=(one,), sheets=sheets or (SHEET,), guillotines=(machine,))
    result = plan_cutting(problem)
    assert cutting_faults(problem, result) == ()
    return result.tickets[0]


def test_fourteen_cards_come_out_of_a_twelve_inch_sheet_where_rows_and_columns_give_twelve() -> None:
    # computed table of best guillotine yields, exact dynamic programme
    ticket = plan(job("5/2", "7/2"))
    assert (ticket.out, ticket.proved) == (14, True)
    assert (ticket.sheets, ticket.made, ticket.spare) == (72, 1008, 8)  # 1,000 / 14 = 71.4


@pytest.mark.parametrize(
    ("grain", "direction", "out"),
    [
        # Computed: 25 x 38 in grain long into 8.5 x 11 in with the grain along 11 -> 6; ignoring the grain -> 8
        (Grain.HEIGHT, Direction.GRAIN_ALONG_HEIGHT, 6),
        (Grain.HEIGHT, Direction.ANY, 8),
        (Grain.HEIGHT, Direction.GRAIN_ALONG_WIDTH, 8),
        (Grain.WIDTH, Direction.GRAIN_ALONG_HEIGHT, 8),
        (Grain.NONE, Direction.NOT_TURNED, 6),
    ],
)
def test_the_grain_decides_which_way_a_piece_may_lie(grain: Grain, direction: Direction, out: int) -> None:
    parent = replace(SHEET, width=25 * INCH, height=38 * INCH, grain=grain)
    wide = replace(TRIMMER, opening=40 * INCH)
    assert plan(job("17/2", "11", direction=direction), parent, machine=wide).out == out


@pytest.mark.parametrize(
    ("caliper", "sheets"),
    [  # exact fractions of an inch and a half; 0.0075, 0.010 and 0.015 divide it and catch a floor in floating point
        ("0.0075", 200),
        ("0.0091", 164),
        ("0.0095", 157),
        ("0.010", 150),
        ("0.0114", 131),
        ("0.0138", 108),
        ("0.015", 100),
    ],
)
def test_a_lift_holds_as_many_sheets_as_its_height_takes(caliper: str, sheets: int) -> None:
    thick = replace(SHEET, thickness=Fraction(caliper) * INCH)
    low = replace(TRIMMER, lift_height=inches("3/2"))
    assert plan(job("3", "4"), thick, machine=low).sheets_per_lift == sheets


def test_lifts_cuts_and_minutes_follow_the_machines_own_figures() -> None:
    # 12 out of 12 x 12 in; 2,500 pieces need 209 sheets: two lifts of 100 and one of 9
    ticket = plan(job("3", "4", count=2400, overs=100))
    assert (ticket.out, ticket.sheets, ticket.sheets_per_lift, ticket.lifts) == (12, 209, 100, 3)
    assert (
        ticket.cuts_per_lift == 11
    )  # two or three cuts into strips, then each strip: always pieces less one
    assert ticket.minutes == 3 * (2 + 11 * Decimal("0.5"))
    assert ticket.cost == Decimal("11.25")  # 22.5 minutes at 30 an hour


def test_a_sheet_whose_caliper_nobody_knows_is_cut_one_at_a_time() -> None:
    assert plan(job("3", "4"), replace(SHEET, thickness=None)).sheets_per_lift == 1


def test_the_sheet_that_costs_least_for_the_whole_job_is_taken() -> None:
    # 1,000 pieces of 3 x 4: 84 sheets at 0.30 = 25.20, or 21 of 24 x 24 at 1.10 = 23.10 plus more knife time
    large = replace(
        SHEET, material="LARGE", name="Large", width=24 * INCH, height=24 * INCH, price=Fraction(11, 10)
    )
    either = job("3", "4", cut_from=("CARD", "LARGE"))
    wide = replace(TRIMMER, opening=30 * INCH)
    assert plan(either, SHEET, large, machine=replace(wide, cost_per_hour=Decimal(0))).sheet == large
    assert plan(either, SHEET, large, machine=replace(wide, cost_per_hour=Decimal(60))).sheet == SHEET


def test_a_guillotine_too_narrow_for_the_sheet_is_not_used() -> None:
    with pytest.raises(CuttingError, match="no guillotine takes that sheet"):
        plan(job("3", "4"), machine=replace(TRIMMER, opening=11 * INCH))


@pytest.mark.parametrize(
    "impossible",
    [
        job("13", "1"),
        job("11", "3", direction=Direction.GRAIN_ALONG_WIDTH),  # the sheet's grain is not known
    ],
)
def test_a_piece_that_cannot_come_out_is_refused_with_what_was_tried(impossible: PieceJob) -> None:
    with pytest.raises(CuttingError, match=r"does not come out of Card \(12 in x 12 in\)"):
        plan(impossible)


def test_nothing_wanted_is_nothing_cut() -> None:
    result = plan_cutting(
        CuttingProblem(pieces=(job("3", "4", count=0),), sheets=(SHEET,), guillotines=(TRIMMER,))
    )
    assert result.tickets == ()


def test_lengths_come_from_single_rolls_never_from_their_pooled_length() -> None:
    # recomputed: ten rolls of 10 yd into 14 in lengths give 25 each, 250 in all; the pooled length says 257
    ribbon = LengthJob(item="length:R", name="Ribbon", length=14 * INCH, count=250, cut_from="R")
    problem = CuttingProblem(
        pieces=(), lengths=(ribbon,), rolls=(Roll(material="R", name="Ribbon", length=360 * INCH),)
    )
    (ticket,) = plan_cutting(problem).lengths
    assert (ticket.out, ticket.rolls) == (25, 10)
    more = replace(problem, lengths=(replace(ribbon, count=257),))
    assert plan_cutting(more).lengths[0].rolls == 11


def test_a_strip_of_54_inches_yields_24_pieces_of_two_and_a_quarter() -> None:
    # Lial, Basic College Mathematics 10e, p. 194 no. 20 (read at gradesaver)
    strip = LengthJob(item="length:S", name="Strip", length=inches("9/4"), count=1, cut_from="S")
    problem = CuttingProblem(
        pieces=(), lengths=(strip,), rolls=(Roll(material="S", name="Strip", length=54 * INCH),)
    )
    assert plan_cutting(problem).lengths[0].out == 24


def test_a_length_longer_than_its_roll_is_refused() -> None:
    long = LengthJob(item="length:R", name="Ribbon", length=11 * METRE, count=1, cut_from="R")
    problem = CuttingProblem(
        pieces=(), lengths=(long,), rolls=(Roll(material="R", name="Reed", length=10 * METRE),)
    )
    with pytest.raises(CuttingError, match="longer than a roll of Reed"):
        plan_cutting(problem)


def checked(ticket: CuttingTicket) -> tuple[str, ...]:
    problem = CuttingProblem(pieces=(ticket.job,), sheets=(ticket.sheet,), guillotines=(ticket.machine,))
    result = plan_cutting(problem)
    return cutting_faults(problem, replace(result, tickets=(ticket,)))


def test_the_checker_sees_a_ticket_that_promises_too_much() -> None:
    good = plan(job("3", "4"))
    assert "the drawing holds 12 pieces, the ticket says 13" in checked(replace(good, out=13))[0]
    assert "1000 wanted, 996 cut" in checked(replace(good, sheets=83))[0]
    assert "is higher than Guillotine is set for" in checked(replace(good, sheets_per_lift=101))[0]


def test_the_checker_sees_a_tree_that_is_no_tree_of_the_sheet() -> None:
    good = plan(job("3", "4"))
    assert isinstance(good.tree, Cut)
    half = divide(CutDirection.LEVEL, good.tree.parts[:-1])
    assert checked(replace(good, tree=half))


def test_the_checker_sees_a_piece_with_its_grain_the_wrong_way() -> None:
    good = plan(job("3", "5", direction=Direction.GRAIN_ALONG_WIDTH), replace(SHEET, grain=Grain.WIDTH))
    turned = replace(good, sheet=replace(SHEET, grain=Grain.HEIGHT))
    assert any("wrong way" in fault for fault in checked(turned))


eighths = st.integers(8, 96).map(lambda eighth: eighth * INCH // 8)


@settings(max_examples=examples(60), deadline=None)
@given(
    eighths,
    eighths,
    st.integers(1, 3000),
    st.sampled_from(Direction),
    st.sampled_from([Grain.WIDTH, Grain.HEIGHT]),
)
def test_any_ticket_passes_its_checker_and_wastes_less_than_a_sheet(
    width: int, height: int, count: int, direction: Direction, grain: Grain
) -> None:
    asked = replace(job("1", "1", count=count, direction=direction), width=width, height=height)
    ticket = plan(asked, replace(SHEET, grain=grain))
    assert 0 <= ticket.spare < ticket.out
    area_bound = (12 * INCH) ** 2 // (width * height)
    assert 1 <= ticket.out <= area_bound
