"""Rulers: which lengths they hold, and what they say of the others."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.measures import INCH, METRE, MM, RULERS, LengthUnit, Ruler, UnknownRulerError, parse_length, ruler

EIGHTHS = ruler("1/8 in")
HALF_MILLIMETRES = ruler("0.5 mm")

lengths = st.integers(min_value=0, max_value=10 * METRE)
rulers = st.sampled_from(RULERS)


class TestSizesOfTheTrade:
    @pytest.mark.parametrize(
        ("name", "width", "height"),
        [
            # ISO 216, at papergrease.com
            ("A0", 841, 1189),
            ("A1", 594, 841),
            ("A2", 420, 594),
            ("A3", 297, 420),
            ("A4", 210, 297),
            ("A5", 148, 210),
            ("A6", 105, 148),
            ("A7", 74, 105),
            ("B0", 1000, 1414),
            ("B1", 707, 1000),
            ("B2", 500, 707),
            ("B3", 353, 500),
            ("B4", 250, 353),  # a size library prints 352, which ISO 216 does not
            ("B5", 176, 250),
            ("B6", 125, 176),
            # ISO 217, at papergrease.com
            ("RA0", 860, 1220),
            ("RA1", 610, 860),
            ("RA2", 430, 610),
            ("RA3", 305, 430),
            ("RA4", 215, 305),
            ("SRA0", 900, 1280),
            ("SRA1", 640, 900),
            ("SRA2", 450, 640),
            ("SRA3", 320, 450),
            ("SRA4", 225, 320),
        ],
    )
    def test_iso_sheets_are_on_the_millimetre_ruler(self, name: str, width: int, height: int) -> None:
        sides = [parse_length(f"{side} mm") for side in (width, height)]

        assert [ruler("1 mm").format(side) for side in sides] == [f"{width} mm", f"{height} mm"], name

    @pytest.mark.parametrize(
        "inches", ["17", "19", "20", "22", "23", "25", "26", "28", "29", "35", "38", "40"]
    )
    def test_us_parent_sheets_are_on_every_inch_ruler(self, inches: str) -> None:
        # Common parent sheets 17x22 ... 28x40 in: from memory
        side = parse_length(inches)

        assert {each.format(side) for each in RULERS if each.unit is LengthUnit.INCH} == {f"{inches} in"}

    def test_a4_is_on_no_inch_ruler(self) -> None:
        # 210 mm = 8 1/4 in (209.55 mm) + 0.45 mm
        assert EIGHTHS.format(210 * MM) == "8 1/4 in plus 0.45 mm (not on a 1/8 in mark)"


class TestReadingOff:
    @pytest.mark.parametrize(
        ("name", "text", "said"),
        [
            ("1/8 in", "9 1/4", "9 1/4 in"),
            ("1/8 in", "1/8", "1/8 in"),
            ("1/8 in", "12", "12 in"),
            ("1/32 in", "2/32", "1/16 in"),
            ("0.5 mm", "235 mm", "235 mm"),
            ("0.5 mm", "23.5 mm", "23.5 mm"),
            ("1/8 in", "234.55 mm", "9 1/4 in less 0.4 mm (not on a 1/8 in mark)"),
            ("1/8 in", "9 17/64", "9 1/4 in plus 1/64 in (not on a 1/8 in mark)"),
            ("0.5 mm", "9 1/4", "235 mm less 0.05 mm (not on a 0.5 mm mark)"),
            ("1 mm", "23.5 mm", "24 mm less 0.5 mm (not on a 1 mm mark)"),  # half-way: the larger mark
            ("1 mm", "0.2 mm", "0.2 mm (not on a 1 mm mark)"),
        ],
    )
    def test_a_length_is_said_by_its_mark(self, name: str, text: str, said: str) -> None:
        assert ruler(name).format(parse_length(text)) == said

    def test_drawings_get_the_mark_without_unit_and_a_sign_when_beside_it(self) -> None:
        assert EIGHTHS.marks(parse_length("9 1/4")) == "9 1/4"
        assert EIGHTHS.marks(parse_length("235 mm")) == "≈9 1/4"
        assert HALF_MILLIMETRES.marks(parse_length("23.5 mm")) == "23.5"

    @given(lengths, rulers)
    def test_the_nearest_mark_is_a_mark_within_half_a_step(self, length: int, each: Ruler) -> None:
        mark = each.nearest(length)

        assert each.holds(mark)
        assert 2 * abs(mark - length) <= each.step

    @given(lengths, rulers)
    def test_a_ruler_holds_exactly_the_lengths_that_are_their_own_nearest_mark(
        self, length: int, each: Ruler
    ) -> None:
        assert each.holds(length) == (each.nearest(length) == length)

    @given(st.integers(1, 10_000), rulers)
    def test_a_length_on_a_mark_is_read_back(self, steps: int, each: Ruler) -> None:
        length = steps * each.step

        assert parse_length(each.format(length)) == parse_length(each.marks(length), each.unit) == length

    @given(lengths, rulers)
    def test_what_is_said_of_a_length_is_exact(self, length: int, each: Ruler) -> None:
        said = each.format(length).partition(" (")[0]
        mark, side, beside = said.partition(" less ") if " less " in said else said.partition(" plus ")
        gap = parse_length(beside) if side else 0

        assert parse_length(mark, zero=True) + (-gap if side == " less " else gap) == length


class TestFinding:
    @pytest.mark.parametrize("name", ["1/8 in", "1/16 in", "1/32 in", "0.5 mm", "1 mm"])
    def test_every_ruler_has_a_step_of_its_name(self, name: str) -> None:
        assert ruler(name).step == parse_length(name)

    def test_spaces_and_case_do_not_matter(self) -> None:
        assert ruler("  1/8   IN ") is EIGHTHS

    def test_an_unknown_ruler_is_answered_with_those_there_are(self) -> None:
        with pytest.raises(UnknownRulerError) as caught:
            ruler("1/10 in")

        assert str(caught.value) == (
            "'1/10 in' is not a ruler: there is none of that name. "
            "The rulers are 1/8 in, 1/16 in, 1/32 in, 0.5 mm, 1 mm"
        )

    def test_a_ruler_without_a_step_is_refused(self) -> None:
        with pytest.raises(ValueError, match="must be apart"):
            Ruler("none", 0, LengthUnit.INCH)

    def test_an_inch_is_on_every_inch_ruler(self) -> None:
        assert [each.holds(INCH) for each in RULERS] == [True, True, True, False, False]
