"""What was cut so far, by hand: a ticket of 10 sheets that yield 6 cards each, 50 good ones needed."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.balance import Booked, CutSoFar, cut_so_far
from planning.cutting import CuttingProblem, CuttingResult, LengthJob, Roll, plan_cutting
from tests.cutting.test_cutting import SHEET, TRIMMER, job


@pytest.fixture(scope="module")
def cutting() -> CuttingResult:
    card = job("4", "6", count=50, overs=8, item="piece:CARD", name="Card")
    ribbon = LengthJob(item="length:R", name="Ribbon", length=2, count=7, cut_from="R")
    return plan_cutting(
        CuttingProblem(
            pieces=(card,),
            lengths=(ribbon,),
            sheets=(SHEET,),
            rolls=(Roll(material="R", name="Reed", length=10),),
            guillotines=(TRIMMER,),
        )
    )


def of_card(cutting: CuttingResult, good: int, spoiled: int) -> CutSoFar:
    [card, _] = cut_so_far(cutting, {"piece:CARD": Booked(good, spoiled)})
    return card


def test_before_anything_is_booked_all_is_still_to_cut(cutting: CuttingResult) -> None:
    card, ribbon = cut_so_far(cutting, {})
    assert (card.planned, card.to_cut, card.short, card.spoilage) == (60, 60, 0, None)
    assert (ribbon.planned, ribbon.needed, ribbon.to_cut) == (7, 7, 7)


def test_the_ticket_spares_what_is_spoiled_up_to_its_overs(cutting: CuttingResult) -> None:
    # 60 planned, 50 needed: 10 may be spoiled.
    card = of_card(cutting, 32, 10)
    assert (card.to_cut, card.short, card.more_sheets) == (18, 0, 0)
    assert card.spoilage == Fraction(10, 42)


def test_one_more_spoiled_and_a_sheet_must_be_cut_besides(cutting: CuttingResult) -> None:
    card = of_card(cutting, 32, 11)
    assert (card.to_cut, card.short, card.more_sheets) == (17, 1, 1)
    late = of_card(cutting, 40, 20)
    assert (late.to_cut, late.short, late.more_sheets) == (0, 10, 2)  # 10 / 6, rounded up


def test_sheets_cut_beyond_the_ticket_leave_nothing_to_cut(cutting: CuttingResult) -> None:
    card = of_card(cutting, 66, 3)
    assert (card.to_cut, card.short) == (0, 0)


@given(st.integers(0, 80), st.integers(0, 80))
def test_what_is_short_is_made_good_by_that_many_sheets(good: int, spoiled: int) -> None:
    card = CutSoFar(item="c", name="c", needed=50, planned=60, good=good, spoiled=spoiled, out=6)
    assert card.good + card.to_cut + 6 * card.more_sheets >= 50
    assert card.short == 0 or card.good + card.to_cut + 6 * (card.more_sheets - 1) < 50
