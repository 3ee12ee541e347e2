from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from planning.documents.pdf import pick_list
from planning.documents.pdf.handling import HEAVY
from planning.documents.pdf.words import count as counted
from planning.documents.pdf.words import day, weight
from planning.flow import MonthPlan
from planning.month import SlipFormat
from planning.packing import BoxSpec
from planning.shipping import Wave
from tests.documents.small_month import MONTH, STAMP

Texts = Callable[[bytes], list[str]]


@pytest.fixture
def wave(plan: MonthPlan) -> Wave:
    return plan.waves[0]


def specs_of(plan: MonthPlan, wave: Wave) -> list[tuple[BoxSpec, int]]:
    return [(plan.packing.of(part.box_class.contents), part.boxes) for part in wave.parts]


def with_boxes(plan: MonthPlan, **changes: object) -> MonthPlan:
    boxes = tuple(replace(spec, **changes) for spec in plan.packing.boxes)  # type: ignore[arg-type]
    return replace(plan, packing=replace(plan.packing, boxes=boxes))


def weighing(plan: MonthPlan, grams: Fraction) -> MonthPlan:
    """Return a plan in which every box weighs so much at most."""
    spec = plan.packing.boxes[0]
    return with_boxes(plan, parcels=(replace(spec.parcels[0], heaviest=grams),))


def test_every_wave_lists_what_its_boxes_hold_together(plan: MonthPlan, texts: Texts) -> None:
    for wave in plan.waves:
        page = " ".join(texts(pick_list(MONTH, plan, wave, STAMP)))
        totals, boxes = Counter[str](), Counter[str]()
        for spec, count in specs_of(plan, wave):
            for line in spec.lines:
                totals[line.item.name] += line.count * count
                boxes[line.item.name] += count
        for name in totals:
            each = {
                line.count
                for spec, _ in specs_of(plan, wave)
                for line in spec.lines
                if line.item.name == name
            }
            assert f"{name} {' or '.join(map(str, sorted(each)))} {boxes[name]} {totals[name]:,}" in page


