"""The rules of the bench: a day by hand, then every order of acts that two benches can send."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.calendar import YearMonth
from planning.documents.codes import box_code
from planning.packed import (
    HELD_FOR,
    UNTOUCHED,
    Act,
    BoxEvent,
    BoxList,
    BoxScan,
    BoxState,
    Line,
    Listed,
    ScanError,
    Status,
    Weighing,
    carry_over,
    follow,
    follow_all,
    pace,
    packed_faults,
    read_scan,
)
from planning.packed.model import MOST_ACTS
from planning.packed.pace import window

NOON = datetime(2027, 3, 30, 12, tzinfo=UTC)
TAG = Line(item="piece:TAG", code="TAG", name="Tag", count=2)
FOLD = Line(item="material:FOLD", code="FOLD", name="Welcome Fold", count=1)
BOX = BoxList(lines=(TAG, FOLD), weighing=Weighing(2995, 3050))
numbers = count(1)


def act(what: Act, bench: str = "Bench 1", **other: object) -> BoxEvent:
    values = {"id": str(next(numbers)), "who": "Anna", "at": NOON} | other
    return BoxEvent(act=what, bench=bench, **values)  # type: ignore[arg-type]


def after(*events: BoxEvent, box: BoxList = BOX, state: BoxState = UNTOUCHED) -> BoxState:
    """Return how the box stands after acts that all count."""
    for event in events:
        state, answer = follow(box, state, event)
        assert answer.done, answer.said
    return state


def said(state: BoxState, event: BoxEvent, box: BoxList = BOX) -> str:
    """Return why an act is refused; it changes nothing."""
    same, answer = follow(box, state, event)
    assert same == state
    assert not answer.done
    return answer.said


def filled() -> tuple[BoxEvent, ...]:
    return (act(Act.TAKE), act(Act.ADD, item=TAG.item, count=2), act(Act.ADD, item=FOLD.item))


# --- One box by hand ---


def test_a_box_is_taken_filled_weighed_and_closed() -> None:
    state = after(*filled(), act(Act.CLOSE, tenths=3000))
    assert (state.status, state.tenths, state.closed_at, state.who) == (Status.CLOSED, 3000, NOON, "Anna")
    assert state.missing(BOX) == ()


def test_what_does_not_belong_in_stops_the_box_until_it_is_out() -> None:
    state, answer = follow(BOX, after(*filled()), act(Act.ADD, item="piece:STAR", note="Star"))
    assert answer.stops
    assert answer.said == "Star does not belong in this box. Take it out."
    assert said(state, act(Act.CLOSE, tenths=3000)) == "Take out first what does not belong in this box."
    assert said(state, act(Act.ADD, item=FOLD.item)).startswith("Take out first")
    assert after(act(Act.RIGHT), act(Act.CLOSE, tenths=3000), state=state).status is Status.CLOSED


def test_one_too_many_stops_the_box() -> None:
    state, answer = follow(BOX, after(*filled()), act(Act.ADD, item=TAG.item))
    assert answer.stops
    assert answer.said == "One too many: Tag is wanted 2 times. Take it out."
    assert state.inside[TAG.item] == 2


def test_what_is_missing_keeps_a_box_open() -> None:
    state = after(act(Act.TAKE), act(Act.ADD, item=TAG.item))
    assert said(state, act(Act.CLOSE, tenths=3000)) == "Missing: 1 × Tag, 1 × Welcome Fold"


@pytest.mark.parametrize(
    ("tenths", "why"),
    [
        (None, "Weigh the box: it must be 299.5 to 305 g."),
        (2994, "Too light by 0.1 g: it must be 299.5 to 305 g. What is missing?"),
        (3051, "Too heavy by 0.1 g: it must be 299.5 to 305 g. What is too much?"),
    ],
)
def test_a_box_off_its_weight_stays_open(tenths: int | None, why: str) -> None:
    assert said(after(*filled()), act(Act.CLOSE, tenths=tenths)) == why


@pytest.mark.parametrize("tenths", [2995, 3050])
def test_the_ends_of_what_it_may_weigh_are_allowed(tenths: int) -> None:
    assert after(*filled(), act(Act.CLOSE, tenths=tenths)).status is Status.CLOSED


def test_undo_takes_back_the_last_act_and_opens_a_closed_box_where_it_was_closed() -> None:
    closed = after(*filled(), act(Act.CLOSE, tenths=3000))
    assert (
        said(closed, act(Act.UNDO, "Bench 2")) == "This box was closed at Bench 1: it is opened again there."
    )
    again = after(act(Act.UNDO), state=closed)
    assert (again.status, again.missing(BOX)) == (Status.IN_HAND, ())
    assert [line.name for line, _ in after(act(Act.UNDO), state=again).missing(BOX)] == ["Welcome Fold"]
    assert said(after(act(Act.TAKE)), act(Act.UNDO)) == "Nothing is in the box to take out."


def test_a_line_is_taken_out_whole() -> None:
    state = after(*filled(), act(Act.OUT, item=TAG.item))
    assert [(line.name, left) for line, left in state.missing(BOX)] == [("Tag", 2)]


# --- Two benches ---


def test_two_benches_never_take_the_same_box() -> None:
    taken = after(act(Act.TAKE))
    assert said(taken, act(Act.TAKE, "Bench 2")) == "Anna has this box in hand at Bench 1. Take another one."
    closed = after(*filled(), act(Act.CLOSE, tenths=3000))
    assert said(closed, act(Act.TAKE, "Bench 2")) == "This box is closed already, by Anna at Bench 1."


def test_a_box_left_lying_is_taken_over_empty_and_its_first_bench_is_told() -> None:
    state = after(*filled())
    late = act(Act.TAKE, "Bench 2", who="Ben", at=NOON + HELD_FOR)
    assert said(state, replace(late, at=NOON + HELD_FOR - timedelta(seconds=1)))
    over = after(late, state=state)
    assert (over.bench, over.trail) == ("Bench 2", ())
    assert said(over, act(Act.CLOSE, tenths=3000)) == "Ben took this box over at Bench 2. Put it aside."


def test_a_box_put_back_is_free() -> None:
    assert after(act(Act.TAKE), act(Act.LEAVE), act(Act.TAKE, "Bench 2")).bench == "Bench 2"


def test_taking_it_again_at_the_same_bench_keeps_what_is_in() -> None:
    assert after(*filled(), act(Act.TAKE)).missing(BOX) == ()


# --- At the desk ---


def test_a_pulled_box_is_out_of_every_hand_and_packed_anew_once_it_is_back() -> None:
    state = after(*filled(), act(Act.PULL, "", note="moved abroad"))
    assert said(state, act(Act.ADD, item=TAG.item)).startswith(
        "This box was pulled from its wave: moved abroad"
    )
    assert said(state, act(Act.TAKE, "Bench 2")).startswith("This box was pulled")
    assert said(state, act(Act.PULL, "", note="again")).startswith("This box is pulled already")
    back = after(act(Act.RESTORE, ""), act(Act.TAKE, "Bench 2"), state=state)
    assert back.missing(BOX) == ((TAG, 2), (FOLD, 1))


def test_a_box_with_the_carrier_is_not_touched() -> None:
    sent = replace(BOX, sent=True)
    closed = after(*filled(), act(Act.CLOSE, tenths=3000))
    for what in (Act.UNDO, Act.PULL, Act.TAKE):
        assert "tracking number already" in said(closed, act(what, note="why"), sent)


def test_what_is_noted_down_changes_nothing_of_the_box() -> None:
    state = after(*filled())
    assert after(act(Act.DAMAGED, "", item=TAG.item), state=state) == replace(state, acts=4)


def test_acts_on_one_box_are_bounded() -> None:
    state = replace(after(act(Act.TAKE)), acts=MOST_ACTS)
    assert "ask at the desk" in said(state, act(Act.ADD, item=TAG.item))


# --- Any order ---

BENCHES = ("Bench 1", "Bench 2")
ITEMS = (TAG.item, FOLD.item, "piece:STAR")
acts = st.builds(
    lambda what, bench, item, many, minutes, weighs: act(
        what, bench, item=item, count=many, tenths=weighs, note="why", at=NOON + timedelta(minutes=minutes)
    ),
    st.sampled_from([*[Act.TAKE] * 3, *[Act.ADD] * 6, *[Act.CLOSE] * 2, *Act]),
    st.sampled_from(BENCHES),
    st.sampled_from(ITEMS),
    st.integers(1, 2),
    st.integers(0, 40),
    st.sampled_from([None, 2900, 3000]),
)


@given(st.lists(acts, max_size=40))
def test_whatever_comes_in_whatever_order_what_counts_follows_the_rules(events: list[BoxEvent]) -> None:
    state, answers = follow_all(BOX, events)
    assert packed_faults(BOX, [event for event, answer in answers if answer.done], state) == ()


@given(st.lists(acts, max_size=25), st.data())
def test_acts_sent_again_count_once(events: list[BoxEvent], data: st.DataObject) -> None:
    """A bench that heard no answer sends again what it has no answer to, in the same order."""
    once, answers = follow_all(BOX, events)
    counting = [event for event, answer in answers if answer.done]
    heard = data.draw(st.integers(0, len(counting)))
    arrived = data.draw(st.integers(heard, len(counting)))
    state, _ = follow_all(BOX, counting[:arrived])
    known = {event.id for event in counting[:arrived]}
    assert follow_all(BOX, counting[heard:], state, known)[0] == once


def full_day(bench: str) -> list[BoxEvent]:
    """Return the acts of a bench that packs the box."""
    return [
        act(Act.TAKE, bench),
        act(Act.ADD, bench, item=TAG.item, count=2),
        act(Act.ADD, bench, item=FOLD.item),
        act(Act.CLOSE, bench, tenths=3000),
    ]


@given(st.lists(st.booleans(), min_size=8, max_size=8))
def test_of_two_benches_that_pack_one_box_exactly_one_does(turns: list[bool]) -> None:
    days = {True: full_day("Bench 1"), False: full_day("Bench 2")}
    events = [days[turn].pop(0) for turn in turns if days[turn]]
    events += days[True] + days[False]
    state, answers = follow_all(BOX, events)
    closers = [event.bench for event, answer in answers if answer.done and event.act is Act.CLOSE]
    assert closers == [state.bench] == [events[0].bench]


# --- Codes ---

APRIL = YearMonth(2027, 4)


def test_a_code_of_this_month_is_read_with_and_without_the_version_of_its_slip() -> None:
    code = box_code("RIV", APRIL, 123)
    assert read_scan(f" {code.lower()} ", "RIV", APRIL) == BoxScan(code, 123)
    assert read_scan(f"{code}/3", "RIV", APRIL) == BoxScan(code, 123, 3)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (box_code("RIV", YearMonth(2027, 3), 123), "is a box of another month, 2027-03: this is 2027-04"),
        (box_code("OAK", APRIL, 123), "is a box of another club"),
        ("RIV2704000123X", "is not a box code"),
        ("", "is not a box code"),
        ("x" * 5_000, "it has 5,000 characters"),
    ],
)
def test_any_other_scan_says_what_it_is(text: str, why: str) -> None:
    with pytest.raises(ScanError, match=re.escape(why)):
        read_scan(text, "RIV", APRIL)


@given(st.text(max_size=150))
def test_rubbish_is_never_a_box(text: str) -> None:
    with pytest.raises(ScanError):
        read_scan(text + "#", "RIV", APRIL)


# --- How it gets on ---


def test_pace_of_a_wave() -> None:
    """31 boxes closed in half an hour: 60 an hour after the first; 40 left take 40 minutes."""
    closed = [NOON - timedelta(hours=2), *[NOON - timedelta(minutes=one) for one in range(30, -1, -1)]]
    lately, since = window(closed, NOON)
    assert (lately, since) == (30, NOON - timedelta(minutes=30))
    got = pace(72, 32, lately, since, NOON)
    assert (got.left, got.hourly, got.finish) == (40, Fraction(60), NOON + timedelta(minutes=40))


def test_no_pace_before_the_second_box() -> None:
    assert pace(72, 1, *window([NOON], NOON), NOON).hourly is None
    assert pace(72, 0, *window([], NOON), NOON).finish is None


# --- A later plan ---


def test_a_packed_box_counts_for_one_box_of_the_same_person_with_the_same_contents() -> None:
    """S1 has two boxes, both packed, and gets one now; S2's contents changed; S3 is new before them."""
    packed = [Listed(1, "S1", "FULL"), Listed(2, "S1", "FULL"), Listed(3, "S2", "FULL")]
    listed = [Listed(1, "S3", "FULL"), Listed(2, "S1", "FULL"), Listed(3, "S2", "HALF")]
    carried = carry_over(packed, listed)
    assert carried.pairs == ((1, 2),)
    assert carried.astray == (Listed(2, "S1", "FULL"), Listed(3, "S2", "FULL"))


boxes = st.lists(
    st.builds(lambda who, what: (who, what), st.sampled_from("AB"), st.sampled_from("XY")), max_size=8
).map(lambda rows: [Listed(number, *row) for number, row in enumerate(rows, 1)])


@given(boxes, boxes)
def test_no_packed_box_is_lost_and_none_counts_twice(packed: list[Listed], listed: list[Listed]) -> None:
    carried = carry_over(packed, listed)
    kinds = {one.serial: one.reference + one.signature for one in packed}
    now = {one.serial: one.reference + one.signature for one in listed}
    assert sorted([old for old, _ in carried.pairs] + [one.serial for one in carried.astray]) == sorted(kinds)
    assert len({new for _, new in carried.pairs}) == len(carried.pairs)
    assert all(kinds[old] == now[new] for old, new in carried.pairs)
    left = [now[one] for one in now.keys() - {new for _, new in carried.pairs}]
    assert not {one.reference + one.signature for one in carried.astray} & set(left)
