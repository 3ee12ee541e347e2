from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from kits.measures import INCH, MM
from planning.packing import BoxProblem, BoxSpec, Container, PackingProblem, PackItem, PackLine, plan_packing
from planning.roster import Contents

FULL = Contents(tier="FULL")
# common practice, no source: 12 x 12 in sheets travel flat in a box 12 1/2 in square inside
CARTON = Container(
    item="material:BOX",
    name="Flat carton",
    weight=Fraction(180),
    inside=(25 * INCH // 2, 25 * INCH // 2, 25 * MM),
    outside=(13 * INCH, 13 * INCH, 28 * MM),
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


def pack(*lines: PackLine, container: Container | None = CARTON) -> BoxSpec:
    box = BoxProblem(contents=FULL, boxes=10, lines=lines, container=container)
    problem = PackingProblem(
        boxes=(box,),
        flat_clearance=INCH // 4,
        weight_tolerance=Decimal(5),
        minutes_per_box=Decimal("1.5"),
        minutes_per_line=Decimal("0.25"),
    )
    return plan_packing(problem).boxes[0]


def test_it_weighs_stacks_and_times_a_box() -> None:
    spec = pack(PackLine(item=SHEET, count=9), PackLine(item=BEADS, count=2))
    assert spec.weight == 180 + 9 * 20 + 15  # carton, nine sheets, two bags
    assert spec.heaviest == spec.weight + 9  # five percent of the 180 g that are paper
    assert spec.stack == Fraction(27, 10) * MM + 8 * MM
    assert spec.spare_depth == 25 * MM - spec.stack
    assert spec.minutes == 2  # 1.5 and two lines
    assert spec.faults == ()


def test_a_sheet_as_large_as_the_carton_less_the_clearance_lies_flat() -> None:
    assert pack(PackLine(item=replace(SHEET, width=49 * INCH // 4), count=1)).faults == ()


def test_a_sheet_a_hair_larger_does_not() -> None:
    faults = pack(PackLine(item=replace(SHEET, width=49 * INCH // 4 + 1), count=1)).faults
    assert len(faults) == 1
    assert "Grey" in faults[0]
    assert "does not lie flat in Flat carton" in faults[0]


def test_an_oblong_sheet_may_lie_either_way_round() -> None:
    flat = replace(CARTON, inside=(9 * INCH, 25 * INCH // 2, 25 * MM))
    sheet = replace(SHEET, width=12 * INCH, height=17 * INCH // 2)
    assert pack(PackLine(item=sheet, count=1), container=flat).faults == ()


def test_a_stack_higher_than_the_carton_is_deep_is_told_with_the_measure() -> None:
    faults = pack(PackLine(item=BEADS, count=7)).faults
    assert faults == ("the stack is 3.0 mm higher than Flat carton is deep inside",)


def test_a_stack_just_as_high_fits() -> None:
    exact = replace(BEADS, thickness=Fraction(25 * MM, 7))
    assert pack(PackLine(item=exact, count=7)).faults == ()


def test_a_box_without_a_carton_is_told() -> None:
    assert pack(PackLine(item=SHEET, count=1), container=None).faults == ("no carton is named for it",)
