from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.calendar import YearMonth
from planning.roster import (
    Due,
    Occasions,
    Part,
    Profile,
    Reason,
    RosterProblem,
    boxes_for,
    plan_roster,
)

APRIL = YearMonth(2027, 4)
ANNA = Profile(tier="FULL", zones=(("Post", "Home"),))


def boxes(profile: Profile, **asked: Any) -> list[tuple[Due, int]]:
    return list(boxes_for(profile, APRIL, Occasions(**asked)))


def number(profile: Profile, *asked: int) -> int:
    return boxes(profile, numbers=frozenset(asked or {1}))[0][0].number


def test_it_gives_an_active_subscriber_a_box_of_the_tier() -> None:
    assert boxes(ANNA) == [(Due(tier="FULL"), 1)]


@pytest.mark.parametrize(
    ("profile", "reason"),
    [
        (replace(ANNA, active=False), Reason.INACTIVE),
        (replace(ANNA, joined=YearMonth(2027, 5)), Reason.JOINS_LATER),
        (replace(ANNA, skips=frozenset({APRIL})), Reason.SKIPS),
        (replace(ANNA, quantity=0), Reason.NO_QUANTITY),
    ],
)
def test_it_leaves_out_whoever_gets_nothing_and_says_why(profile: Profile, reason: Reason) -> None:
    result = plan_roster(RosterProblem(month=APRIL, profiles=(replace(profile, heads=3),)))
    assert result.boxes == 0
    assert [(one.reason, one.heads) for one in result.left_out] == [(reason, 3)]


def test_a_skip_of_another_month_does_not_matter() -> None:
    assert boxes(replace(ANNA, skips=frozenset({YearMonth(2027, 3)}))) == [(Due(tier="FULL"), 1)]


def test_only_the_first_of_two_boxes_is_the_first_one() -> None:
    assert boxes(replace(ANNA, joined=APRIL, quantity=2)) == [
        (Due(tier="FULL", number=1), 1),
        (Due(tier="FULL", part=Part.FURTHER), 1),
    ]


def test_the_first_box_is_the_first_one_sent_not_the_month_of_joining() -> None:
    joined_in_february = replace(ANNA, joined=YearMonth(2027, 2))
    february, march = YearMonth(2027, 2), YearMonth(2027, 3)
    assert number(replace(joined_in_february, skips=frozenset({february, march}))) == 1
    assert number(replace(joined_in_february, skips=frozenset({march}))) == 0


def test_a_first_box_is_counted_across_the_turn_of_the_year() -> None:
    joined = replace(ANNA, joined=YearMonth(2026, 12), skips=frozenset({YearMonth(2026, 12)}))
    assert next(boxes_for(joined, YearMonth(2027, 1)))[0].number == 1


def test_boxes_are_numbered_by_the_months_that_sent_one() -> None:
    # joined in January, skipped March, so April's is the third; a skip before joining or after this month counts nothing
    skips = frozenset({YearMonth(2026, 12), YearMonth(2027, 3), YearMonth(2027, 5)})
    joined = replace(ANNA, joined=YearMonth(2027, 1), skips=skips)
    assert number(joined, 3) == 3
    assert number(replace(joined, sent=11), 3, 12) == 12  # what the club has counted itself is right
    assert (
        number(joined, 1, 2, 4) == number(ANNA, 1) == 0
    )  # told where a rule asks, and not of a founding member


@pytest.mark.parametrize(
    ("joined", "years"),
    [((2026, 4), 1), ((2020, 4), 7), ((2027, 4), 0), ((2026, 5), 0), ((2026, 3), 0)],
)
def test_the_month_of_joining_comes_round_each_year(joined: tuple[int, int], years: int) -> None:
    anna = replace(ANNA, joined=YearMonth(*joined))
    assert boxes(anna, every_year=True)[0][0].years == years
    assert boxes(anna, years=frozenset({7}))[0][0].years == (7 if years == 7 else 0)
    assert boxes(anna)[0][0].years == 0


def test_people_are_told_apart_only_by_what_a_rule_asks() -> None:
    asked = Occasions(numbers=frozenset({1, 6}))
    assert [asked.before(sent) for sent in (None, 0, 5, 7, 9)] == [None, 0, 5, -1, -1]


def test_one_off_goods_travel_in_the_box_there_is_or_in_a_parcel_of_their_own() -> None:
    wants_ribbon = replace(ANNA, items=(("RIBBON", 2),))
    assert boxes(wants_ribbon) == [(Due(tier="FULL", items=(("RIBBON", 2),)), 1)]
    assert boxes(replace(wants_ribbon, active=False)) == [
        (Due(tier="FULL", part=Part.GOODS, items=(("RIBBON", 2),)), 1)
    ]


def test_a_kit_ordered_once_is_a_box_more() -> None:
    assert boxes(replace(ANNA, kits=(("HALF", 2),))) == [
        (Due(tier="FULL"), 1),
        (Due(tier="HALF", part=Part.FURTHER), 2),
    ]


def test_boxes_alike_in_contents_and_zones_are_one_class() -> None:
    norway = (("Post", "Europe"),)
    result = plan_roster(
        RosterProblem(
            month=APRIL,
            profiles=(
                replace(ANNA, heads=40),
                replace(ANNA, quantity=2, heads=5),
                replace(ANNA, zones=norway, heads=7),
            ),
        )
    )
    # 40 x 1 + 5 x 2 at home, 7 in Europe
    assert [(one.name, one.boxes) for one in result.classes] == [("FULL to Europe", 7), ("FULL to Home", 50)]


profiles = st.builds(
    Profile,
    tier=st.sampled_from(["FULL", "HALF"]),
    quantity=st.integers(0, 3),
    active=st.booleans(),
    joined=st.none() | st.builds(YearMonth, st.integers(2026, 2028), st.integers(1, 12)),
    skips=st.frozensets(st.builds(YearMonth, st.just(2027), st.integers(1, 12)), max_size=4),
    zones=st.sampled_from([(("Post", "Home"),), (("Post", "Europe"),)]),
    items=st.sampled_from([(), (("RIBBON", 1),)]),
    kits=st.sampled_from([(), (("HALF", 1),)]),
    heads=st.integers(1, 1000),
)


@given(st.lists(profiles, max_size=20))
def test_classes_hold_exactly_the_boxes_of_every_head(many: list[Profile]) -> None:
    result = plan_roster(RosterProblem(month=APRIL, profiles=tuple(many)))
    assert result.boxes == sum(count * one.heads for one in many for _, count in boxes(one))
    assert len({(one.contents, one.zones) for one in result.classes}) == len(result.classes)


@given(st.lists(profiles, max_size=10))
def test_counting_alike_people_together_changes_nothing(many: list[Profile]) -> None:
    one_by_one = tuple(replace(one, heads=1) for one in many for _ in range(min(one.heads, 4)))
    together = tuple(replace(one, heads=min(one.heads, 4)) for one in many)
    assert plan_roster(RosterProblem(month=APRIL, profiles=one_by_one)) == plan_roster(
        RosterProblem(month=APRIL, profiles=together)
    )
