"""Weights: pounds and grams, and how weights are typed."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.measures import (
    WeightError,
    WeightUnit,
    format_weight,
    grams_from_pounds,
    parse_weight,
    pounds_from_grams,
)

weights = st.fractions(min_value=Fraction(1, 1000), max_value=1_000_000, max_denominator=10**6)


def test_a_pound_is_453_59237_grams() -> None:
    # The international avoirdupois pound, from memory
    assert grams_from_pounds(1) == parse_weight("1 lb") == parse_weight("16 oz") == Fraction("453.59237")


@given(weights)
def test_pounds_and_grams_are_exact_inverses(weight: Fraction) -> None:
    assert pounds_from_grams(grams_from_pounds(weight)) == weight


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("85 g", 85),
        ("85grams", 85),
        ("1.2 kg", 1200),
        ("1,2 KG", 1200),
        ("1,250 g", 1250),
        ("100,000 kg", 100_000_000),
        ("2 lbs", 2 * Fraction("453.59237")),
        ("1 lb 4 oz", 20 * Fraction("453.59237") / 16),
        ("½ oz", Fraction("453.59237") / 32),
    ],
)
def test_every_spelling(text: str, grams: Fraction | int) -> None:
    assert parse_weight(text) == grams


def test_a_number_alone_is_in_the_unit_of_its_column() -> None:
    assert parse_weight("85", WeightUnit.GRAM) == 85
    assert parse_weight("2", WeightUnit.KILOGRAM) == 2000


def test_zero_is_read_only_where_it_is_allowed() -> None:
    assert parse_weight("0 g", zero=True) == 0


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "it is empty"),
        ("85", "it has no unit"),
        ("-85 g", "a minus sign stands before '85 g'"),
        ("85 mm", "the unit 'mm' is not known here"),
        ("0 g", "it is zero"),
        ("1 lb 20 oz", "each part must be smaller than one of the unit before it"),
        ("200,000 kg", "it is more than 100,000 kg"),
    ],
)
def test_what_is_no_weight_says_what_why_and_what_is_allowed(text: str, why: str) -> None:
    with pytest.raises(WeightError, match=why) as caught:
        parse_weight(text)

    assert str(caught.value).startswith(f"{text!r} is not a weight: ")
    assert str(caught.value).endswith("such as 85 g, 1.2 kg, 4 oz, 2 lb or 1 lb 4 oz")


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("85 g", "85 g"),
        ("25 kg", "25 kg"),
        ("4 oz", "4 oz"),
        ("2 lb", "2 lb"),
        ("1/3 g", "1/3 g"),
    ],
)
def test_printed_in_the_shortest_unit(text: str, printed: str) -> None:
    assert format_weight(parse_weight(text)) == printed


def test_a_negative_weight_is_not_printed() -> None:
    with pytest.raises(ValueError, match="no measure is negative"):
        format_weight(Fraction(-1))


@given(weights)
def test_what_is_printed_is_read_back(weight: Fraction) -> None:
    assert parse_weight(format_weight(weight)) == weight
