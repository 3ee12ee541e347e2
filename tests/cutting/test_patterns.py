"""Many sizes from several sheets: the cheapest plan and its proof."""

import json
import os
import random
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import Grain
from kits.guillotine import EdgeTrim
from kits.kit import Direction
from planning.cutting.patterns import (
    QUICK,
    Effort,
    Ended,
    ParentSheet,
    PatternPlan,
    PatternProblem,
    Rules,
    Wanted,
    WantedTooLargeError,
    improve,
    plan_faults,
    plan_patterns,
)
from planning.cutting.patterns.bound import Offer, lower_bound, rounded_up, steps_of
from tests.support.effort import examples

CASES = "PUBLISHED_CUTTING_CASES"
LITTLE = Effort(sums=20_000_000, rounds=1, nodes=2, swaps=10)


def wanted(name: str, width: int, height: int, count: int, direction: Direction = Direction.ANY) -> Wanted:
    return Wanted(name=name, width=width, height=height, count=count, direction=direction)


def problem(*pieces: Wanted, sheets: tuple[ParentSheet, ...] = ()) -> PatternProblem:
    return PatternProblem(pieces=pieces, sheets=sheets or (ParentSheet(name="sheet", width=10, height=10),))


# -- worked by hand ------------------------------------------------------------------------------------------------


def test_two_sizes_that_fill_a_sheet_only_together_are_cut_from_the_same_sheets() -> None:
    # 6 x 10 and 4 x 10 fill 10 x 10. Alone, a sheet yields one of the first or two of the second: 5 + 3 = 8 sheets.
    # Together 5: each holds one of the first. No plan has fewer, as no sheet holds two of the first.
    one = problem(wanted("cover", 6, 10, 5), wanted("flap", 4, 10, 5))

    plan = plan_patterns(one)

    assert (plan.sheets, plan.bound, plan.ended) == (5, Fraction(5), Ended.PROVED)
    assert plan_faults(one, plan) == ()
    assert (plan.made, plan.surplus, plan.missing) == ({"cover": 5, "flap": 5}, {}, {})


def test_the_bound_takes_half_sheets_as_whole_ones() -> None:
    # 9 squares of 5 come four to a sheet: 2 1/4 sheets, so 3.
    plan = plan_patterns(problem(wanted("square", 5, 5, 9)))

    assert (plan.sheets, plan.bound, plan.surplus) == (3, Fraction(3), {"square": 3})


def test_the_cheapest_of_several_sheets_is_found_even_if_mixed() -> None:
    # Five squares of 5: a sheet for 4 costs 30, a strip for 1 costs 10. 4 + 1 cost 40; two sheets 60; strips 50.
    sheets = (
        ParentSheet(name="sheet", width=10, height=10, price=Fraction(30)),
        ParentSheet(name="strip", width=5, height=5, price=Fraction(10)),
    )

    plan = plan_patterns(problem(wanted("square", 5, 5, 5), sheets=sheets))

    assert (plan.cost, plan.bound, plan.ended) == (Fraction(40), Fraction(40), Ended.PROVED)


def test_too_few_sheets_give_the_most_that_can_be_cut_and_what_is_missing() -> None:
    sheets = (ParentSheet(name="sheet", width=10, height=10, available=2),)
    one = problem(wanted("square", 5, 5, 9), sheets=sheets)

    plan = plan_patterns(one)

    assert (plan.sheets, plan.missing, plan.ended) == (2, {"square": 1}, Ended.SHORT)
    assert plan_faults(one, plan) == ()


def test_sheets_that_run_out_are_made_up_for_by_dearer_ones() -> None:
    # 12 squares: of the sheets at 1 there are two, for 8; the other 4 take one at 5. 7 in all.
    sheets = (
        ParentSheet(name="left over", width=10, height=10, price=Fraction(1), available=2),
        ParentSheet(name="new", width=10, height=10, price=Fraction(5)),
    )

    plan = plan_patterns(problem(wanted("square", 5, 5, 12), sheets=sheets))

    assert (plan.cost, plan.bound) == (Fraction(7), Fraction(7))
    assert not plan.missing


