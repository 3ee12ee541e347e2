"""Lengths: sizes the trade publishes, every spelling that is read, every text that is refused."""

import pickle
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.measures import (
    CM,
    FOOT,
    INCH,
    METRE,
    MM,
    YARD,
    LengthError,
    LengthUnit,
    format_exact,
    format_length,
    parse_length,
    square_inches,
    square_metres,
)

NINE_AND_A_QUARTER = 9 * INCH + INCH // 4  # 9 x 203,200 + 50,800 = 1,879,600
lengths = st.integers(min_value=1, max_value=100_000 * METRE)


class TestSizesOfTheTrade:
    def test_an_inch_is_25_4_mm(self) -> None:
        # 1 in = 25.4 mm exactly: the international inch (from memory). 25.4 x 8,000 = 203,200
        assert parse_length("1 in") == parse_length("25.4 mm") == INCH == 203_200

    def test_a_yard_is_0_9144_m(self) -> None:
        # "1 yd = 0.9144 m exactly" (stated without a source; the international yard, from memory)
        assert parse_length("1 yd") == parse_length("0.9144 m") == parse_length("3 ft") == YARD == 3 * FOOT

    def test_a_sixty_fourth_and_a_tenth_of_a_millimetre_are_both_whole(self) -> None:
        assert (parse_length("1/64 in"), parse_length("0.1 mm")) == (3175, 800)

    @pytest.mark.parametrize(
        ("inches", "millimetres"),
        [  # US sizes: libpaper and GNU units
            ("8 1/2", "215.9 mm"),
            ("11", "279.4 mm"),
            ("14", "355.6 mm"),
            ("17", "431.8 mm"),
            ("5 1/2", "139.7 mm"),
        ],
    )
    def test_us_sizes_in_inches_are_those_in_millimetres(self, inches: str, millimetres: str) -> None:
        assert parse_length(inches) == parse_length(millimetres)

    def test_a_photo_of_4_by_6_inches_is_not_102_by_152_mm(self) -> None:
        # 4R is sold as 102 x 152 mm, a rounding of 101.6 x 152.4 (en.wikipedia "Photo print sizes")
        assert parse_length("4 in") == parse_length("101.6 mm") != parse_length("102 mm")
        assert parse_length("6 in") == parse_length("152.4 mm") != parse_length("152 mm")

    def test_a_4r_photo_is_not_5_04_inches_wide_as_one_page_says(self) -> None:
        # A page prints 4R as 5.04 x 6 in; 102 mm, read as ISO 1008 gives it, is within 1/2 mm of 4 in
        assert abs(parse_length("102 mm") - 4 * INCH) < MM // 2 < abs(parse_length("5.04 in") - 4 * INCH)

    def test_areas_of_a_cover_sheet_and_of_a0(self) -> None:
        # 20 x 26 in = 520 in² (printwiki.org "Grammage"); A0 is 841 x 1189 mm (ISO 216, at papergrease.com)
        assert square_inches(parse_length("20 in") * parse_length("26 in")) == 520
        assert square_metres(parse_length("841 mm") * parse_length("1189 mm")) == Fraction("0.999949")


