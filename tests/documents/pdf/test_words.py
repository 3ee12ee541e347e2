from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from kits.catalogue import Grain, Material, MaterialKind
from kits.measures import INCH, METRE, MM, YARD, BasicSize, Grammage
from planning.documents.pdf import words
from planning.names import contents_words, names_of
from planning.roster import Change, Contents
from tests.documents.small_month import MONTH

COVER = Material(
    code="C80",
    name="Cover",
    kind=MaterialKind.SHEET,
    width=12 * INCH,
    height=12 * INCH,
    grain=Grain.HEIGHT,
    grammage=Grammage(Fraction(80), BasicSize.COVER),
)
CARTON = Material(
    code="BOX",
    name="Carton",
    kind=MaterialKind.PACKAGING,
    width=330 * MM,
    height=330 * MM,
    inside_width=25 * INCH // 2,
    inside_height=25 * INCH // 2,
    inside_depth=INCH,
)


def test_a_day_has_its_weekday() -> None:
    assert words.day(date(2027, 3, 3)) == "Wed 3 Mar 2027"
    assert words.day(None) == "no date"


def test_a_count_knows_one_from_many() -> None:
    assert words.count(1, "sheet") == "1 sheet"
    assert words.count(1200, "box", "boxes") == "1,200 boxes"


@pytest.mark.parametrize(
    ("quantity", "pack", "text"),
    [
        (100, 25, "4 packs of 25"),
        (103, 25, "4 packs of 25 and 3"),
        (25, 25, "1 pack of 25"),
        (7, 25, "from a pack of 25"),
    ],
)
def test_a_quantity_in_packs(quantity: int, pack: int, text: str) -> None:
    assert words.packs(quantity, pack) == text


def test_a_size_names_its_unit_once_when_both_sides_share_it() -> None:
    assert words.size(12 * INCH, 12 * INCH) == "12 x 12 in"
    assert words.size(210 * MM, 297 * MM) == "210 x 297 mm"
    assert words.size(12 * INCH, 297 * MM) == "12 in x 297 mm"


def test_weights_are_rounded_half_up_and_in_pounds_too_on_letter_paper() -> None:
    assert words.weight(Fraction(9995, 10), "A4") == "1,000 g"
    assert words.weight(Fraction(1245), "A4") == "1.25 kg"
    # 453.59237 g are one pound (international yard and pound agreement of 1959, from memory).
    assert words.weight(Fraction("907.18474"), "Letter") == "907 g (2.00 lb)"


def test_a_stack_is_as_high_in_the_clubs_own_units() -> None:
    assert words.height(Fraction(3 * INCH, 2), "Letter") == "1.50 in"
    assert words.height(Fraction(605 * MM, 10), "A4") == "60.5 mm"


def test_a_roll_is_as_long_in_the_unit_that_says_it_shortest() -> None:
    assert words.long_length(25 * METRE) == "25 m"
    assert words.long_length(10 * YARD) == "10 yd"


def test_the_grain_is_told_by_the_side_it_runs_along() -> None:
    assert words.grain(Grain.HEIGHT, 25 * INCH, 38 * INCH) == "along the 38 in side"
    assert words.grain(Grain.HEIGHT, 12 * INCH, 12 * INCH) == "along the height"
    assert words.grain(Grain.NONE, 25 * INCH, 38 * INCH) == "not known"


def test_a_supplier_reads_what_a_material_is() -> None:
    assert words.material_words(COVER) == "12 x 12 in, 80 lb cover, grain along the height"
    roll = replace(
        COVER, kind=MaterialKind.ROLL, width=None, height=None, grammage=None, roll_length=25 * METRE
    )
    assert words.material_words(roll) == "rolls of 25 m"
    assert words.material_words(CARTON) == "330 x 330 mm outside, 12 1/2 x 12 1/2 x 1 in inside"


def test_a_box_is_named_in_the_clubs_own_words() -> None:
    names = names_of(MONTH)
    swapped = (
        Change(item="material:BRAD", count=2, why="country", instead="piece:TAG"),
        Change(item="material:RIB", count=-1, why="every box"),
        Change(item="piece:TAG", count=-2, why="country"),
    )
    assert contents_words(Contents(tier="DLX", changes=swapped), names) == (
        "Deluxe, 2 Brass brad instead of Tag (country), without 1 Ribbon, sand (every box)"
    )
    goods = Contents(
        tier="STD", kit=False, besides=(Change(item="material:BRAD", count=10, why="add-on order"),)
    )
    assert contents_words(goods, names) == "Goods only, 10 Brass brad (add-on order)"
