"""What patterns mean at the guillotine, and plans that take less work."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from kits.guillotine import Cut, Direction, Offcut, Part, Piece, count_cuts, divide
from kits.guillotine.tree import Cause
from kits.measures import MM
from planning.cutting import Guillotine
from planning.cutting.patterns import (
    Effort,
    ParentSheet,
    Pattern,
    PatternProblem,
    Wanted,
    choices,
    minutes_of,
    plan_faults,
    work_of,
)

MACHINE = Guillotine(
    code="G",
    name="Guillotine",
    opening=1000 * MM,
    lift_height=50 * MM,
    minutes_per_lift=Decimal(4),
    minutes_per_cut=Decimal("0.5"),
    minutes_per_turn=Decimal("0.25"),
    cost_per_hour=Decimal(60),
)


def tag(width: int = 3, height: int = 4) -> Piece:
    return Piece("tag", width, height)


def strips() -> Cut:
    """12 x 12: three strips 4 wide, each cut into four tags."""
    strip = divide(Direction.LEVEL, [tag(4, 3)] * 4)
    return divide(Direction.UPRIGHT, [strip] * 3)


def pattern(tree: Part, count: int, thickness: Fraction | None) -> Pattern:
    return Pattern(
        sheet=ParentSheet(name="card", width=tree.width, height=tree.height, thickness=thickness),
        tree=tree,
        count=count,
    )


def test_strips_cut_alike_are_cut_as_one() -> None:
    # Two cuts part the strips; they lie side by side, so that three more cut them all: 5, not 2 + 3 x 3 = 11.
    assert MACHINE.cuts_and_turns(strips()) == (5, 1)
    assert count_cuts(strips()) == 11


def test_strips_cut_differently_are_cut_one_after_the_other() -> None:
    one, other = divide(Direction.LEVEL, [tag(4, 6)] * 2), divide(Direction.LEVEL, [tag(4, 3)] * 4)
    tree = divide(Direction.UPRIGHT, [one, other, one])

    assert MACHINE.cuts_and_turns(tree) == (2 + 1 + 3, 2)


def test_edge_trims_count_as_cuts() -> None:
    trim = Offcut(1, 12, Cause.EDGE_TRIM)
    tree = divide(Direction.UPRIGHT, [trim, *strips().parts])

    assert MACHINE.cuts_and_turns(tree)[0] == 6


def test_a_lift_is_as_high_as_the_machine_takes_and_the_last_one_has_the_rest() -> None:
    # 50 mm of 0.3 mm card: 166 sheets, as 167 are 50.1 mm. 400 sheets are 166 + 166 + 68.
    one = pattern(strips(), 400, Fraction(3 * MM, 10))
    work = work_of(one, MACHINE)

    assert (work.sheets_per_lift, work.lifts, work.last_lift) == (166, 3, 68)
    assert work.pieces_of(one) == ({"tag": 12 * 166}, {"tag": 12 * 68})
    # A lift takes 4 + 5 x 0.5 + 1 x 0.25 minutes; three of them 20.25, at 1 a minute.
    assert (work.minutes, work.cost) == (Decimal("20.25"), Decimal("20.25"))


def test_sheets_of_unknown_caliper_are_cut_one_at_a_time() -> None:
    assert work_of(pattern(strips(), 3, None), MACHINE).lifts == 3


def small_month() -> PatternProblem:
    sizes = [(70, 100, 500), (50, 80, 900), (40, 50, 700)]
    return PatternProblem(
        pieces=tuple(
            Wanted(name=f"mat {n}", width=w * MM, height=h * MM, count=c) for n, (w, h, c) in enumerate(sizes)
        ),
        sheets=(ParentSheet(name="card", width=400 * MM, height=600 * MM, thickness=Fraction(3 * MM, 10)),),
    )


@pytest.mark.parametrize("machine", [MACHINE, None])
def test_each_choice_costs_more_and_takes_less_work_than_the_one_before(machine: Guillotine | None) -> None:
    one = small_month()
    found = choices(one, machine, Effort(rounds=1, nodes=2))

    assert found
    for choice in found:
        assert plan_faults(one, choice.plan) == ()
        assert (choice.sheets, choice.patterns) == (choice.plan.sheets, len(choice.plan.patterns))
        if machine:
            assert choice.minutes == minutes_of(choice.plan, machine)
    work = [(choice.minutes or 0, choice.patterns) for choice in found]
    assert work == sorted(work, reverse=True)
    assert [choice.cost for choice in found] == sorted(choice.cost for choice in found)


def test_where_nothing_is_wanted_there_is_nothing_to_choose() -> None:
    nothing = replace(small_month(), pieces=())

    assert choices(nothing) == ()
