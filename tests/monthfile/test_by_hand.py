"""Month files typed by hand: headings in the first row, only what is needed, numbers as people write them."""

import io
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl import Workbook

from kits.measures import INCH, METRE, MM, Grammage
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.flow import plan_month
from planning.month import Month
from planning.monthfile import month_to_workbook, read_month, template
from tests.monthfile.files import TINY_FILE, TODAY, report, saved
from tests.support.effort import thorough
from tests.support.months import tiny_month

# Five subscribers, one recipe: the sheets and columns nobody can do without.
BY_HAND: dict[str, list[list[Any]]] = {
    "Club": [
        ["Setting", "Value"],
        ["Club name", "Kitchen Table Papers"],
        ["Month", "2027-04"],
        ["Currency", "gbp"],
        ["Country", "GB"],
        ["Promised week", "2027-W16"],
        ["Packing starts", date(2027, 4, 5)],
    ],
    "materials": [
        [
            "Code",
            "Name",
            "Kind",
            "Width",
            "Height",
            "Paper weight",
            "Weight each",
            "Inside width",
            "Inside height",
            "Inside depth",
        ],
        ["CARD", "White card", "Sheet", 12, "12 in", "80 lb cover", None, None, None, None],
        ["TAGS", "Tags", "counted", None, None, None, 2, None, None, None],
        ["BOX", "Box", "packaging", None, None, None, "4 oz", "13 in", "13 in", "1 in"],
    ],
    "Recipes": [["Code", "Title"], ["R1", "Garden"]],
    "Paper Roles": [
        ["Recipe", "Paper role", "Width", "Height", "Sheets posted"],
        ["R1", "base", "12", '12"', 2],
    ],
    "Pieces": [
        ["Recipe", "Paper role", "Piece", "Height", "Width"],
        ["R1", "base", "mat", "6 ¼", " 4-1/4 in "],
    ],
    "Kit papers": [["Recipe", "Paper role", "Material"], ["R1", "base", "CARD"]],
    "Kit": [
        ["Kind", "Item", "Count"],
        ["recipe", "R1", None],
        ["extra", " TAGS ", "10"],
        ["packaging", "BOX", None],
    ],
    "Tiers": [["Code", "Name"], ["ALL", "Everything"]],
    "Roster": [
        ["Reference", "Name", "Address line 1", "City", "Country", "Tier", "", "Postcode"],
        [1001, "Ada", "1 Mill Lane", "Leeds", "gb", "ALL", "met at the fair", "LS1 1AA"],
        [1002, "Bo", "2 Mill Lane", "Leeds", "GB", "ALL", None, None],
        [None, None, None, None, None, None, "a note in a row of its own", None],
        [1003, "Cem", "3 Mill Lane", "Leeds", "GB", "ALL", None, 12345],
        [1004, "Dee", "4 Mill Lane", "Leeds", "GB", "ALL", None, None],
        [1005, "Eli", "5 Mill Lane", "Leeds", "GB", "ALL", None, None],
    ],
    "Services": [["Code", "Carrier", "Name", "Collects on"], ["ECO", "Post", "Small packet", "Mon-Fri"]],
    "Zones": [["Carrier", "Country", "Zone"], ["Post", "GB", "home"]],
    "Transit": [["Service", "Zone", "Transit"], ["ECO", "home", 2]],
    "Rates": [
        ["Service", "Zone", "Up to", "Price a parcel"],
        ["ECO", "home", "1 lb", "£3.10"],
        ["ECO", "home", "2,000", 4.2],
    ],
    "Sheet1": [],
}


def by_hand(**changes: list[list[Any]]) -> Workbook:
    """Return the workbook typed by hand, with other rows in some sheets."""
    workbook = Workbook()
    workbook.remove(workbook["Sheet"])
    for title, rows in (BY_HAND | changes).items():
        page = workbook.create_sheet(title)
        for row in rows:
            page.append(row)
    return workbook


