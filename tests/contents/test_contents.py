"""What goes into a box: a tiny club worked by hand, rules at odds, and what a country may not get."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.calendar import YearMonth
from planning.contents import (
    Assortment,
    Box,
    ContentsProblem,
    ContentsResult,
    Does,
    Extra,
    Rule,
    RuleError,
    TierLine,
    When,
    contents_faults,
    plan_contents,
)
from planning.roster import Besides
from tests.support.effort import examples

APRIL = YearMonth(2027, 4)
TIERS = (
    TierLine(tier="FULL", item="card", count=10),
    TierLine(tier="FULL", item="ink", count=1),
    TierLine(tier="MINI", item="card", count=4),
)


def box(code: str = "B1", **more: Any) -> Box:
    plain: dict[str, Any] = {"tier": "FULL", "country": "DE", "number": 5, "day": date(2027, 4, 10)}
    return Box(**{"code": code} | plain | more)


def rule(code: str, when: When = When.EVERY, does: Does = Does.ADD, item: str = "gift", **more: Any) -> Rule:
    return Rule(code=code, when=when, does=does, item=item, **more)


def filled(*boxes: Box, rules: tuple[Rule, ...] = (), extras: tuple[Extra, ...] = ()) -> ContentsResult:
    problem = ContentsProblem(month=APRIL, boxes=boxes, tiers=TIERS, rules=rules, extras=extras)
    result = plan_contents(problem)
    assert contents_faults(problem, result) == ()
    return result


def words(one: Box, *rules: Rule, extras: tuple[Extra, ...] = ()) -> str:
    return filled(one, rules=rules, extras=extras).boxes[0].contents.words


def test_a_box_holds_what_its_tier_holds() -> None:
    assert words(box()) == "10 x card + 1 x ink"
    assert words(box(tier="MINI")) == "4 x card"


def test_the_first_box_and_the_nth() -> None:
    rules = rule("hello", When.FIRST, item="booklet"), rule("sixth", When.NTH, number=6, item="box file")
    assert [words(box(number=number), *rules) for number in (1, 2, 6)] == [
        "1 x booklet + 10 x card + 1 x ink",
        "10 x card + 1 x ink",
        "1 x box file + 10 x card + 1 x ink",
    ]


@pytest.mark.parametrize(
    ("joined", "gift", "second"),
    [
        (YearMonth(2026, 4), True, False),
        (YearMonth(2025, 4), True, True),
        (YearMonth(2027, 4), False, False),  # the month of joining is no anniversary
        (YearMonth(2026, 5), False, False),
        (YearMonth(2028, 4), False, False),
        (None, False, False),
    ],
)
def test_anniversaries(joined: YearMonth | None, gift: bool, second: bool) -> None:
    year, two = rule("year", When.ANNIVERSARY), rule("two", When.ANNIVERSARY, item="pen", number=2)
    goods = dict(filled(box(joined=joined), rules=(year, two)).boxes[0].contents.goods)
    assert ("gift" in goods, "pen" in goods) == (gift, second)


@pytest.mark.parametrize(
    ("day", "codes", "there"),
    [(1, {"spring "}, True), (30, {"SPRING"}, True), (10, {"AUTUMN"}, False), (10, set(), False)],
)
def test_a_promotion_has_its_days_and_its_code(day: int, codes: set[str], there: bool) -> None:
    spring = rule("p", When.PROMOTION, promotion="Spring", first=date(2027, 4, 1), last=date(2027, 4, 30))
    one = box(day=date(2027, 4, day), codes=frozenset(codes))
    assert ("gift" in words(one, spring)) == there
    assert "gift" not in words(replace(one, day=date(2027, 5, 1)), spring)
    assert "gift" not in words(replace(one, day=date(2027, 3, 31)), spring)
    assert "gift" in words(replace(one, codes=frozenset()), replace(spring, promotion=""))


def test_orders_besides_and_replacements_go_into_their_own_box_only() -> None:
    extras = (
        Extra(box="B1", kind=Besides.ADD_ON, item="ink", count=2),
        Extra(box="B1", kind=Besides.REPLACEMENT, item="old stamp"),
    )
    instead = rule("new", When.REPLACEMENT, Does.SUBSTITUTE, "old stamp", instead="stamp")
    result = filled(box(), box("B2"), rules=(instead,), extras=extras)
    assert [one.contents.words for one in result.boxes] == [
        "10 x card + 3 x ink + 1 x stamp",
        "10 x card + 1 x ink",
    ]
    assert words(box(), extras=extras) == "10 x card + 3 x ink + 1 x old stamp"
    assert ("ink", 2, "add-on order") in [(one.item, one.count, one.why) for one in result.boxes[0].reasons]


def test_an_extra_for_a_box_that_is_not_there_is_not_lost() -> None:
    (fault,) = filled(box(), extras=(Extra(box="B9", kind=Besides.ADD_ON, item="ink", count=2),)).faults
    assert fault == "add-on order, 2 x ink: there is no box B9 this month"


def test_a_country_gets_the_substitute_of_whatever_put_the_item_in() -> None:
    ban = rule("ink", When.COUNTRY, Does.SUBSTITUTE, "ink", instead="pad", count=2, countries=("CH",))
    order = Extra(box="B1", kind=Besides.ADD_ON, item="ink", count=3)
    assert words(box(country="CH"), ban, extras=(order,)) == "10 x card + 8 x pad"  # two for each of 1 + 3
    assert words(box(), ban) == "10 x card + 1 x ink"


def test_a_substitute_that_may_not_go_either_is_replaced_too() -> None:
    bans = (
        rule("a", When.COUNTRY, Does.SUBSTITUTE, "ink", instead="pad", countries=("CH",)),
        rule("b", When.COUNTRY, Does.SUBSTITUTE, "pad", instead="pencil", countries=("CH", "NO")),
    )
    assert words(box(country="CH"), *bans) == "10 x card + 1 x pencil"
    leave = rule("b", When.COUNTRY, Does.LEAVE_OUT, "pad", countries=("CH",))
    assert words(box(country="CH"), bans[0], leave) == "10 x card"


def test_substitutes_in_a_circle_leave_the_item_out_and_say_so() -> None:
    bans = (
        rule("a", When.COUNTRY, Does.SUBSTITUTE, "ink", instead="pad", countries=("CH",)),
        rule("b", When.COUNTRY, Does.SUBSTITUTE, "pad", instead="ink", countries=("CH",)),
    )
    one = filled(box(country="CH"), rules=bans).boxes[0]
    assert one.contents.words == "10 x card"
    assert one.faults == ("ink -> pad -> ink: no substitute may go to CH",)


def test_the_higher_priority_counts_and_the_other_is_told() -> None:
    more = rule("more", item="ink", count=2, priority=1)
    none = rule("none", does=Does.LEAVE_OUT, item="ink", priority=2)
    result = filled(box(), box("B2"), box("B3", tier="MINI"), rules=(more, none))
    assert result.boxes[0].contents.words == "10 x card"
    (clash,) = result.clashes
    assert (clash.kept, clash.dropped, clash.boxes, clash.equal) == ("none", "more", 3, False)
    assert result.conflicts == ()
    assert words(box(), replace(more, priority=3), none) == "10 x card + 3 x ink"


def test_the_same_priority_is_a_conflict_with_what_to_do() -> None:
    swap = rule("swap", does=Does.SUBSTITUTE, item="ink", instead="pad")
    none = rule("none", does=Does.LEAVE_OUT, item="ink")
    result = filled(box(), rules=(swap, none))
    assert result.boxes[0].contents.words == "10 x card"
    (conflict,) = result.conflicts
    assert conflict.words == (
        "rules none and swap are at odds over ink in 1 box and have the same priority: none counted; "
        "give one a higher priority"
    )


def test_of_one_slot_a_box_gets_one() -> None:
    gifts = (
        rule("first", When.FIRST, item="pen", slot="gift", priority=1),
        rule("spring", item="stamp", slot="gift"),
    )
    assert words(box(number=1), *gifts) == "10 x card + 1 x ink + 1 x pen"
    assert words(box(), *gifts) == "10 x card + 1 x ink + 1 x stamp"
    assert len(filled(box(number=1), rules=gifts).clashes) == 1
    assert filled(box(), rules=gifts).clashes == ()


def test_rules_that_want_the_same_are_not_at_odds() -> None:
    twice = rule("a", item="ink"), rule("b", item="ink", count=2)
    assert words(box(), *twice) == "10 x card + 4 x ink"
    out = rule("a", does=Does.LEAVE_OUT, item="ink"), rule("b", does=Does.LEAVE_OUT, item="ink")
    assert words(box(), *out) == "10 x card"
    swaps = tuple(rule(code, does=Does.SUBSTITUTE, item="ink", instead="pad") for code in "ab")
    assert words(box(), *swaps) == "10 x card + 1 x pad"
    assert filled(box(), rules=twice).clashes == filled(box(), rules=out).clashes == ()


def test_what_comes_instead_is_not_taken_out_again() -> None:
    rules = (
        rule("a", does=Does.SUBSTITUTE, item="ink", instead="card"),
        rule("b", does=Does.LEAVE_OUT, item="card"),
    )
    assert words(box(), *rules) == "1 x card"


def test_country_rules_at_odds_are_told_only_where_the_item_goes() -> None:
    bans = tuple(
        rule(code, When.COUNTRY, Does.SUBSTITUTE, "ink", instead=code, countries=("CH",))
        for code in ("pad", "pen")
    )
    assert words(box(country="CH"), *bans) == "10 x card + 1 x pad"
    assert len(filled(box(country="CH"), rules=bans).conflicts) == 1
    assert filled(box(country="CH", tier="MINI"), box("B2"), rules=bans).clashes == ()


def test_rules_keep_to_their_tiers_and_countries() -> None:
    only = rule("r", tiers=("FULL",), countries=("DE", "AT"))
    assert "gift" in words(box(), only)
    assert "gift" not in words(box(tier="MINI"), only)
    assert "gift" not in words(box(country="CH"), only)


def test_equal_contents_share_a_signature_whatever_put_them_in() -> None:
    more = rule("a", item="card", count=6, tiers=("MINI",)), rule("b", item="ink", tiers=("MINI",))
    two = filled(box(), box("B2", tier="MINI"), rules=more)
    assert two.boxes[0].contents.signature == two.boxes[1].contents.signature
    (group,) = two.alike
    assert group.boxes == ("B1", "B2")


def test_names_cannot_be_made_up_to_share_a_signature() -> None:
    sly = Assortment(goods=(("card 1\n3:ink", 1),))
    plain = Assortment(goods=(("card", 1), ("ink", 1)))
    assert sly.signature != plain.signature


def test_boxes_somebody_must_look_at() -> None:
    one, two = filled(box(tier="GONE"), box("B2", country="UK")).boxes
    assert one.faults == (
        "tier GONE holds nothing: add its items",
        "nothing goes into it: look at its tier and at the rules that leave things out",
    )
    assert two.faults == ("'UK' is no country code, so no country's rules were looked at",)
    (stray,) = filled(box(), rules=(rule("r", tiers=("FUL",)),)).faults
    assert "rule r is for tier FUL, which holds nothing" in stray


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        (lambda: filled(rules=(rule("r", item=""),)), "names no item"),
        (lambda: filled(rules=(rule("r", count=0),)), "0 is no count"),
        (lambda: filled(rules=(rule("r", does=Does.SUBSTITUTE),)), "names what goes instead"),
        (lambda: filled(rules=(rule("r", instead="pen"),)), "does not substitute"),
        (
            lambda: filled(rules=(rule("r", does=Does.SUBSTITUTE, instead="gift"),)),
            "is the item itself",
        ),
        (
            lambda: filled(rules=(rule("r", When.COUNTRY, countries=("DE",)),)),
            "nothing that a country rule does",
        ),
        (lambda: filled(rules=(rule("r", When.COUNTRY, Does.LEAVE_OUT),)), "name the countries"),
        (lambda: filled(rules=(rule("r", When.NTH),)), "say which box"),
        (lambda: filled(rules=(rule("r", When.NTH, number=0),)), "number 0: is no number"),
        (
            lambda: filled(rules=(rule("r", When.PROMOTION, first=date(2027, 5, 1), last=date(2027, 4, 1)),)),
            "is before its first day",
        ),
        (lambda: filled(rules=(rule("r", countries=("UK",)),)), "write GB"),
        (lambda: filled(rules=(rule("r", When.REPLACEMENT, Does.LEAVE_OUT, slot="s"),)), "has no slot"),
        (lambda: TierLine(tier="T", item="i", count=0), "write 1 or more"),
        (lambda: Extra(box="B", kind=Besides.ADD_ON, item="i", count=-1), "write 1 or more"),
        (lambda: box(number=0), "the first is 1"),
        (lambda: filled(box(), box()), "two boxes have the code B1"),
        (lambda: filled(box(), rules=(rule("r"), rule("r"))), "two rules have the code r"),
    ],
)
def test_rows_that_cannot_be_are_refused(wrong: Any, why: str) -> None:
    with pytest.raises(RuleError, match=why):
        wrong()


ITEMS = ("card", "gift", "ink", "pad", "pen")


@st.composite
def any_rule(draw: st.DrawFn) -> dict[str, Any]:
    when = draw(st.sampled_from(When))
    special = when in (When.COUNTRY, When.REPLACEMENT)
    does = draw(st.sampled_from([Does.LEAVE_OUT, Does.SUBSTITUTE] if special else list(Does)))
    item, instead = draw(st.permutations(ITEMS))[:2]
    return {
        "when": when,
        "does": does,
        "item": item,
        "instead": instead if does is Does.SUBSTITUTE else "",
        "count": draw(st.integers(1, 3)),
        "priority": draw(st.integers(0, 2)),
        "number": draw(st.integers(1, 2)),
        "tiers": draw(st.sampled_from([(), ("FULL",), ("MINI",)])),
        "countries": ("CH",) if when is When.COUNTRY else draw(st.sampled_from([(), ("DE", "CH")])),
        "slot": "" if special else draw(st.sampled_from(["", "", "gift"])),
    }


any_box = st.builds(
    box,
    tier=st.sampled_from(["FULL", "MINI"]),
    country=st.sampled_from(["DE", "CH", "FR"]),
    number=st.integers(1, 3),
    joined=st.sampled_from([None, YearMonth(2026, 4), YearMonth(2025, 4)]),
)
any_extra = st.builds(
    Extra,
    box=st.sampled_from(["0", "1"]),
    kind=st.sampled_from(Besides),
    item=st.sampled_from(ITEMS),
    count=st.integers(1, 2),
)


@given(
    rows=st.lists(any_rule(), max_size=8),
    boxes=st.lists(any_box, max_size=4),
    extras=st.lists(any_extra, max_size=4),
)
@settings(max_examples=examples(300), deadline=None)
def test_every_filling_stands_the_checker(
    rows: list[dict[str, Any]], boxes: list[Box], extras: list[Extra]
) -> None:
    rules = tuple(Rule(code=str(at), **row) for at, row in enumerate(rows))
    numbered = [replace(one, code=str(at)) for at, one in enumerate(boxes)]
    result = filled(*numbered, rules=rules, extras=tuple(extras))
    again = filled(*numbered, rules=rules[::-1], extras=tuple(extras[::-1]))
    assert [one.contents for one in again.boxes] == [one.contents for one in result.boxes]
    assert again.clashes == result.clashes  # no order of rows decides anything
    banned = {one.item for one in rules if one.when is When.COUNTRY and not one.tiers}
    for one, held in zip(numbered, result.boxes, strict=True):
        if one.country == "CH":
            assert not banned & dict(held.contents.goods).keys()


def test_the_checker_finds_a_wrong_box() -> None:
    problem = ContentsProblem(month=APRIL, boxes=(box(), box("B2", tier="MINI")), tiers=TIERS)
    result = plan_contents(problem)
    one, two = result.boxes
    less = replace(one, contents=Assortment(goods=one.contents.goods[:1]))
    assert contents_faults(problem, replace(result, boxes=(less, two)))
    assert contents_faults(problem, replace(result, boxes=(replace(one, reasons=()), two)))
    assert contents_faults(problem, replace(result, boxes=(two, one)))
    assert contents_faults(problem, replace(result, alike=result.alike[:1]))
    assert contents_faults(problem, replace(result, alike=result.alike * 2))
