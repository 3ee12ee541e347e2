"""What a label printer and a carrier are told of each parcel."""

import csv
from dataclasses import replace
from decimal import Decimal
from io import BytesIO, StringIO

import openpyxl
import pycountry
import pytest

from planning.customs import CustomsFact
from planning.documents.exceptions import DANGEROUS, Held
from planning.documents.listing import Box, list_boxes
from planning.documents.lists.manifest import AT_ONCE, manifest_book, runs
from planning.documents.lists.packing import packing_lists, wave_labels
from planning.documents.parcels import collections
from planning.documents.workbook.table import FIRST_ROW
from planning.flow import MonthPlan
from planning.month import Month
from tests.documents.small_month import MONTH, STAMP, small_plan

CUSTOMS = (
    CustomsFact(item="GREY", words="grey card", hs_code="4823.90", origin="SE", value=Decimal("0.40")),
    CustomsFact(item="BLUE", words="printed paper", hs_code="4911.91", origin="DE", value=Decimal("0.55")),
    CustomsFact(item="RIB", words="ribbon", hs_code="5806.39", origin="LT", value=Decimal("8.10")),
    CustomsFact(item="BRAD", words="fasteners", hs_code="7419.80", origin="IT", value=Decimal("0.04")),
)
HOME = "GB"


@pytest.fixture(scope="module")
def month() -> Month:
    """The small month, posted from a country of which some of its people are abroad."""
    return replace(MONTH, club=replace(MONTH.club, country=HOME), customs=CUSTOMS)


@pytest.fixture(scope="module")
def plan() -> MonthPlan:
    return small_plan()


@pytest.fixture(scope="module")
def boxes(plan: MonthPlan) -> list[Box]:
    return [box for box in list_boxes(MONTH, plan) if box.wave == 1]


def read(file: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(file.decode("utf-8-sig"), newline="")))


def test_a_row_a_parcel_with_country_weight_sides_and_stamp(
    month: Month, plan: MonthPlan, boxes: list[Box]
) -> None:
    rows = read(wave_labels(month, plan, plan.waves[0], boxes, STAMP))
    assert [row["Box"] for row in rows] == [box.code for box in boxes]
    known = {one.alpha_2 for one in pycountry.countries}  # ISO 3166-1, kept by others
    for row, box in zip(rows, boxes, strict=True):
        spec = plan.packing.of(box.box_class.contents)
        assert row["Country code"] in known
        assert int(row["Weight (g)"]) - 1 < spec.heaviest <= int(row["Weight (g)"])
        (parcel,) = spec.parcels
        assert [row[f"{side} (mm)"] for side in ("Length", "Width", "Depth")] == [
            str(-(-side // 8_000)) for side in parcel.outside
        ]
        assert row["Collected on"] == plan.waves[0].collected.isoformat()
        assert (row["Plan"], row["Version"]) == (STAMP.plan_id, str(STAMP.version))


def test_customs_lines_stand_only_where_a_parcel_leaves_the_country(
    month: Month, plan: MonthPlan, boxes: list[Box]
) -> None:
    both = [
        boxes[0],
        replace(boxes[0], subscriber=replace(boxes[0].subscriber, country=HOME)),
    ]
    abroad, home = read(wave_labels(month, plan, plan.waves[0], both, STAMP))
    lines = [n for n in range(1, 9) if abroad.get(f"Customs {n} HS code")]
    assert lines
    assert {abroad[f"Customs {n} HS code"] for n in lines} <= {"482390", "491191", "580639", "741980"}
    values = [Decimal(abroad[f"Customs {n} value"]) for n in lines]
    assert Decimal(abroad["Customs value"]) == sum(values)
    assert abroad["Currency"] == month.club.currency
    assert not any(text for head, text in home.items() if head.startswith(("Customs", "Currency")))


def test_goods_without_a_customs_row_are_named(plan: MonthPlan, boxes: list[Box]) -> None:
    month = replace(MONTH, club=replace(MONTH.club, country=HOME))
    [row] = read(wave_labels(month, plan, plan.waves[0], boxes[:1], STAMP))
    goods = [
        one.item.name for one in plan.packing.of(boxes[0].box_class.contents).lines if not one.item.packaging
    ]
    assert row["Customs lacks"] == ", ".join(goods)


@pytest.mark.parametrize("sign", DANGEROUS)
def test_no_address_is_a_formula(sign: str, month: Month, plan: MonthPlan, boxes: list[Box]) -> None:
    if sign.isspace():
        return  # such texts are faults of the roster
    evil = f"{sign}HYPERLINK(1)"
    box = replace(boxes[0], subscriber=replace(boxes[0].subscriber, name=evil, city=evil))
    [row] = read(wave_labels(month, plan, plan.waves[0], [box], STAMP))
    assert (row["Name"], row["City"]) == (f"'{evil}", f"'{evil}")
    book = openpyxl.load_workbook(BytesIO(packing_lists(month, plan, plan.waves[0], [box], STAMP)))
    for cell in book["Labels"][FIRST_ROW]:
        assert cell.data_type != "f"


def test_sheet_and_csv_say_the_same(month: Month, plan: MonthPlan, boxes: list[Box]) -> None:
    rows = read(wave_labels(month, plan, plan.waves[0], boxes, STAMP))
    sheet = openpyxl.load_workbook(BytesIO(packing_lists(month, plan, plan.waves[0], boxes, STAMP)))["Labels"]
    heads = [str(cell.value) for cell in sheet[FIRST_ROW - 1]]
    assert heads == list(rows[0])[: len(heads)]
    for line, row in zip(sheet.iter_rows(min_row=FIRST_ROW, values_only=True), rows, strict=True):
        for head, value in zip(heads, line, strict=True):
            if isinstance(value, int | float):
                assert float(row[head]) == value
            elif isinstance(value, str):
                assert row[head] in (value, f"'{value}")  # in CSV a formula's sign stands behind a mark


def test_a_manifest_has_every_parcel_of_its_collection_once_and_all_collections_have_all(
    plan: MonthPlan,
) -> None:
    listed = list_boxes(MONTH, plan)
    seen: list[object] = []
    for one in collections(plan):
        book = openpyxl.load_workbook(BytesIO(manifest_book(MONTH, plan, one, Held(MONTH, listed), STAMP)))
        rows = list(book["Manifest"].iter_rows(min_row=FIRST_ROW, values_only=True))
        assert [row[:2] for row in rows] == sorted(row[:2] for row in rows)
        assert len(rows) == one.boxes
        seen += [row[2] for row in rows]
    assert sorted(map(str, seen)) == sorted(box.code for box in listed if box.wave)


def test_waves_are_read_in_spans_without_a_gap(plan: MonthPlan) -> None:
    numbers = [*range(1, 4), *range(7, 7 + 2 * AT_ONCE + 1)]
    waves = [replace(plan.waves[0], number=number) for number in numbers]
    spans = list(runs(waves))
    assert [number for span in spans for number in span] == numbers
    assert max(len(span) for span in spans) == AT_ONCE
