"""The demo month: as much of everything as it promises, the same every time, in order, and fit to be planned."""

import re
import subprocess
import sys
import unicodedata
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kits.catalogue import MaterialKind
from kits.kit import Direction, ItemKind, When
from kits.measures import parse_length, ruler
from kits.recipe import CutBy
from planning.demo import demo_month
from planning.faults import faults
from planning.flow import MonthPlan, plan_month
from planning.month import Month
from planning.problems import roster_problem
from planning.recipes import paper_roles, recipe_pieces
from planning.roster import Reason, plan_roster

CHECKOUT = Path(__file__).parents[2]

# The shape of each country's postcodes, from memory.
POSTCODES = {
    "IE": r"[A-Z]\d\d [A-Z0-9]{4}",
    "GB": r"[A-Z]{2}\d\d? \d[A-Z]{2}",
    "DE": r"\d{5}",
    "FR": r"\d{5}",
    "US": r"\d{5}(-\d{4})?",
    "PL": r"\d\d-\d{3}",
    "GR": r"\d{3} \d\d",
    "BG": r"\d{4}",
    "AE": "",
}


@pytest.fixture(scope="module")
def month() -> Month:
    return demo_month()


@pytest.fixture(scope="module")
def plan(month: Month) -> MonthPlan:
    return plan_month(month)


# --- How much there is of everything ---


def test_it_has_as_much_of_everything_as_it_promises(month: Month) -> None:
    kinds = Counter(one.kind for one in month.materials)

    assert len(month.recipes) == 5
    assert kinds[MaterialKind.SHEET] == 13
    assert kinds[MaterialKind.COUNTED] + kinds[MaterialKind.PRINT] + kinds[MaterialKind.ROLL] == 10
    assert kinds[MaterialKind.ROLL] == 2
    assert len(month.tiers) == 3
    assert len(month.suppliers) == 3
    assert len({one.country for one in month.subscribers}) == 9
    assert len(month.subscribers) >= 1_200
    assert len({one.carrier for one in month.services}) == 2
    assert len(month.services) == 5


def test_papers_come_in_inches_and_in_millimetres(month: Month) -> None:
    sheets = [one for one in month.materials if one.kind is MaterialKind.SHEET]
    inch, millimetre = parse_length("1/8 in"), parse_length("1 mm")
    sizes = [(one.width or 0, one.height or 0) for one in sheets]

    assert sum(width % inch == height % inch == 0 for width, height in sizes) == 8
    assert sum(width % millimetre == height % millimetre == 0 for width, height in sizes) == 5
    assert all(one.thickness and one.grammage for one in sheets)
    assert {one.grammage.basic is None for one in sheets if one.grammage} == {True, False}


@pytest.mark.parametrize("code", ["GATE", "MARKET", "LETTERS", "KITE", "TABLE"])
def test_a_recipe_has_two_to_four_papers_and_eight_to_twenty_five_pieces_on_the_ruler(
    month: Month, code: str
) -> None:
    pieces = [one for one in recipe_pieces(month) if one.recipe == code]
    marks = ruler(month.club.ruler)

    assert 2 <= sum(one.recipe == code for one in paper_roles(month)) <= 4
    assert 8 <= sum(one.count for one in pieces) <= 25
    assert all(marks.holds(one.width) and marks.holds(one.height) for one in pieces)
    assert {one.page for one in pieces} - {""} == {"left", "right"}


def test_the_club_cuts_pieces_and_pre_cuts_from_larger_sheets(month: Month) -> None:
    assert {one.recipe for one in recipe_pieces(month) if one.cut_by is CutBy.CLUB} == {"LETTERS", "TABLE"}
    assert {one.direction for one in month.pre_cuts} == {
        Direction.ANY,
        Direction.NOT_TURNED,
        Direction.GRAIN_ALONG_HEIGHT,
    }
    assert sorted(len(one.cut_from) for one in month.pre_cuts) == [1, 1, 1, 2]


def test_every_tier_gets_a_recipe_an_extra_and_a_carton(month: Month) -> None:
    for tier in month.tiers:
        lines = [line for line in month.kit_lines if not line.tiers or tier.code in line.tiers]
        assert {line.kind for line in lines} >= {ItemKind.RECIPE, ItemKind.EXTRA, ItemKind.PACKAGING}
        assert any(line.item.startswith("CARTON") for line in lines)
        assert any(line.when is When.FIRST_BOX for line in lines)


# --- The roster ---


def test_people_are_left_out_for_every_reason_there_is(plan: MonthPlan) -> None:
    assert {one.reason for one in plan.roster.left_out} == set(Reason)


