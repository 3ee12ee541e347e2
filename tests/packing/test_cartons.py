"""Cartons: flat size, height, weight; a second parcel; what is just over a limit and what would bring it under."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.measures import CM, INCH, MM
from planning.packing import Container, PackItem, PackLine
from planning.packing.cartons import (
    Carton,
    CartonError,
    CartonsProblem,
    PackedBox,
    PostLimit,
    Remedy,
    ToPack,
    cartons_faults,
    plan_cartons,
)
from planning.packing.cartons.room import Need
from planning.packing.cartons.split import Units, first_fit
from tests.support.effort import examples

D = Decimal


def carton(
    code: str,
    inside: tuple[int, int, int],
    *,
    grams: int = 100,
    price: str = "1",
    most: int | None = None,
    soft: bool = False,
    walls: int = 2 * MM,
) -> Carton:
    a, b, c = inside
    return Carton(
        container=Container(
            item=code,
            name=f"{code} carton",
            weight=Fraction(grams),
            inside=inside,
            outside=(a + walls, b + walls, c + walls),
        ),
        most=None if most is None else Fraction(most),
        price=D(price),
        soft=soft,
    )


SQUARE = 25 * INCH // 2
# common practice, no source: 12 x 12 in sheets travel flat in a box 12 1/2 in square inside
FLAT = carton("flat", (SQUARE, SQUARE, 25 * MM), price="1")
DEEP = carton("deep", (SQUARE, SQUARE, 60 * MM), price="2", grams=200)
ENVELOPE = carton("soft", (SQUARE, SQUARE, 40 * MM), price="3", grams=50, soft=True, walls=MM)
SHEET = PackItem(
    item="grey",
    name="Grey",
    weight=Fraction(20),
    paper=True,
    width=12 * INCH,
    height=12 * INCH,
    thickness=Fraction(3 * MM, 10),
)
REEL = PackItem(item="reel", name="Ribbon reel", weight=Fraction(30), thickness=Fraction(20 * MM))


def question(
    *lines: tuple[PackItem, int], cartons: tuple[Carton, ...] = (FLAT, DEEP), **more: object
) -> CartonsProblem:
    box = ToPack(name="Box 1", lines=tuple(PackLine(item=item, count=count) for item, count in lines))
    problem = CartonsProblem(boxes=(box,), cartons=cartons, clearance=INCH // 2, weight_tolerance=D(5))
    return replace(problem, **more)  # type: ignore[arg-type]


def packed(problem: CartonsProblem) -> PackedBox:
    result = plan_cartons(problem)
    assert cartons_faults(problem, result) == ()
    return result.boxes[0]


def test_sheets_and_a_reel_in_the_cheapest_carton_that_takes_them() -> None:
    (parcel,) = packed(question((SHEET, 10), (REEL, 1))).parcels
    assert parcel.carton == FLAT
    assert parcel.stack == 23 * MM  # ten sheets of 0.3 mm and a reel of 20 mm
    assert parcel.spare_depth == 2 * MM
    assert parcel.weight == 100 + 200 + 30
    assert parcel.heaviest == parcel.weight + 10  # 5 % of the 200 g that are paper


def test_one_sheet_too_high_takes_the_deeper_carton() -> None:
    assert packed(question((SHEET, 16), (REEL, 1))).parcels[0].carton == FLAT  # 24.8 mm
    assert packed(question((SHEET, 17), (REEL, 1))).parcels[0].carton == DEEP  # 25.1 mm


def test_twelve_inch_sheets_need_the_whole_clearance() -> None:
    small = carton("small", (SQUARE - 1, SQUARE, 25 * MM), price="0.10")
    assert packed(question((SHEET, 1), cartons=(small, FLAT))).parcels[0].carton == FLAT


def test_a_sheet_may_lie_the_other_way_round() -> None:
    long = replace(SHEET, width=10 * CM, height=20 * CM)
    narrow = carton("narrow", (11 * CM + INCH, 21 * CM + INCH, 25 * MM))
    turned = carton("turned", (21 * CM + INCH, 11 * CM + INCH, 25 * MM))
    assert packed(question((long, 1), cartons=(narrow,))).parcels
    assert packed(question((long, 1), cartons=(turned,))).parcels


def test_what_does_not_fit_goes_into_a_second_parcel() -> None:
    box = packed(question((SHEET, 40), (REEL, 3)))  # 72 mm; the deep carton takes 60
    assert len(box.parcels) == box.least == 2
    assert box.proved


def test_a_carton_carries_only_so_much() -> None:
    weak = replace(FLAT, most=Fraction(100))
    box = packed(question((SHEET, 8), cartons=(weak,)))  # four sheets of 21 g at the heaviest, five are 105 g
    assert sorted(sum(line.count for line in parcel.lines) for parcel in box.parcels) == [4, 4]


def test_a_number_that_height_alone_allows_may_still_be_too_small() -> None:
    three = [
        replace(REEL, item=name, thickness=Fraction(thick * MM))
        for name, thick in zip("abc", (15, 15, 15), strict=True)
    ]
    box = packed(question(*((item, 1) for item in three), cartons=(FLAT,)))  # 45 mm of 50, but no two in 25
    assert len(box.parcels) == box.least == 3


def test_the_search_finds_what_first_fit_does_not() -> None:
    # first fit puts 12 + 11 and 7 + 6 + 5 + 5 together and has 3 left; 12 + 7 + 6 and 11 + 5 + 5 + 3 are two
    thick = [12, 11, 7, 6, 5, 5, 3]
    units = [Units(Need(stack=Fraction(mm)), 1) for mm in thick]
    assert len(first_fit(units, lambda wanted: wanted.stack <= 25)) == 3
    items = [replace(REEL, item=f"r{at}", thickness=Fraction(mm * MM)) for at, mm in enumerate(thick)]
    box = packed(question(*((item, 1) for item in items), cartons=(FLAT,)))
    assert len(box.parcels) == 2
    assert box.proved


def test_what_fits_no_carton_is_left_and_named() -> None:
    poster = replace(SHEET, item="poster", name="Poster", width=60 * CM)
    box = packed(question((SHEET, 2), (poster, 1)))
    assert [line.item.name for line in box.left] == ["Poster"]
    assert [line.item.name for line in box.parcels[0].lines] == ["Grey"]
    (fault,) = box.faults
    assert "Poster fits no carton by itself" in fault
    assert "does not lie flat" in fault
    lead = replace(REEL, weight=Fraction(500), thickness=Fraction(30 * MM))
    (fault,) = packed(question((lead, 1), cartons=(replace(FLAT, most=Fraction(400)),))).faults
    assert "5.0 mm too high and 100 g too heavy" in fault


def test_no_cartons_at_all() -> None:
    (fault,) = packed(question((SHEET, 1), cartons=())).faults
    assert "there is no carton to choose from" in fault


def test_nothing_to_pack_is_no_parcel() -> None:
    assert packed(question()).parcels == ()


# Royal Mail's formats page: a large letter is at most 25 mm thick and 750 g
LETTER = PostLimit(name="large letter", thickness=25 * MM, weight=Fraction(750))


def test_a_parcel_just_too_thick_is_told_with_what_would_help() -> None:
    # 16 sheets and a reel are 24.8 mm, in an envelope of 1 mm 25.8: 0.8 mm too much
    box = packed(question((SHEET, 16), (REEL, 1), cartons=(ENVELOPE,), limits=(LETTER,)))
    (flag,) = box.parcels[0].just_over
    assert flag.over == (8 * MM // 10, Fraction(0))
    assert {(cure.remedy, cure.item, cure.amount) for cure in flag.cures} == {
        (Remedy.FEWER, "grey", 3),  # 0.9 mm
        (Remedy.FEWER, "reel", 1),
        (Remedy.THINNER, "grey", Fraction(MM, 4)),  # 16 in the 4 mm beside the reel
    }
    assert flag.words == (
        "is over large letter by 0.8 mm: take out 3 of Grey; or Grey no thicker than 0.25 mm a sheet"
    )


def test_a_thinner_carton_on_the_list_is_the_first_thing_told() -> None:
    rigid = carton("rigid", (SQUARE, SQUARE, 24 * MM), price="1")
    thin = carton("thin", (SQUARE, SQUARE, 24 * MM), price="5", walls=MM)
    box = packed(question((SHEET, 10), (REEL, 1), cartons=(rigid, thin), limits=(LETTER,)))
    (flag,) = box.parcels[0].just_over
    assert flag.cures[0].words == "pack it in thin carton"


def test_a_parcel_that_is_over_only_if_its_paper_is_heavy() -> None:
    # 30 sheets: 600 g and a carton of 130 are 730; five percent more paper is 760
    heavy = carton("c", (SQUARE, SQUARE, 20 * MM), grams=130)
    box = packed(question((SHEET, 30), cartons=(heavy,), limits=(LETTER,)))
    (flag,) = box.parcels[0].just_over
    assert flag.only_if_heavy
    assert flag.over == (0, Fraction(10))
    amounts = {cure.remedy: cure.amount for cure in flag.cures}
    assert amounts == {
        Remedy.FEWER: 1,  # 21 g
        Remedy.LIGHTER: Fraction("19.6"),  # 620 g / 31.5 = 19.68, told to a tenth
    }


def test_a_parcel_far_over_is_another_format_and_not_told() -> None:
    box = packed(question((SHEET, 20), (REEL, 1), cartons=(ENVELOPE,), limits=(LETTER,)))  # 27 mm: 8 %
    assert box.parcels[0].just_over
    box = packed(question((SHEET, 25), (REEL, 1), cartons=(ENVELOPE,), limits=(LETTER,)))  # 28.5 mm: 14 %
    assert not box.parcels[0].just_over


def test_at_the_limit_is_under_it() -> None:
    exact = replace(SHEET, thickness=Fraction(24 * MM, 16))
    assert not packed(question((exact, 16), cartons=(ENVELOPE,), limits=(LETTER,))).parcels[0].just_over


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: carton("c", (0, CM, CM)),
        lambda: carton("c", (CM, CM, CM), walls=-1),
        lambda: ToPack(name="B", lines=(PackLine(item=SHEET, count=0),)),
        lambda: ToPack(name="B", lines=(PackLine(item=SHEET, count=1),) * 2),
        lambda: plan_cartons(question((SHEET, 1), cartons=(FLAT, FLAT))),
    ],
)
def test_rows_that_cannot_be_are_refused(wrong: object) -> None:
    assert callable(wrong)
    with pytest.raises(CartonError):
        wrong()


def test_the_checker_finds_a_wrong_packing() -> None:
    problem = question((SHEET, 17), (REEL, 1), limits=(LETTER,))
    result = plan_cartons(problem)
    box = result.boxes[0]
    parcel = box.parcels[0]
    for wrong in (
        {"carton": FLAT},
        {"heaviest": parcel.weight},
        {"stack": Fraction(0)},
        {"lines": parcel.lines[:1]},
    ):
        bad = replace(result, boxes=(replace(box, parcels=(replace(parcel, **wrong),)),))
        assert cartons_faults(problem, bad)
    split = tuple(replace(parcel, lines=(line,)) for line in parcel.lines)
    assert cartons_faults(problem, replace(result, boxes=(replace(box, parcels=split),)))
    assert cartons_faults(problem, replace(result, boxes=()))


things = st.lists(
    st.tuples(st.integers(1, 30), st.integers(0, 60), st.booleans(), st.integers(1, 3)),
    min_size=1,
    max_size=5,
)


@given(things=things, most=st.none() | st.integers(40, 200))
@settings(max_examples=examples(100), deadline=None)
def test_every_packing_stands_the_checker(things: list[tuple[int, int, bool, int]], most: int | None) -> None:
    lines = [
        (
            replace(REEL, item=str(at), thickness=Fraction(thick * MM), weight=Fraction(grams), paper=paper),
            count,
        )
        for at, (thick, grams, paper, count) in enumerate(things)
    ]
    cartons = tuple(
        replace(one, most=None if most is None else Fraction(most)) for one in (FLAT, DEEP, ENVELOPE)
    )
    problem = question(
        *lines, cartons=cartons, limits=(LETTER, PostLimit(name="light", weight=Fraction(300))), near=D(50)
    )
    assert packed(problem).proved


@given(thick=st.lists(st.integers(1, 25), min_size=1, max_size=6))
@settings(max_examples=examples(60), deadline=None)
def test_no_packing_has_fewer_parcels(thick: list[int]) -> None:
    items = [(replace(REEL, item=str(at), thickness=Fraction(mm * MM)), 1) for at, mm in enumerate(thick)]
    found = len(packed(question(*items, cartons=(FLAT,))).parcels)
    fewer = range(found - 1)
    for places in product(fewer, repeat=len(thick)):  # every way to use one parcel less
        heights = [sum(mm for mm, at in zip(thick, places, strict=True) if at == parcel) for parcel in fewer]
        assert max(heights) > 25
