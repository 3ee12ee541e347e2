"""Short supply: who gets what there is, who a substitute, and which boxes exactly."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.allocation import (
    AllocationError,
    AllocationProblem,
    AllocationResult,
    Boxes,
    BoxGroup,
    Got,
    Rule,
    ShortMaterial,
    Substitute,
    Uses,
    allocation_faults,
    plan_allocation,
)
from tests.support.effort import examples

WITHOUT = (Got(material="BUTTON", is_without=True),)
SHELLS = (Got(material="BUTTON", instead="SHELL"),)


def group(code: str, tier: str, boxes: int, joined: date | None = None, **uses: int) -> BoxGroup:
    return BoxGroup(
        code=code,
        tier=tier,
        boxes=boxes,
        joined=joined,
        uses=tuple(Uses(material=name, each=each) for name, each in uses.items()),
    )


# FULL holds 3 buttons, HALF 2. 10 + 4 FULL boxes and 6 HALF: 14 x 3 + 6 x 2 = 54 wanted, 40 there.
PROBLEM = AllocationProblem(
    rule=Rule.TIER,
    tiers=("FULL", "HALF"),
    groups=(
        group("full, 2024", "FULL", 10, date(2024, 5, 1), BUTTON=3),
        group("full, 2026", "FULL", 4, date(2026, 1, 9), BUTTON=3),
        group("half, founders", "HALF", 6, None, BUTTON=2),
        group("half, no buttons", "HALF", 9, None, CARD=1),
    ),
    short=(ShortMaterial(material="BUTTON", name="Leaf button", available=40),),
)


def fates(problem: AllocationProblem) -> dict[tuple[str, int, int], tuple[Got, ...]]:
    """Return the checked answer: group, first and last box -> what differs."""
    result = plan_allocation(problem)
    assert allocation_faults(problem, result) == ()
    return {(one.group, one.first, one.last): one.got for one in result.boxes}


def test_by_tier_the_first_tier_is_served_first_and_within_it_who_joined_first() -> None:
    # 13 FULL boxes take 39; the one button left is too little for a HALF box
    assert fates(PROBLEM) == {
        ("full, 2024", 1, 10): (),
        ("full, 2026", 1, 3): (),
        ("full, 2026", 4, 4): WITHOUT,
        ("half, founders", 1, 6): WITHOUT,
    }


def test_what_is_too_little_for_one_goes_on_to_the_next_that_needs_less() -> None:
    short = (ShortMaterial(material="BUTTON", name="Leaf button", available=41),)
    result = plan_allocation(replace(PROBLEM, short=short))
    # 13 FULL boxes take 39, and the 2 left fill one HALF box
    [outcome] = result.materials
    assert (outcome.wanted, outcome.served, outcome.without, outcome.unused) == (54, 14, 6, 0)
    assert (result.whole, result.changed, result.lacking) == (14, 0, 6)


def test_by_joining_date_founding_members_come_first() -> None:
    # 6 HALF take 12; 28 are left for 9 of the 10 who joined in 2024 (27)
    assert fates(replace(PROBLEM, rule=Rule.JOINED)) == {
        ("half, founders", 1, 6): (),
        ("full, 2024", 1, 9): (),
        ("full, 2024", 10, 10): WITHOUT,
        ("full, 2026", 1, 4): WITHOUT,
    }


def test_evenly_every_tier_has_the_same_share() -> None:
    # 40 x 42/54 = 31.1 and 40 x 12/54 = 8.9: 31 and 9 units by largest remainder; 10 FULL (30), 4 HALF (8); 2 are left,
    # too little for a FULL box and enough for a fifth HALF one
    assert fates(replace(PROBLEM, rule=Rule.EVEN)) == {
        ("full, 2024", 1, 10): (),
        ("full, 2026", 1, 4): WITHOUT,
        ("half, founders", 1, 5): (),
        ("half, founders", 6, 6): WITHOUT,
    }


def test_substitutes_go_to_who_is_left_by_the_same_rule() -> None:
    # two shells for a button: 20 shells fill 3 FULL boxes with 6 each, so the last FULL box (6) and 3 HALF ones (4 each)
    shells = Substitute(
        material="BUTTON", instead="SHELL", name="Shell", available=20, per=2, changes=("2 for 1",)
    )
    problem = replace(PROBLEM, substitutes=(shells,))
    assert fates(problem) == {
        ("full, 2024", 1, 10): (),
        ("full, 2026", 1, 3): (),
        ("full, 2026", 4, 4): SHELLS,
        ("half, founders", 1, 3): SHELLS,
        ("half, founders", 4, 6): WITHOUT,
    }
    result = plan_allocation(problem)
    assert (result.whole, result.changed, result.lacking) == (13, 4, 3)
    assert result.materials[0].instead == (("SHELL", 4),)


def test_who_goes_without_one_thing_goes_without_the_next_too() -> None:
    # 4 of 6 boxes get a ribbon and 5 a tag: boxes 1 to 4 are whole, 2 are affected and not 3
    problem = AllocationProblem(
        rule=Rule.JOINED,
        tiers=("FULL",),
        groups=(group("all", "FULL", 6, RIBBON=1, TAG=2),),
        short=(
            ShortMaterial(material="RIBBON", name="Ribbon", available=4),
            ShortMaterial(material="TAG", name="Tag", available=11),
        ),
    )
    assert fates(problem) == {
        ("all", 1, 4): (),
        ("all", 5, 5): (Got(material="RIBBON", is_without=True),),
        ("all", 6, 6): (
            Got(material="RIBBON", is_without=True),
            Got(material="TAG", is_without=True),
        ),
    }


def test_a_substitute_of_two_materials_is_given_out_once() -> None:
    problem = AllocationProblem(
        rule=Rule.TIER,
        tiers=("FULL",),
        groups=(group("all", "FULL", 3, RIBBON=1, TWINE=1),),
        short=(
            ShortMaterial(material="RIBBON", name="Ribbon", available=1),
            ShortMaterial(material="TWINE", name="Twine", available=1),
        ),
        substitutes=(
            Substitute(material="RIBBON", instead="CORD", name="Cord", available=3),
            Substitute(material="TWINE", instead="CORD", name="Cord", available=3),
        ),
    )
    result = plan_allocation(problem)
    assert allocation_faults(problem, result) == ()
    assert [one.instead for one in result.materials] == [(("CORD", 2),), (("CORD", 1),)]


def test_where_nothing_is_short_nobody_is_affected() -> None:
    result = plan_allocation(replace(PROBLEM, short=()))
    assert (result.boxes, result.affected) == ((), ())


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"tiers": ("FULL",)}, "HALF is not among the tiers"),
        ({"tiers": ("FULL", "HALF", "FULL")}, "two tiers with one code: FULL"),
        ({"groups": (*PROBLEM.groups, PROBLEM.groups[0])}, "two groups with one code: full, 2024"),
        ({"groups": (group("x", "FULL", -1),)}, "x: no count is negative"),
        (
            {"substitutes": (Substitute(material="CARD", instead="X", name="X", available=1),)},
            "X cannot stand in for CARD",
        ),
        (
            {"substitutes": (Substitute(material="BUTTON", instead="X", name="X", available=1, per=0),)},
            "X for BUTTON: at least 1 for one",
        ),
    ],
)
def test_questions_that_do_not_hold_together_are_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(AllocationError, match=said):
        replace(PROBLEM, **change)


days = st.none() | st.dates(date(2020, 1, 1), date(2020, 3, 1))


@st.composite
def questions(draw: st.DrawFn) -> AllocationProblem:
    """Draw boxes of three tiers that hold up to three short materials."""
    groups = tuple(
        group(
            f"G{number}",
            draw(st.sampled_from("ABC")),
            draw(st.integers(0, 20)),
            draw(days),
            **{name: draw(st.integers(0, 4)) for name in ("X", "Y", "Z")},
        )
        for number in range(draw(st.integers(1, 6)))
    )
    short = tuple(
        ShortMaterial(material=name, name=name, available=draw(st.integers(0, 120))) for name in ("X", "Y")
    )
    substitutes = tuple(
        Substitute(
            material=draw(st.sampled_from("XY")),
            instead=instead,
            name=instead,
            available=draw(st.integers(0, 60)),
            per=draw(st.integers(1, 3)),
        )
        for instead in draw(st.lists(st.sampled_from(["P", "Q"]), max_size=2, unique=True))
    )
    rule = draw(st.sampled_from(Rule))
    return AllocationProblem(
        rule=rule, tiers=("A", "B", "C"), groups=groups, short=short, substitutes=substitutes
    )


@settings(max_examples=examples(400))
@given(questions())
def test_the_rule_is_kept_and_every_box_told_of(problem: AllocationProblem) -> None:
    result = plan_allocation(problem)
    assert allocation_faults(problem, result) == ()
    told = sum(one.count for one in result.boxes)
    assert told == result.whole + result.changed + result.lacking


def spoilt(result: AllocationResult, **change: Any) -> AllocationResult:
    return replace(result, boxes=(replace(result.boxes[0], **change), *result.boxes[1:]))


def test_the_checker_sees_what_is_wrong() -> None:
    result = plan_allocation(PROBLEM)
    for wrong, said in (
        (spoilt(result, last=9), "9 of 10 boxes are told of"),
        (spoilt(result, got=WITHOUT), "goes without BUTTON"),
        (replace(result, boxes=result.boxes[:-1]), "0 of 6 boxes are told of"),
        (
            replace(
                result,
                boxes=(
                    *result.boxes[:2],
                    Boxes(group="full, 2026", first=4, last=4, got=()),
                    result.boxes[3],
                ),
            ),
            "42 are given out of 40",
        ),
    ):
        assert any(said in fault for fault in allocation_faults(PROBLEM, wrong)), said
