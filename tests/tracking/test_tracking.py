"""Tracking numbers: UPU S10 as published, and a carrier's list put to its boxes."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.tracking import (
    S10,
    S10Error,
    Tracked,
    TrackingProblem,
    TrackingResult,
    TrackingRow,
    check_digit,
    parse_s10,
    read_tracking,
    tracking_faults,
)
from planning.tracking.check import stands
from tests.support.effort import examples


@pytest.mark.parametrize(
    ("serial", "digit"),
    [
        ("47312482", 9),  # the standard's own example, as told in Wikipedia, "S10 (UPU standard)"
        ("28704377", 5),  # the item photographed there, RR287043775IN: remainder 0, 11 is written 5
        ("00000008", 0),  # recomputed: remainder 1, 10 is written 0
        ("12345678", 5),  # recomputed: remainder 6
    ],
)
def test_published_check_digits(serial: str, digit: int) -> None:
    assert check_digit(serial) == digit


def test_weights_counted_up_are_wrong() -> None:
    # an old mirror prints the weights 3, 4, ... 10, with which the standard's example would not stand
    total = sum(int(one) * weight for one, weight in zip("47312482", range(3, 11), strict=True))
    assert {10: 0, 11: 5}.get(11 - total % 11, 11 - total % 11) != 9


@pytest.mark.parametrize("text", ["RR287043775IN", "rr 2870 4377 5 in", " RR-287043775-IN\n"])
def test_a_number_reads_the_same_however_it_is_spaced(text: str) -> None:
    number = parse_s10(text)
    assert number == S10("RR", "28704377", "IN")
    assert str(number) == "RR287043775IN"
    assert parse_s10(number.words) == number


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("RR473124820GB", "its check digit is 0, and 47312482 has 9; compare it with the label"),
        ("RR473124829UK", "UK is no country code of ISO 3166-1; write GB"),
        ("RR473124829XX", "XX is no country code"),
        ("RR47312482GB", "it has 12 characters, and needs 13"),
        ("RR4731Z4829GB", "if it was misread, write RR473124829GB"),
        ("R1473124829GB", "it must be two letters, nine digits, and two letters"),
        ("", "it is empty"),
        ("RR４73124829GB", "it must be two letters"),  # a full-width digit
        ("A" * 500, "it has 500 characters"),
    ],
)
def test_what_is_wrong_with_a_number(text: str, why: str) -> None:
    with pytest.raises(S10Error) as error:
        parse_s10(text)
    assert why in str(error.value)
    assert len(str(error.value)) < 200


serials = st.integers(0, 10**8 - 1).map("{:08}".format)


@given(serial=serials)
@settings(max_examples=examples(300), deadline=None)
def test_every_number_made_stands_a_proof_by_divisibility(serial: str) -> None:
    assert stands(str(S10("RR", serial, "DE")))
    assert sum(stands(f"RR{serial}{digit}DE") for digit in range(10)) == 1


@given(serial=serials, at=st.integers(0, 7), other=st.sampled_from("0123456789"))
@settings(max_examples=examples(300), deadline=None)
def test_one_wrong_digit_is_found_unless_both_remainders_are_written_five(
    serial: str, at: int, other: str
) -> None:
    wrong = serial[:at] + other + serial[at + 1 :]
    if wrong != serial and check_digit(serial) != 5:
        assert check_digit(wrong) != check_digit(serial)


def listed(*rows: tuple[str, str], known: tuple[Tracked, ...] = (), s10: bool = True) -> TrackingResult:
    problem = TrackingProblem(
        rows=tuple(
            TrackingRow(row=at, box=box, number=number, s10=s10) for at, (box, number) in enumerate(rows, 2)
        ),
        boxes=frozenset({"B1", "B2"}),
        known=known,
    )
    result = read_tracking(problem)
    assert tracking_faults(problem, result) == ()
    return result


ONE, TWO = "RR473124829GB", "RR287043775IN"


def test_numbers_come_to_their_boxes_and_a_box_may_have_two() -> None:
    result = listed(("B1", ONE), ("B1", TWO))
    assert result.new == (Tracked(box="B1", number=ONE), Tracked(box="B1", number=TWO))


def test_a_list_read_twice_counts_once() -> None:
    first = listed(("B1", ONE), ("B2", TWO), ("B1", "rr 473124829 gb"))
    assert first.repeated == (4,)
    again = listed(("B1", ONE), ("B2", TWO), known=first.new)
    assert again.new == ()
    assert again.repeated == (2, 3)


def test_a_number_on_two_boxes_is_refused_and_the_rest_is_taken() -> None:
    result = listed(("B1", ONE), ("B2", ONE), ("B9", TWO), ("B2", "rubbish"), ("B2", TWO))
    assert [one.number for one in result.new] == [ONE, TWO]
    assert [(one.row, one.why.split(":")[0]) for one in result.refused] == [
        (3, f"{ONE} is already the number of box B1"),
        (4, "there is no box 'B9' in this plan"),
        (5, "'rubbish' is no S10 number"),
    ]


def test_other_carriers_have_numbers_of_their_own() -> None:
    result = listed(("B1", "1z 999-aa1"), ("B2", "?"), s10=False)
    assert result.new == (Tracked(box="B1", number="1Z999AA1"),)
    assert [one.row for one in result.refused] == [3]


@given(
    rows=st.lists(
        st.tuples(
            st.sampled_from(["B1", "B2", "B3"]), st.sampled_from([ONE, TWO, "x"]) | st.text(max_size=15)
        ),
        max_size=8,
    )
)
@settings(max_examples=examples(150), deadline=None)
def test_no_list_loses_a_row_or_gives_a_number_twice(rows: list[tuple[str, str]]) -> None:
    listed(*rows)


def test_the_checker_finds_what_is_wrong() -> None:
    row = TrackingRow(row=2, box="B1", number=ONE)
    problem = TrackingProblem(rows=(row,), boxes=frozenset({"B1"}))
    good = read_tracking(problem)
    wrong = Tracked(box="B1", number="RR473124820GB")
    for bad in (
        replace(good, new=()),
        replace(good, new=(wrong,)),
        replace(good, new=(Tracked(box="B2", number=ONE),)),
        replace(good, new=(), repeated=(2,)),
    ):
        assert tracking_faults(problem, bad)
    assert tracking_faults(
        replace(problem, rows=(replace(row, number=wrong.number),)), replace(good, new=(wrong,))
    )
    assert tracking_faults(replace(problem, known=(Tracked(box="B9", number=ONE),)), good)
