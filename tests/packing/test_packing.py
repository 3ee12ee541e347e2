"""Packing: cartons chosen for whole boxes, wrapping in every parcel, minutes, and what does not fit told."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.measures import INCH, MM
from planning.packing import (
    BoxProblem,
    BoxSpec,
    Carton,
    Container,
    PackingProblem,
    PackItem,
    PackLine,
    PostLimit,
    packing_faults,
    plan_packing,
)
from planning.roster import Contents
from tests.support.effort import examples

FULL = Contents(tier="FULL")
# common practice, no source: 12 x 12 in sheets travel flat in a box 12 1/2 in square inside
CARTON = Carton(
    container=Container(
        item="material:BOX",
        name="Flat carton",
        weight=Fraction(180),
        inside=(25 * INCH // 2, 25 * INCH // 2, 25 * MM),
        outside=(13 * INCH, 13 * INCH, 28 * MM),
    )
)
SHEET = PackItem(
    item="material:GREY",
    name="Grey",
    weight=Fraction(20),
    paper=True,
    width=12 * INCH,
    height=12 * INCH,
    thickness=Fraction(3 * MM, 10),
)
BEADS = PackItem(item="material:BEADS", name="Beads", weight=Fraction(15, 2), thickness=Fraction(4 * MM))
LABEL = PackItem(
    item="material:LABEL", name="Label", weight=Fraction(2), thickness=Fraction(MM), packaging=True
)


def question(*lines: PackLine, cartons: tuple[Carton, ...] = (CARTON,), **more: Any) -> PackingProblem:
    box = BoxProblem(
        contents=FULL,
        boxes=10,
        lines=lines,
        cartons=cartons,
        wrapping=more.pop("wrapping", ()),
    )
    return PackingProblem(
        boxes=(box,),
        flat_clearance=INCH // 4,
        weight_tolerance=Decimal(5),
        minutes_per_box=Decimal("1.5"),
        minutes_per_line=Decimal("0.25"),
        minutes_per_parcel=Decimal("0.75"),
        **more,
    )


def pack(*lines: PackLine, **more: Any) -> BoxSpec:
    problem = question(*lines, **more)
    result = plan_packing(problem)
    assert packing_faults(problem, result) == ()
    return result.boxes[0]


def test_it_weighs_stacks_and_times_a_box() -> None:
    spec = pack(PackLine(item=SHEET, count=9), PackLine(item=BEADS, count=2))
    assert spec.weight == 180 + 9 * 20 + 15  # carton, nine sheets, two bags
    assert spec.heaviest == spec.weight + 9  # five percent of the 180 g that are paper
    assert spec.stack == Fraction(27, 10) * MM + 8 * MM
    assert spec.spare_depth == 25 * MM - spec.stack
    assert spec.minutes == 2  # 1.5 and two lines
    assert spec.faults == ()


def test_wrapping_lies_in_every_parcel_and_extra_parcels_take_time() -> None:
    # 7 bags of 4 mm and a label of 1 mm: 25 mm take 6 bags beside the label, so there are two parcels
    spec = pack(PackLine(item=BEADS, count=7), wrapping=(PackLine(item=LABEL, count=1),))
    assert [sorted((line.item.name, line.count) for line in one.lines) for one in spec.parcels] == [
        [("Beads", 6), ("Label", 1)],
        [("Beads", 1), ("Label", 1)],
    ]
    assert spec.held == {"material:BEADS": 7, "material:LABEL": 2, "material:BOX": 2}
    assert spec.packed_in == "2 x Flat carton"
    assert spec.weight == 2 * 180 + 7 * Fraction(15, 2) + 2 * 2
    assert spec.minutes == Decimal("1.5") + 2 * Decimal("0.25") + Decimal("0.75")


def test_a_thing_ordered_besides_that_wraps_too_is_one_line() -> None:
    spec = pack(PackLine(item=LABEL, count=3), wrapping=(PackLine(item=LABEL, count=1),))
    assert [(line.item.name, line.count) for line in spec.lines] == [("Label", 4)]


def test_a_sheet_as_large_as_the_carton_less_the_clearance_lies_flat() -> None:
    assert pack(PackLine(item=replace(SHEET, width=49 * INCH // 4), count=1)).faults == ()


def test_a_sheet_a_hair_larger_is_told_and_packed_with_the_rest_all_the_same() -> None:
    large = replace(SHEET, width=49 * INCH // 4 + 1)
    spec = pack(PackLine(item=large, count=1), PackLine(item=BEADS, count=1))
    (fault,) = spec.faults
    assert "Grey fits no carton by itself (Flat carton: " in fault
    assert "does not lie flat with 1/4 in to spare" in fault
    (parcel,) = spec.parcels
    assert {line.item.name for line in parcel.lines} == {"Grey", "Beads"}


def test_what_is_too_high_for_any_carton_is_told_with_the_measure() -> None:
    (fault,) = pack(PackLine(item=replace(BEADS, thickness=Fraction(28 * MM)), count=1)).faults
    assert "3.0 mm too high" in fault


def test_a_box_without_a_carton_is_told() -> None:
    spec = pack(PackLine(item=SHEET, count=1), cartons=())
    assert spec.faults == ("no carton is named for it",)
    assert spec.parcels == ()


def test_a_parcel_just_over_a_limit_is_told_with_the_carton_that_brings_it_under() -> None:
    thin = replace(
        CARTON,
        container=replace(
            CARTON.container,
            item="material:THIN",
            name="Thin carton",
            inside=(25 * INCH // 2, 25 * INCH // 2, 22 * MM),
            outside=(13 * INCH, 13 * INCH, 25 * MM),
        ),
        price=Decimal("0.10"),  # dearer, so not taken by itself
    )
    limit = PostLimit(name="the large letter", thickness=25 * MM)
    spec = pack(PackLine(item=SHEET, count=9), cartons=(CARTON, thin), limits=(limit,), near=Decimal(15))
    ((over,),) = (one.just_over for one in spec.parcels)
    assert over.words == "is over the large letter by 3.0 mm: pack it in Thin carton"


items = st.builds(
    lambda name, grams, high, paper: PackItem(
        item=name, name=name, weight=Fraction(grams), thickness=Fraction(high), paper=paper
    ),
    st.sampled_from("ABCD"),
    st.integers(0, 400),
    st.integers(0, 12 * MM),
    st.booleans(),
)
lines = st.lists(
    st.builds(lambda item, count: PackLine(item=item, count=count), items, st.integers(1, 5)),
    max_size=4,
    unique_by=lambda line: line.item.item,
)


@settings(max_examples=examples(150), deadline=None)
@given(lines, st.integers(0, 20 * MM), st.none() | st.integers(300, 1500))
def test_every_packing_stands_the_checker(asked: list[PackLine], label: int, most: int | None) -> None:
    carton = replace(CARTON, most=None if most is None else Fraction(most))
    wrapping = (PackLine(item=replace(LABEL, thickness=Fraction(label)), count=1),)
    limit = PostLimit(name="2 cm or 1 kg", thickness=28 * MM, weight=Fraction(1000))
    problem = question(*asked, cartons=(carton,), wrapping=wrapping, limits=(limit,))
    assert packing_faults(problem, plan_packing(problem)) == ()


@pytest.mark.parametrize(
    "changes",
    [{"minutes": Decimal(1)}, {"parcels": ()}, {"lines": ()}, {"least": 3}],
)
def test_the_checker_finds_a_wrong_packing(changes: dict[str, Any]) -> None:
    problem = question(PackLine(item=BEADS, count=7))
    result = plan_packing(problem)
    wrong = replace(result, boxes=(replace(result.boxes[0], **changes),))
    assert packing_faults(problem, wrong)