def test_a_piece_lies_with_its_grain_on_each_sheet() -> None:
    # 6 x 3, grain along its width: on a sheet 6 x 9 with the grain along its width three, along its height none as given,
    # turned 3 x 6 two (6 // 3 across, 9 // 6 down).
    piece = wanted("tag", 6, 3, 6, Direction.GRAIN_ALONG_WIDTH)
    along = ParentSheet(name="along", width=6, height=9, grain=Grain.WIDTH)
    across = ParentSheet(name="across", width=6, height=9, grain=Grain.HEIGHT)

    assert plan_patterns(problem(piece, sheets=(along,))).sheets == 2
    assert plan_patterns(problem(piece, sheets=(across,))).sheets == 3


def test_a_sheet_that_states_no_grain_is_not_cut_for_a_piece_that_asks_for_one() -> None:
    with pytest.raises(WantedTooLargeError, match="grain not stated"):
        problem(wanted("tag", 6, 3, 6, Direction.GRAIN_ALONG_WIDTH))


# -- bad input -----------------------------------------------------------------------------------------------------


def test_all_pieces_too_large_for_every_sheet_are_named_at_once() -> None:
    with pytest.raises(WantedTooLargeError) as raised:
        problem(wanted("door", 11, 2, 1), wanted("tag", 2, 2, 1), wanted("lid", 2, 11, 1))

    assert raised.value.names == ("door", "lid")
    assert "door" in str(raised.value)


def test_a_piece_may_be_too_large_only_because_of_the_edge_trim_or_the_grain() -> None:
    trimmed = ParentSheet(name="sheet", width=10, height=10, edge_trim=EdgeTrim(left=1))
    long = ParentSheet(name="long", width=20, height=5, grain=Grain.WIDTH)

    with pytest.raises(WantedTooLargeError, match="whole"):
        problem(wanted("whole", 10, 10, 1), sheets=(trimmed,))
    with pytest.raises(WantedTooLargeError, match="strip"):
        problem(wanted("strip", 20, 5, 1, Direction.GRAIN_ALONG_HEIGHT), sheets=(long,))


def test_a_piece_of_which_none_is_wanted_is_not_in_the_way() -> None:
    plan = plan_patterns(problem(wanted("door", 99, 99, 0), wanted("tag", 5, 5, 4)))

    assert (plan.sheets, plan.made) == (1, {"tag": 4})


def test_where_nothing_is_wanted_nothing_is_cut() -> None:
    plan = plan_patterns(problem(wanted("tag", 5, 5, 0)))

    assert (plan.patterns, plan.cost, plan.ended) == ((), Fraction(0), Ended.PROVED)


def test_two_pieces_with_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="two pieces with one name: tag"):
        problem(wanted("tag", 5, 5, 1), wanted("tag", 4, 4, 1))


def test_pieces_so_small_that_a_measure_must_be_wrong_are_named() -> None:
    large = ParentSheet(name="sheet", width=1000, height=1000)

    with pytest.raises(ValueError, match=r"65,535 .*: dot, .*Check their measures"):
        problem(wanted("dot", 3, 5, 1), wanted("tag", 4, 4, 1), sheets=(large,))


def test_a_million_of_each_is_no_harder() -> None:
    plan = plan_patterns(problem(wanted("cover", 6, 10, 1_000_000), wanted("flap", 4, 10, 1_000_000)))

    assert (plan.sheets, plan.bound) == (1_000_000, Fraction(1_000_000))


def test_the_first_plan_of_three_hundred_sizes_comes_at_once_and_a_little_effort_betters_it() -> None:
    pieces = [
        wanted(str(n), 30 + n * 7 % 100, 20 + n * 13 % 90, 1 + n % 9, Direction.NOT_TURNED)
        for n in range(300)
    ]
    one = problem(*pieces, sheets=(ParentSheet(name="sheet", width=200, height=250),))

    first, *_, last = improve(one, Effort(sums=1, rounds=1, nodes=1))

    assert plan_faults(one, first) == plan_faults(one, last) == ()
    assert last.bound <= last.cost < first.cost
    assert last.bound > 0