def test_a_list_says_when_by_whom_and_in_which_cartons(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    [page] = texts(pick_list(MONTH, plan, wave, STAMP))
    assert f"Pick list, wave {wave.number}" in page
    assert f"Pack on {day(wave.day)}" in page
    assert f"Collected on {day(wave.collected)}" in page
    assert f"{wave.service.carrier}, {wave.service.name}" in page
    assert f"Boxes {wave.boxes}" in page
    assert f"Cartons {wave.boxes} Flat carton" in page
    assert f"Flat carton 1 {wave.boxes} {wave.boxes} " in page
    assert STAMP.text in page
    assert "page 1 of 1" in page


def test_places_run_from_the_first_box_to_the_last(plan: MonthPlan, texts: Texts) -> None:
    for wave in plan.waves:
        page = " ".join(texts(pick_list(MONTH, plan, wave, STAMP)))
        rows = page.split("Places Box Boxes Carton Weight each ")[1]
        assert rows.startswith("1 ")
        assert f"{wave.boxes} " in rows


def test_the_wave_weighs_what_its_boxes_weigh(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    [page] = texts(pick_list(MONTH, plan, wave, STAMP))
    together = sum((spec.weight * count for spec, count in specs_of(plan, wave)), Fraction(0))
    heaviest = sum((spec.heaviest * count for spec, count in specs_of(plan, wave)), Fraction(0))
    assert f"Weight {weight(together, 'A4')}, at most {weight(heaviest, 'A4')}" in page


def test_a_heavy_wave_is_cautioned_and_a_light_one_is_not(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    """16 kg: the lower figure of the Health and Safety Executive's lifting filter for a load held close to the body."""
    assert HEAVY == 16_000
    each = HEAVY / wave.boxes
    [light] = texts(pick_list(MONTH, weighing(plan, each), wave, STAMP))
    [heavy] = texts(pick_list(MONTH, weighing(plan, each + 1), wave, STAMP))
    assert "Split the load" not in light
    assert "All boxes of this wave together weigh up to 16.00 kg. Split the load" in heavy
    assert "local rules" in heavy


def test_no_list_calls_anything_safe(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    for heaviest in (Fraction(100), 10 * HEAVY):
        [page] = texts(pick_list(MONTH, weighing(plan, heaviest), wave, STAMP))
        assert "safe" not in page.casefold()


def test_boxes_that_do_not_fit_are_marked(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    broken = with_boxes(plan, faults=("the stack is 2.0 mm higher than Flat carton is deep inside",))
    page = " ".join(texts(pick_list(MONTH, broken, wave, STAMP)))
    assert f"Check {wave.boxes} boxes: the stack is 2.0 mm higher" in page


def test_late_boxes_are_counted(plan: MonthPlan, texts: Texts) -> None:
    [wave, *_] = [wave for wave in plan.waves if late_in(plan, wave)]
    page = " ".join(texts(pick_list(MONTH, plan, wave, STAMP)))
    assert f"{late_in(plan, wave)} box" in page
    assert "of this wave will arrive after the promised week" in page


def late_in(plan: MonthPlan, wave: Wave) -> int:
    late = {(load.day, load.service, load.box_class) for load in plan.shipping.loads if load.late}
    return sum(part.boxes for part in wave.parts if (wave.day, wave.service, part.box_class) in late)


def test_packs_are_told_where_a_material_comes_in_packs(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    """Four cartons of a pack of five; ribbons come singly."""
    [page] = texts(pick_list(MONTH, plan, wave, STAMP))
    assert wave.boxes == 4
    assert "Flat carton 1 4 4 from a pack of 5" in page


def test_names_as_long_as_a_cell_holds_still_make_a_list(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    long = "Very long name " * 2_000
    spec = plan.packing.of(wave.parts[0].box_class.contents)
    (parcel,) = spec.parcels
    carton = replace(parcel.carton, container=replace(parcel.carton.container, name=long))
    lines = tuple(replace(line, item=replace(line.item, name=long)) for line in spec.lines)
    full = with_boxes(plan, lines=lines, parcels=(replace(parcel, carton=carton),), faults=(long,))
    pages = texts(pick_list(MONTH, full, replace(wave, service=replace(wave.service, name=long)), STAMP))
    assert "page 1 of" in pages[0]


def test_the_same_list_is_the_same_file(plan: MonthPlan, wave: Wave) -> None:
    assert pick_list(MONTH, plan, wave, STAMP) == pick_list(MONTH, plan, wave, STAMP)


def test_items_stand_by_their_shelf_places_and_say_them(plan: MonthPlan, wave: Wave, texts: Texts) -> None:
    places = {"GREY": "B2", "BLUE": "A1", "BOX": "C9"}
    month = replace(
        MONTH, materials=tuple(replace(one, shelf=places.get(one.code, "")) for one in MONTH.materials)
    )
    page = " ".join(texts(pick_list(month, plan, wave, STAMP)))
    assert "A1 Kingfisher blue" in page
    assert page.index("A1 Kingfisher blue") < page.index("B2 Grey cardstock")
    assert "C9 Flat carton" in page


def test_a_list_says_how_slips_are_cut_and_where_their_mark_stands(
    plan: MonthPlan, wave: Wave, texts: Texts
) -> None:
    """Version 3 has its mark at the third step."""
    four_up = replace(MONTH, club=replace(MONTH.club, slips=SlipFormat.A4_FOUR))
    page = " ".join(texts(pick_list(four_up, plan, wave, STAMP)))
    assert f"A4 four-up, {counted(-(-wave.boxes // 4), 'sheet')} or more" in page
    assert "cut away from hands and body" in page
    assert f"at step {STAMP.version} of 8 from the top of the right edge" in page
    single = " ".join(texts(pick_list(MONTH, plan, wave, STAMP)))
    assert "Cut along the lines" not in single
