"""Caliper: published thicknesses, stacks and lifts, and how thickness is typed."""

import inspect
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.measures import (
    INCH,
    MM,
    CaliperError,
    caliper,
    format_caliper,
    parse_caliper,
    parse_length,
    sheets_in,
    stack_height,
)

MIL = Fraction(INCH, 1000)
calipers = st.fractions(min_value=Fraction(MM, 1000), max_value=5 * MM, max_denominator=10_000)


class TestThicknessesOfTheTrade:
    def test_a_point_is_a_mil_is_25_4_micrometres(self) -> None:
        # Stated without a source; from 1 in = 25.4 mm
        assert parse_caliper("1 pt") == parse_caliper("1 mil") == parse_caliper("25.4 µm") == MIL

    @pytest.mark.parametrize(
        ("inches", "millimetres"),
        [  # JCP K10 index, 90, 110, 140 and 170 lb; and JCP L80 cast-coated cover, 10 pt
            ("0.0075 in", "0.190 mm"),
            ("0.0091 in", "0.230 mm"),
            ("0.0114 in", "0.290 mm"),
            ("0.0138 in", "0.350 mm"),
            ("0.010 in", "0.26 mm"),
        ],
    )
    def test_specifications_print_both_units_to_within_their_tolerance(
        self, inches: str, millimetres: str
    ) -> None:
        # The specifications allow +-0.0005 in = 0.5 mil
        assert abs(parse_caliper(inches) - parse_caliper(millimetres)) < MIL / 2

    @pytest.mark.parametrize(
        ("text", "mils"),
        [
            # JCP L70 (2008), C1S cover: by name
            ("8 pt", "8"),
            ("10 pt", "10"),
            ("12 pt", "12"),
            ("15 pt", "15"),
            ("24 pt", "24"),
            # JCP O-63 (2007), copier 20, 24 and 28 lb bond
            ("3.8 mil", "3.8"),
            ("4.1 mil", "4.1"),
            ("4.7 mil", "4.7"),
        ],
    )
    def test_points_and_mils_are_exact(self, text: str, mils: str) -> None:
        assert parse_caliper(text) == Fraction(mils) * MIL

    def test_pages_per_inch_of_gloss_cover(self) -> None:
        # 2 / 0.0095 = 210.53, printed 211 ppi (casepaper.com; recomputed)
        pages = 2 * INCH / parse_caliper("0.0095 in")

        assert (round(pages * 100), round(pages)) == (21053, 211)

    def test_the_same_weight_comes_in_two_thicknesses(self) -> None:
        # 100 lb cover: gloss 0.0095 in (casepaper.com), uncoated 11 mil (a guide table at info.5y1.org)
        assert parse_caliper("0.0095 in") < parse_caliper("11 mil")

    def test_so_thickness_is_nowhere_worked_out_from_weight(self) -> None:
        source = inspect.getsource(caliper)

        assert "measures.length" in source
        assert "measures.weight" not in source
        assert "measures.paper" not in source


class TestStacks:
    @pytest.mark.parametrize(
        ("inches", "sheets"),
        [  # sheets in 1.5 in: recomputed with exact fractions; 0.0075, 0.010 and 0.015 leave no remainder
            ("0.0075", 200),
            ("0.0091", 164),
            ("0.0095", 157),
            ("0.010", 150),
            ("0.0114", 131),
            ("0.0138", 108),
            ("0.015", 100),
        ],
    )
    def test_sheets_in_a_lift_of_an_inch_and_a_half(self, inches: str, sheets: int) -> None:
        assert sheets_in(parse_length("1 1/2 in"), parse_caliper(f"{inches} in")) == sheets

    def test_binary_floats_would_have_lost_a_sheet(self) -> None:
        # 0.3 in of 10 pt is 30 sheets, but 0.3 // 0.01 is 29.0
        assert 0.3 // 0.01 == 29
        assert sheets_in(parse_length("0.3 in"), parse_caliper("10 pt")) == 30

    def test_500_sheets_of_110_lb_index_are_4_55_in(self) -> None:
        # 500 x 0.0091: recomputed
        assert stack_height(500, parse_caliper("0.0091 in")) == parse_length("4.55 in")

    def test_no_thickness_no_count(self) -> None:
        with pytest.raises(ValueError, match="must be above zero"):
            sheets_in(INCH, Fraction(0))

    @given(st.integers(0, 10 * INCH), calipers)
    def test_a_lift_holds_all_its_sheets_and_not_one_more(self, height: int, thickness: Fraction) -> None:
        sheets = sheets_in(height, thickness)

        assert stack_height(sheets, thickness) <= height < stack_height(sheets + 1, thickness)

    @given(st.integers(0, 100_000), calipers)
    def test_a_stack_as_high_as_its_sheets_holds_them(self, sheets: int, thickness: Fraction) -> None:
        height = stack_height(sheets, thickness)

        assert sheets_in(-int(-height // 1), thickness) >= sheets


class TestTyping:
    @pytest.mark.parametrize(
        ("text", "thickness"),
        [
            ("9.1 mil", Fraction("9.1") * MIL),
            ("9.1mils", Fraction("9.1") * MIL),
            ("0.0091 in", Fraction("9.1") * MIL),
            ('0.0091"', Fraction("9.1") * MIL),
            ("10 pt", 10 * MIL),
            ("10 Points", 10 * MIL),
            ("10 thou", 10 * MIL),
            ("0.23 mm", Fraction("0.23") * MM),
            ("0,23 mm", Fraction("0.23") * MM),
            ("230 µm", Fraction("0.23") * MM),
            ("230 \N{GREEK SMALL LETTER MU}m", Fraction("0.23") * MM),
            ("230 um", Fraction("0.23") * MM),
            ("230 micron", Fraction("0.23") * MM),
            ("1/16 in", Fraction(INCH, 16)),
            ("50 mm", Fraction(50 * MM)),
        ],
    )
    def test_every_spelling(self, text: str, thickness: Fraction) -> None:
        assert parse_caliper(text) == thickness

    @pytest.mark.parametrize(
        ("text", "why"),
        [
            ("", "it is empty"),
            ("9.1", "it has no unit"),
            ("thick", "there is no number where 'thick' stands"),
            ("-9 mil", "a minus sign stands before '9 mil'"),
            ("80 lb", "the unit 'lb' is not known here"),
            ("0 mil", "it is zero"),
            ("9.1 in", "it is more than 50 mm"),
        ],
    )
    def test_what_is_no_thickness_says_what_why_and_what_is_allowed(self, text: str, why: str) -> None:
        with pytest.raises(CaliperError, match=why) as caught:
            parse_caliper(text)

        assert str(caught.value).startswith(f"{text!r} is not the thickness of a sheet: ")
        assert str(caught.value).endswith("9.1 mil, 10 pt, 0.0091 in, 0.23 mm or 230 µm")

    @pytest.mark.parametrize(
        ("text", "printed"),
        [("0.0091 in", "9.1 mil"), ("10 pt", "10 mil"), ("230 µm", "0.23 mm"), ("1/3 mil", "1/3 mil")],
    )
    def test_printed_in_mil_or_in_millimetres(self, text: str, printed: str) -> None:
        assert format_caliper(parse_caliper(text)) == printed

    def test_no_thickness_is_not_printed(self) -> None:
        with pytest.raises(ValueError, match="must be above zero"):
            format_caliper(Fraction(0))

    @given(calipers)
    def test_what_is_printed_is_read_back(self, thickness: Fraction) -> None:
        assert parse_caliper(format_caliper(thickness)) == thickness