def test_sheets_without_a_price_are_used_sparingly_and_cost_nothing() -> None:
    free = (ParentSheet(name="sheet", width=10, height=10, price=Fraction(0)),)

    plan = plan_patterns(problem(wanted("cover", 6, 10, 5), wanted("flap", 4, 10, 5), sheets=free))

    assert (plan.sheets, plan.cost, plan.bound) == (5, Fraction(0), Fraction(0))


def test_rules_of_the_machine_are_kept() -> None:
    one = PatternProblem(
        pieces=(wanted("a", 5, 4, 30), wanted("b", 3, 3, 50)),
        sheets=(ParentSheet(name="sheet", width=20, height=20),),
        rules=Rules(spacing=1, stages=2, smallest_strip=3),
    )

    assert plan_faults(one, plan_patterns(one, LITTLE)) == ()


def test_a_fine_ruler_is_no_excuse_for_a_loose_bound_where_stages_are_limited() -> None:
    # More points than are looked at for a good pattern, and the bound by area alone is lower.
    dice = random.Random(21)  # noqa: S311
    sizes = [(dice.randint(40, 200), dice.randint(40, 200), 1000 * dice.randint(1, 3)) for _ in range(9)]
    one = PatternProblem(
        pieces=tuple(wanted(str(number), *size) for number, size in enumerate(sizes)),
        sheets=(ParentSheet(name="sheet", width=640, height=900),),
        rules=Rules(stages=3),
    )
    area = sum(width * height * count for width, height, count in sizes)

    plan = plan_patterns(one, Effort(rounds=2, dives=0))

    assert plan_faults(one, plan) == ()
    assert plan.bound > Fraction(area, 640 * 900) + 1
    assert plan.gap < Fraction(1, 200)


# -- published -----------------------------------------------------------------------------------------------------


@pytest.mark.skipif(CASES not in os.environ, reason=f"no published cases: {CASES} names no file")
@pytest.mark.parametrize("name", ["gcut1d", "gcut5d", "gcut9d", "gcut10d", "gcut12d"])
def test_published_cases_are_cut_from_the_fewest_sheets(name: str) -> None:
    # Cintra, Miyazawa, Wakabayashi, Xavier, Eur. J. Oper. Res. 191 (2008) 61-85; the file names its sources.
    case = next(
        each for each in json.loads(Path(os.environ[CASES]).read_text())["cases"] if each["name"] == name
    )
    one = published(case)

    plan = plan_patterns(one)

    assert (plan.sheets, plan.ended) == (case["optimum"], Ended.PROVED)
    assert plan_faults(one, plan) == ()


def published(case: Any) -> PatternProblem:
    return PatternProblem(
        pieces=tuple(
            wanted(str(n), each["width"], each["height"], each["demand"], Direction.NOT_TURNED)
            for n, each in enumerate(case["pieces"])
        ),
        sheets=(ParentSheet(name="sheet", width=case["sheet"]["width"], height=case["sheet"]["height"]),),
    )


# -- properties ----------------------------------------------------------------------------------------------------


@st.composite
def problems(draw: st.DrawFn) -> PatternProblem:
    trim = draw(st.sampled_from([EdgeTrim(), EdgeTrim(1, 0, 2, 1)]))
    sheets = tuple(
        ParentSheet(
            name=f"sheet {number}",
            width=draw(st.integers(15, 30)),
            height=draw(st.integers(15, 30)),
            price=Fraction(draw(st.integers(1, 9)), 2),
            available=draw(st.sampled_from([None, None, 3])),
            grain=draw(st.sampled_from([Grain.WIDTH, Grain.HEIGHT])),
            edge_trim=trim,
        )
        for number in range(draw(st.integers(1, 3)))
    )
    pieces = tuple(
        Wanted(
            name=f"piece {number}",
            width=draw(st.integers(4, 12)),
            height=draw(st.integers(4, 12)),
            count=draw(st.integers(0, 25)),
            direction=draw(st.sampled_from(list(Direction))),
        )
        for number in range(draw(st.integers(1, 5)))
    )
    return PatternProblem(pieces=pieces, sheets=sheets, rules=Rules(spacing=draw(st.integers(0, 1))))