def test_some_boxes_are_first_ones_and_some_hold_what_was_ordered_once(plan: MonthPlan) -> None:
    contents = [one.contents for one in plan.roster.classes]

    assert plan.contents.first_boxes
    assert any(one.kit and one.besides for one in contents)
    assert any(not one.kit for one in contents)
    assert {one.quantity for one in demo_month().subscribers} >= {0, 1, 2}


def test_names_and_addresses_are_as_awkward_as_real_ones(month: Month) -> None:
    lines = [line for one in month.subscribers for line in (one.name, one.address_1, one.address_2, one.city)]
    written = set("".join(lines))
    scripts = {unicodedata.name(char).split()[0] for char in written if char.isalpha()}

    assert scripts == {"LATIN", "GREEK", "CYRILLIC"}
    assert written >= set("'-éßÆŁŹęễ„“«»")
    assert any(" " not in one.name for one in month.subscribers)
    assert max(map(len, lines)) > 80
    assert any(one.postcode.startswith("0") for one in month.subscribers)
    assert any('"' in line and "&" in line for line in lines)


def test_postcodes_have_their_countrys_shape() -> None:
    for one in demo_month(3_000).subscribers:
        assert re.fullmatch(POSTCODES[one.country], one.postcode), one


def test_nobody_stands_on_the_roster_twice(month: Month) -> None:
    assert len({one.reference for one in month.subscribers}) == len(month.subscribers)
    assert {one.subscriber for one in month.orders} <= {one.reference for one in month.subscribers}


@given(st.integers(1, 400))
@example(1)
@example(999)
@example(1_200)
@example(10_000)
def test_it_sends_exactly_the_boxes_asked_for(boxes: int) -> None:
    assert plan_roster(roster_problem(demo_month(boxes))).boxes == boxes


@pytest.mark.parametrize("boxes", [0, -1])
def test_less_than_one_box_is_refused(boxes: int) -> None:
    with pytest.raises(ValueError, match=f"at least 1 box, not {boxes}"):
        demo_month(boxes)


# --- The same month every time ---


def test_it_is_the_same_every_time() -> None:
    assert demo_month(300) == demo_month(300)


def test_it_is_the_same_in_another_interpreter() -> None:
    program = "from planning.demo import demo_month as d; m = d(60); print(ascii((m, m.subscribers)))"
    written = {
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=CHECKOUT,
            env={"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert len(written) == 1


# --- What comes of it ---


@pytest.mark.parametrize("boxes", [1, 12, 1_200, 10_000])
def test_its_rows_fit_together(boxes: int) -> None:
    assert faults(demo_month(boxes)) == ()


@pytest.mark.parametrize("boxes", [1, 12, 10_000])
def test_it_can_be_planned_at_any_size(boxes: int) -> None:
    plan = plan_month(demo_month(boxes))

    assert plan.packing.faults == ()
    assert plan.shipping.unsendable == ()


def test_every_box_fits_its_carton_and_finds_a_service(plan: MonthPlan) -> None:
    assert plan.packing.faults == ()
    assert plan.shipping.unsendable == ()
    assert plan.shipping.boxes == 1_200


def test_one_order_is_late(plan: MonthPlan) -> None:
    assert [line.need.material for line in plan.buying.lines if line.late] == ["STAMPS"]


def test_one_material_is_short_though_more_of_it_is_on_its_way(plan: MonthPlan) -> None:
    (line,) = plan.buying.short

    assert line.need.material == "BUTTONS"
    assert line.due_late > 0
    assert line in plan.buying.late


def test_a_handful_of_boxes_miss_the_promise(plan: MonthPlan) -> None:
    assert 1 <= sum(load.boxes for load in plan.shipping.late) <= 20
    assert {load.box_class.destination for load in plan.shipping.late} == {"Far"}


def test_buying_more_costs_less_for_some(plan: MonthPlan) -> None:
    saving = {line.need.material for line in plan.buying.lines if "saves" in line.reason}

    assert {"BOOKLET", "RIBBON"} <= saving


def test_both_carriers_have_work_and_one_supplier_is_paid_freight(plan: MonthPlan) -> None:
    assert {load.service.carrier for load in plan.shipping.loads} == {"Merrow Post", "Kestrelway Couriers"}
    assert sorted(order.freight > 0 for order in plan.buying.orders) == [False, False, True]


def test_every_tier_earns_something_a_small_club_could_live_on(plan: MonthPlan) -> None:
    for column in plan.cost.columns:
        if column.margin is not None:
            assert 20 <= 100 * column.margin / column.price <= 45