def check_by_hand(month: Month) -> None:
    """Check what the cells above mean."""
    club = month.club
    assert (club.month, club.promised, club.planned_on) == (YearMonth(2027, 4), IsoWeek(2027, 16), TODAY)
    assert (club.currency, club.code, club.kit_name, club.ruler) == ("GBP", "KTP", "April 2027", "1/8 in")
    card, tags, box = month.materials
    assert (card.width, card.height) == (12 * INCH, 12 * INCH)
    assert card.grammage is not None
    assert str(card.grammage) == "80 lb cover"
    assert (tags.weight, box.weight) == (Fraction(2), Fraction("453.59237") / 4)
    assert (month.pieces[0].width, month.pieces[0].height) == (17 * INCH // 4, 25 * INCH // 4)
    assert [line.count for line in month.kit_lines] == [1, 10, 1]
    assert [one.reference for one in month.subscribers] == ["1001", "1002", "1003", "1004", "1005"]
    assert [one.postcode for one in month.subscribers] == ["LS1 1AA", "", "12345", "", ""]
    assert month.subscribers[0].country == "GB"
    assert month.services[0].collects == tuple(Weekday)[:5]
    assert [rate.up_to for rate in month.rates] == [Fraction("453.59237"), 2000]
    assert [rate.price for rate in month.rates] == [Decimal("3.10"), Decimal("4.20")]
    assert [(day.weekday, day.minutes) for day in month.week] == [(day, 480) for day in tuple(Weekday)[:5]]


def test_a_file_typed_by_hand_is_a_month() -> None:
    check_by_hand(read_month(saved(by_hand()), TODAY))


def test_a_file_typed_by_hand_plans() -> None:
    plan = plan_month(read_month(saved(by_hand()), TODAY))
    assert plan.roster.boxes == 5
    assert {line.need.material: line.need.total for line in plan.buying.lines} == {
        "CARD": 10,
        "TAGS": 50,
        "BOX": 5,
    }
    assert sum(load.boxes for load in plan.shipping.loads) == 5


def test_a_recipe_typed_as_a_text_plans_as_well() -> None:
    design = """recipe R1: Garden
    ruler 1/8 in
    trimmer 12, takes 2 sheets
    paper base: 2 sheets 12 x 12
    piece half: 4 of 12 x 6 from base -> left
    together: sheet 1 of base, sheet 2 of base
        turn
        cut at 6: half -> left
        rest: half -> left
    page left: 24 x 24
        half at 0, 0
        half at 12, 0
        half at 0, 6
        half at 12, 6"""
    design = design.replace("\n    ", "\n")
    recipes = [["Code", "Title", "Design"], ["R1", "Garden", design]]
    sheets: dict[str, list[list[Any]]] = {"Recipes": recipes, "Paper Roles": [], "Pieces": []}
    plan = plan_month(read_month(saved(by_hand(**sheets)), TODAY))
    assert {line.need.material: line.need.total for line in plan.buying.lines}["CARD"] == 10


@pytest.mark.parametrize(
    "typed", ["March 18, 2027", "Mar 18 2027", "18th March 2027", "2027-3-18", "18-Mar-2027"]
)
def test_a_date_is_read_in_every_spelling_that_has_one_meaning(typed: str) -> None:
    club = [row if row[0] != "Packing starts" else ["Packing starts", typed] for row in BY_HAND["Club"]]
    assert read_month(saved(by_hand(Club=club)), TODAY).club.packing_starts == date(2027, 3, 18)


def test_a_file_typed_by_hand_and_saved_by_libreoffice_is_the_same_month(
    tmp_path: Path, libreoffice: Callable[[Path, str], Path]
) -> None:
    path = tmp_path / "by hand.xlsx"
    path.write_bytes(saved(by_hand()))
    check_by_hand(read_month(libreoffice(path, "xlsx"), TODAY))


@thorough
@pytest.mark.parametrize("name", ["month.xlsx", "template.xlsx"])
def test_our_own_file_saved_by_libreoffice_is_the_same_month(
    name: str, tmp_path: Path, libreoffice: Callable[[Path, str], Path]
) -> None:
    path = tmp_path / name
    path.write_bytes(TINY_FILE if name == "month.xlsx" else template())
    again = libreoffice(path, "xlsx")
    if name == "month.xlsx":
        assert read_month(again, TODAY) == tiny_month()
    else:
        assert report(again.read_bytes()) == report(template())


def test_the_template_filled_in_is_a_month() -> None:
    """What is typed below the headings of the template, sheet by sheet, is read like any file."""
    workbook = openpyxl.load_workbook(io.BytesIO(template()))
    for title, rows in BY_HAND.items():
        if title in ("Club", "Sheet1"):
            continue
        page = next(one for one in workbook.worksheets if one.title.casefold() == title.casefold())
        places = {str(cell.value).partition(" (")[0]: at for at, cell in enumerate(page[2], 1)}
        for at, row in enumerate(rows[1:], 3):
            for heading, value in zip(rows[0], row, strict=True):
                if heading and value is not None:
                    page.cell(at, places[heading], value)
    club = workbook["Club"]
    values = {row[0]: row[1] for row in BY_HAND["Club"][1:]}
    for name, value, _ in club.iter_rows(min_row=3):
        if name.value in values:
            value.value = values[name.value]
    check_by_hand(read_month(saved(workbook), TODAY))


def test_a_title_and_notes_may_stand_above_the_headings() -> None:
    tiers: list[list[Any]] = [
        ["Our tiers"],
        [],
        ["as agreed in March"],
        [None, None, "Name", "Code"],
        [None, None, "Everything", "ALL"],
    ]
    check_by_hand(read_month(saved(by_hand(Tiers=tiers)), TODAY))


def test_headings_are_known_whatever_their_capitals_spaces_and_units() -> None:
    tiers = [["CODE ", "name (as on the label)", "price   a box (EUR)"], ["ALL", "Everything", "1,200"]]
    month = read_month(saved(by_hand(Tiers=tiers)), TODAY)
    assert month.tiers[0].price == 1200


@pytest.mark.parametrize(
    ("written", "shown_as", "meant"),
    [
        (5, "General", Decimal(5)),
        (0.05, "0%", Decimal(5)),
        (0.125, "0.0%", Decimal("12.5")),
        ("5 %", "@", Decimal(5)),
        ("5%", "@", Decimal(5)),
        (" 2,5 % ", "@", Decimal("2.5")),
        ("7 per cent", "@", Decimal(7)),
        (0.1 + 0.2, "General", Decimal("0.3")),
    ],
)
def test_a_percentage_is_the_same_however_it_was_typed(written: Any, shown_as: str, meant: Decimal) -> None:
    workbook = by_hand()
    page = workbook["materials"]
    page["K1"] = "Overs (% of good count)"
    page["K2"] = written
    page["K2"].number_format = shown_as
    assert read_month(saved(workbook), TODAY).materials[0].overs_percent == meant


@pytest.mark.parametrize(
    ("heading", "written", "field", "meant"),
    [
        ("Width (in or mm)", "235 mm", "width", 235 * MM),
        ("Width (in or mm)", 9.25, "width", 37 * INCH // 4),
        ("Width (in or mm)", "9¼", "width", 37 * INCH // 4),
        ("Width (in or mm)", "1 ft 6 in", "width", 18 * INCH),
        ("Paper weight (g/m² or lb)", "300 g/m2", "grammage", Grammage(Fraction(300))),
        ("Paper weight (g/m² or lb)", "300gsm", "grammage", Grammage(Fraction(300))),
        ("Thickness (mil, mm or in)", "12 pt", "thickness", Fraction(12 * INCH, 1000)),
        ("Thickness (mil, mm or in)", "2.5 in", "thickness", Fraction(5 * INCH, 2)),
        ("Weight each (g or oz)", "1.2 kg", "weight", Fraction(1200)),
        ("Weight each (g or oz)", 0.1, "weight", Fraction(1, 10)),
        ("Used a year (units)", "12,000", "used_a_year", 12_000),
        ("Used a year (units)", 1e3, "used_a_year", 1000),
        ("Left over", "Written-Off", "leftover", "written off"),
    ],
)
def test_a_cell_means_what_people_mean_by_it(heading: str, written: Any, field: str, meant: object) -> None:
    by_hand_file = by_hand()
    materials = by_hand_file["materials"]
    heads = [str(cell.value) for cell in materials[1]]
    short = heading.partition(" (")[0]
    column = heads.index(short) + 1 if short in heads else len(heads) + 1
    materials.cell(1, column, heading)
    materials.cell(2, column, written)
    if field == "width":
        by_hand_file["Paper Roles"]["C2"] = written
        by_hand_file["Pieces"]["D2"] = 1
    assert getattr(read_month(saved(by_hand_file), TODAY).materials[0], field) == meant


def test_a_metric_club_reads_bare_numbers_as_millimetres_and_writes_them_so() -> None:
    club = [*BY_HAND["Club"], ["Ruler", "1 MM"], ["Flat clearance", 10]]
    sheets = [BY_HAND["Paper Roles"][0], ["R1", "base", 297, "420 mm", 2]]
    materials = [
        BY_HAND["materials"][0],
        ["CARD", "White card", "Sheet", "29.7 cm", 420, *[None] * 5],
        *BY_HAND["materials"][2:],
    ]
    pieces = [BY_HAND["Pieces"][0], ["R1", "base", "mat", 150, 100]]
    changes = {"Paper Roles": sheets, "Pieces": pieces}
    month = read_month(saved(by_hand(Club=club, materials=materials, **changes)), TODAY)
    assert month.club.flat_clearance == 10 * MM
    assert (month.roles[0].width, month.pieces[0].height) == (297 * MM, 150 * MM)
    written = openpyxl.load_workbook(io.BytesIO(month_to_workbook(month)))
    assert written["Paper roles"]["C3"].value == "297 mm"
    assert written["Materials"]["L5"].value == "330.2 mm"


def test_a_roll_is_written_in_the_unit_it_was_bought_by() -> None:
    written = openpyxl.load_workbook(io.BytesIO(TINY_FILE))
    assert written["Materials"]["K6"].value == "10 m"
    assert tiny_month().materials[3].roll_length == 10 * METRE