@given(problems())
@settings(max_examples=examples(40), deadline=None)
def test_every_plan_on_the_way_passes_the_checker_and_none_is_worse_than_the_one_before(
    one: PatternProblem,
) -> None:
    plans = list(improve(one, LITTLE))

    for plan in plans:
        assert plan_faults(one, plan) == ()
    if not any(plan.missing for plan in plans):
        assert all(later.cost <= plan.cost for plan, later in pairwise(plans))
        assert max(plan.bound for plan in plans) <= min(plan.cost for plan in plans)


@given(problems())
@settings(max_examples=examples(16), deadline=None)
def test_a_quick_plan_is_told_on_the_way_to_a_better_one(one: PatternProblem) -> None:
    told: list[PatternPlan] = []
    last = plan_patterns(one, QUICK, told.append)

    assert told[-1] == last
    assert plan_faults(one, last) == ()
    if not any(plan.missing for plan in told):
        assert last.cost == min(plan.cost for plan in told)
        assert last.bound == max(plan.bound for plan in told)


@given(problems())
@settings(max_examples=examples(20), deadline=None)
def test_the_same_question_has_the_same_answer(one: PatternProblem) -> None:
    assert plan_patterns(one, LITTLE) == plan_patterns(one, LITTLE)


@given(problems())
@settings(max_examples=examples(40), deadline=None)
def test_turning_allowed_is_never_dearer_and_twice_the_demand_never_costs_more_than_twice(
    one: PatternProblem,
) -> None:
    one = replace(one, sheets=unlimited(one))
    turned = replace(one, pieces=tuple(replace(piece, direction=Direction.ANY) for piece in one.pieces))
    twice = replace(one, pieces=tuple(replace(piece, count=2 * piece.count) for piece in one.pieces))
    plan = plan_patterns(one, LITTLE)

    assert plan_patterns(turned, LITTLE).bound <= plan.cost
    if is_proved(plan) and is_proved(other := plan_patterns(turned, LITTLE)):
        assert other.cost <= plan.cost
    if is_proved(plan) and is_proved(other := plan_patterns(twice, LITTLE)):
        assert other.cost <= 2 * plan.cost


@given(problems())
@settings(max_examples=examples(20), deadline=None)
def test_more_stages_are_never_dearer(one: PatternProblem) -> None:
    plans = [
        plan_patterns(replace(one, sheets=unlimited(one), rules=Rules(stages=stages)), LITTLE)
        for stages in (2, 3, None)
    ]

    for fewer, more in pairwise(plans):
        assert more.bound <= fewer.cost
        if is_proved(fewer) and is_proved(more):
            assert more.cost <= fewer.cost


def unlimited(one: PatternProblem) -> tuple[ParentSheet, ...]:
    return tuple(replace(sheet, available=None) for sheet in one.sheets)


def is_proved(plan: PatternPlan) -> bool:
    return plan.ended is Ended.PROVED


@given(st.lists(st.tuples(st.integers(1, 20), st.integers(1, 9), st.integers(0, 3)), min_size=1, max_size=3))
def test_the_bound_is_that_of_the_dual_programme(rows: list[tuple[int, int, int]]) -> None:
    # All is worth 30. Any t with no gain from a sheet of any number is allowed; none tried by hand may be better.
    offers = [Offer(most, Fraction(price), number or None) for most, price, number in [(3, 9, 0), *rows]]
    bound = lower_bound(30, offers)

    for tenths in range(200):
        times = Fraction(tenths, 10)
        gains = [(o.available, max(Fraction(0), times * o.most - o.price)) for o in offers]
        if not any(gain and number is None for number, gain in gains):
            assert bound >= times * 30 - sum((number or 0) * gain for number, gain in gains)


def test_a_bound_is_rounded_up_to_what_sheets_can_cost() -> None:
    # 0.40 and 0.60 give multiples of 0.20: above 1.30 the next is 1.40.
    step = steps_of([Fraction(2, 5), Fraction(3, 5)])

    assert (step, rounded_up(Fraction(13, 10), step)) == (Fraction(1, 5), Fraction(7, 5))