class TestReading:
    @pytest.mark.parametrize(
        "text",
        [
            "9 1/4",
            "9¼",
            "9 ¼",
            "9-1/4",
            '9-1/4"',
            "9-¼",
            "9–1/4″",
            "9 1⁄4 in",
            "9\N{NO-BREAK SPACE}1/4\N{NARROW NO-BREAK SPACE}in",
            "  9  1/4  ",
            "9.25",
            "9.25 in",
            "9.25in.",
            "9,25 in",
            "9 1/4 inch",
            "9 1/4 inches",
            "9 1/4 IN",
            "9 1/4''",
            "9 1/4”",
            "37/4",
            "9 2/8",
        ],
    )
    def test_nine_and_a_quarter_inches_in_every_spelling(self, text: str) -> None:
        assert parse_length(text) == NINE_AND_A_QUARTER

    @pytest.mark.parametrize(
        ("text", "length"),
        [
            ("1/8", INCH // 8),
            ("⅛ in", INCH // 8),
            ("⅞", 7 * INCH // 8),
            (".5 in", INCH // 2),
            ("5/4", 5 * INCH // 4),
            ("235 mm", 235 * MM),
            ("23.5cm", 235 * MM),
            ("23,5 cm", 235 * MM),
            ("23.5 Centimetres", 235 * MM),
            ("1.5 m", 150 * CM),
            ("1.5 METERS", 150 * CM),
            ("2 yd", 2 * YARD),
            ("1 ft 6 in", 18 * INCH),
            ("1' 6\"", 18 * INCH),
            ("1′6½″", 18 * INCH + INCH // 2),
            ("1 ft 6 1/2 in", 18 * INCH + INCH // 2),
            ("1 yd 2 ft 3 in", 63 * INCH),
            ("1 m 20 cm", 120 * CM),
            ("0.000125 mm", 1),
            ("100,000 m", 100_000 * METRE),
        ],
    )
    def test_other_units_and_forms(self, text: str, length: int) -> None:
        assert parse_length(text) == length

    @pytest.mark.parametrize(
        ("text", "millimetres"),
        [
            ("1,250 mm", 1250),  # could be both: thousands
            ("12,250 mm", 12_250),
            ("1,250.5 mm", Fraction("1250.5")),
            ("1,25 mm", Fraction("1.25")),
            ("1,2505 mm", Fraction("1.2505")),
            ("0,125 mm", Fraction("0.125")),  # no number of thousands begins with 0
            ("1250,500 mm", Fraction("1250.5")),  # nor with four digits
        ],
    )
    def test_a_comma_before_exactly_three_digits_is_for_thousands(
        self, text: str, millimetres: Fraction | int
    ) -> None:
        assert parse_length(text) == millimetres * MM

    @pytest.mark.parametrize(("unit", "length"), [(LengthUnit.MM, 12 * MM), (LengthUnit.YARD, 12 * YARD)])
    def test_a_number_alone_is_in_the_unit_of_its_column(self, unit: LengthUnit, length: int) -> None:
        assert parse_length("12", unit) == length

    def test_a_written_unit_wins_over_that_of_its_column(self) -> None:
        assert parse_length("12 in", LengthUnit.MM) == 12 * INCH

    def test_zero_is_read_only_where_it_is_allowed(self) -> None:
        assert parse_length("0", zero=True) == parse_length("0.0 mm", None, zero=True) == 0


class TestRefusing:
    @pytest.mark.parametrize(
        ("text", "why"),
        [
            ("", "it is empty"),
            ("   ", "it is empty"),
            ("abc", "there is no number where 'abc' stands"),
            ("nan", "there is no number where 'nan' stands"),
            ("inf", "there is no number where 'inf' stands"),
            ("in", "there is no number where 'in' stands"),
            ("=1+1", "there is no number where '=1\\+1' stands"),
            ("-3 in", "a minus sign stands before '3 in'"),
            ("−3 in", "a minus sign stands before '3 in'"),
            ("9 - 1/4", "a minus sign stands before '1/4'"),
            ("1e5", "the unit 'e' is not known here"),
            ("9 furlongs", "the unit 'furlongs' is not known here"),
            ("12 x 12 in", "the unit 'x' is not known here"),
            ("9²", "the unit '²' is not known here"),
            ("9 1/0", "1/0 divides by nothing"),
            ("9 4/4", "4/4 after a whole number must be less than one"),
            ("9 5/4", "5/4 after a whole number must be less than one"),
            ("9,5 1/4", "the fraction 1/4 may only follow a whole number"),
            ("9.5 1/4", "a number in it has no unit"),
            ("9 10", "a number in it has no unit"),
            ("1 ft 6", "a number in it has no unit"),
            ("1.2.3 mm", "'1.2.3' is not a number"),
            ("1,2,3 mm", "'1,2,3' is not a number"),
            ("1.250,5 mm", "'1.250,5' is not a number"),
            ("1 ft 15 in", "each part must be smaller than one of the unit before it"),
            ("1 ft 12 in", "each part must be smaller than one of the unit before it"),
            ("6 in 0.01 ft", "each part must be smaller than one of the unit before it"),
            ("6 in 1 ft", "each part must be smaller than one of the unit before it"),
            ("0 in", "it is zero"),
            ("0/4", "it is zero"),
            ("100,001 m", "it is more than 100 km"),
            ("9" * 150, "it is more than 100 km"),
            ("9" * 5000, "it is longer than 200 characters"),
            ("٣ in", "there is no number where '٣ in' stands"),
        ],
    )
    def test_what_is_no_length_says_what_why_and_what_is_allowed(self, text: str, why: str) -> None:
        shown = text if len(text) <= 60 else text[:60] + "…"

        with pytest.raises(LengthError, match=why) as caught:
            parse_length(text)

        assert str(caught.value).startswith(f"{shown!r} is not a length: ")
        assert str(caught.value).endswith(
            ". Write a length above zero, at most 100 km, such as "
            "9 1/4 in, 9.25 in, 235 mm, 23.5 cm, 1.5 m, 2 yd or 1 ft 6 in"
        )

    def test_a_third_of_an_inch_names_its_neighbours(self) -> None:
        # 203,200 / 3 = 67,733 1/3; 67,733 / 8,000 = 8.466625
        with pytest.raises(LengthError, match=r"nearest: 8\.466625 mm or 8\.46675 mm"):
            parse_length("1/3 in")

    def test_less_than_an_eighth_of_a_micrometre_names_only_what_is_above(self) -> None:
        with pytest.raises(LengthError, match=r"nearest: 0\.000125 mm\)"):
            parse_length("0.00001 mm")

    def test_a_number_alone_needs_a_unit_where_the_column_has_none(self) -> None:
        with pytest.raises(LengthError, match="'9 1/4' is not a length: it has no unit"):
            parse_length("9 1/4", None)

    def test_a_negative_length_is_not_printed(self) -> None:
        with pytest.raises(ValueError, match="no measure is negative"):
            format_length(-1)

    def test_an_error_keeps_its_parts_through_a_job_queue(self) -> None:
        error = pickle.loads(pickle.dumps(LengthError("abc", "it is odd")))  # noqa: S301 - made in this line

        assert (error.read, error.why) == ("abc", "it is odd")

    @given(st.text(max_size=30))
    def test_any_text_is_a_length_or_a_length_error(self, text: str) -> None:
        with suppress(LengthError):
            assert parse_length(text) > 0


class TestPrinting:
    @pytest.mark.parametrize(
        ("length", "unit", "text"),
        [
            (NINE_AND_A_QUARTER, LengthUnit.INCH, "9 1/4 in"),
            (INCH // 64, LengthUnit.INCH, "1/64 in"),
            (12 * INCH, LengthUnit.INCH, "12 in"),
            (INCH // 100, LengthUnit.INCH, "0.01 in"),
            (235 * MM, LengthUnit.INCH, "235 mm"),  # 9 32/127 in: no decimal of an inch ends there
            (NINE_AND_A_QUARTER, LengthUnit.MM, "234.95 mm"),
            (235 * MM, LengthUnit.CM, "23.5 cm"),
            (1, LengthUnit.METRE, "0.000000125 m"),
            (FOOT + INCH * 6, LengthUnit.FOOT, "1.5 ft"),
            (FOOT + INCH, LengthUnit.FOOT, "13 in"),
            (2 * YARD, LengthUnit.YARD, "2 yd"),
            (0, LengthUnit.INCH, "0 in"),
        ],
    )
    def test_a_length_is_printed_in_its_unit_or_in_one_that_is_exact(
        self, length: int, unit: LengthUnit, text: str
    ) -> None:
        assert format_exact(length, unit) == text

    @pytest.mark.parametrize(
        ("length", "text"),
        [
            (NINE_AND_A_QUARTER, "9 1/4 in"),
            (235 * MM, "235 mm"),
            (254 * MM, "10 in"),
            (INCH // 100, "0.254 mm"),
        ],
    )
    def test_files_get_fractions_of_an_inch_or_millimetres(self, length: int, text: str) -> None:
        assert format_length(length) == text

    @given(lengths, st.sampled_from(LengthUnit))
    def test_what_is_printed_is_read_back(self, length: int, unit: LengthUnit) -> None:
        assert parse_length(format_exact(length, unit), None) == length

    @given(st.integers(1, 64 * 1000), st.sampled_from([INCH // 64, MM // 10, MM]))
    def test_what_a_ruler_measures_is_read_back_from_a_file(self, marks: int, step: int) -> None:
        assert parse_length(format_length(marks * step), None) == marks * step

    @given(lengths)
    def test_every_length_is_read_back_from_a_file(self, length: int) -> None:
        assert parse_length(format_length(length), None) == length
