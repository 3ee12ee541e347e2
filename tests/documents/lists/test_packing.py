"""A wave's packing list and labels say what the plan and the roster say."""

from io import BytesIO
from math import ceil

import openpyxl
import pytest

from planning.documents.listing import Box, list_boxes
from planning.documents.lists.packing import packing_lists
from planning.documents.workbook.table import FIRST_ROW
from planning.flow import MonthPlan
from tests.documents.small_month import MONTH, STAMP, small_plan


@pytest.fixture(scope="module")
def plan() -> MonthPlan:
    return small_plan()


@pytest.fixture(scope="module")
def boxes(plan: MonthPlan) -> list[Box]:
    return [box for box in list_boxes(MONTH, plan) if box.wave == 1]


@pytest.fixture(scope="module")
def book(plan: MonthPlan, boxes: list[Box]) -> openpyxl.Workbook:
    return openpyxl.load_workbook(BytesIO(packing_lists(MONTH, plan, plan.waves[0], boxes, STAMP)))


def column(book: openpyxl.Workbook, sheet: str, head: str) -> list[object]:
    """Return what stands under a head."""
    heads = [cell.value for cell in book[sheet][FIRST_ROW - 1]]
    return [row[heads.index(head)].value for row in book[sheet].iter_rows(min_row=FIRST_ROW)]


def test_every_box_of_the_wave_once_in_packing_order(
    book: openpyxl.Workbook, boxes: list[Box], plan: MonthPlan
) -> None:
    assert column(book, "Packing list", "Box") == [box.code for box in boxes]
    assert column(book, "Labels", "Box") == [box.code for box in boxes]
    assert column(book, "Packing list", "Place") == list(range(1, plan.waves[0].boxes + 1))
    assert f"Wave 1: {plan.waves[0].boxes} boxes" in book["Packing list"]["A2"].value


def test_contents_carton_and_weight_are_the_plans(
    book: openpyxl.Workbook, boxes: list[Box], plan: MonthPlan
) -> None:
    specs = [plan.packing.of(box.box_class.contents) for box in boxes]
    assert column(book, "Packing list", "Lines") == [len(spec.lines) for spec in specs]
    assert column(book, "Packing list", "Carton") == [spec.packed_in for spec in specs]
    weights = column(book, "Labels", "Weight (g)")
    assert weights == [ceil(spec.heaviest) for spec in specs]  # never less than what is posted


def test_labels_have_each_part_of_the_address_in_its_own_column(
    book: openpyxl.Workbook, boxes: list[Box]
) -> None:
    people = [box.subscriber for box in boxes]
    for head, field in (
        ("Name", "name"),
        ("Address line 1", "address_1"),
        ("City", "city"),
        ("Country code", "country"),
    ):
        assert column(book, "Labels", head) == [getattr(one, field) for one in people]
    assert column(book, "Labels", "Postcode") == [one.postcode or None for one in people]
    assert set(column(book, "Labels", "Country")) <= {
        "GERMANY",
        "FRANCE",
        "UNITED STATES",
        "UNITED KINGDOM",
        "JAPAN",
    }
