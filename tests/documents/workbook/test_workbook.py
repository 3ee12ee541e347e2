"""The workbook against the plan, with LibreOffice working every formula out anew."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import openpyxl
import pytest
from pypdf import PdfReader

from planning.cost import Heading
from planning.demo import demo_month
from planning.documents.exceptions import roster_exceptions
from planning.documents.listing import list_boxes
from planning.documents.workbook import month_tables, month_workbook
from planning.documents.workbook.table import FIRST_ROW, Look, Table, Value
from planning.flow import plan_month
from planning.month import Month
from tests.documents.small_month import EMPTY_MONTH, MONTH, STAMP, person
from tests.documents.workbook.recount import recounted
from tests.support.effort import thorough
from tests.support.months import designed_month

Convert = Callable[[Path, str], Path]

IN_YEN = replace(
    MONTH,
    club=replace(MONTH.club, currency="JPY", paper="Letter"),
    price_breaks=tuple(replace(one, price=one.price * 100) for one in MONTH.price_breaks),
)
# Names that a spreadsheet might take for something else
ODD_CODES = replace(
    MONTH,
    tiers=tuple(replace(one, code=f"*{one.code}?", name=f"=1+{one.code}") for one in MONTH.tiers),
    kit_lines=tuple(replace(one, tiers=tuple(f"*{code}?" for code in one.tiers)) for one in MONTH.kit_lines),
    subscribers=tuple(replace(one, tier=f"*{one.tier}?") for one in MONTH.subscribers),
    orders=MONTH.orders[:2],
    materials=tuple(replace(one, name=f"@{one.name}") for one in MONTH.materials),
)
MONTHS = {
    "small": MONTH,
    "tiny, its recipe designed": designed_month(),
    "demo": demo_month(300),
    "empty": EMPTY_MONTH,
    "in yen, on Letter": IN_YEN,
    "odd codes": ODD_CODES,
}


class Written:
    """A month, its plan, its tables, its workbook."""

    def __init__(self, month: Month) -> None:
        self.month, self.plan = month, plan_month(month)
        exceptions = roster_exceptions(month, self.plan, list_boxes(month, self.plan))
        self.tables = month_tables(month, self.plan, exceptions, STAMP)
        self.file = month_workbook(month, self.plan, exceptions, STAMP)
        self.book = {table.name: table for table in self.tables}

    def cells(self) -> Iterator[tuple[str, str, Value, str]]:
        """Yield sheet, place, the plan's figure and the formula of every cell."""
        for table in self.tables:
            for place, cell in table.cells(self.book):
                yield table.name, place, cell.value, cell.formula


ALWAYS = ("small", "demo")


@pytest.fixture(
    scope="module",
    params=[pytest.param(MONTHS[name], id=name, marks=() if name in ALWAYS else thorough) for name in MONTHS],
)
def written(request: pytest.FixtureRequest) -> Written:
    return Written(request.param)


def worked_out(written: Written, libreoffice: Convert, folder: Path) -> openpyxl.Workbook:
    """Return the workbook as LibreOffice works it out, from a copy without the figures beside the formulas."""
    bare = folder / "month.xlsx"
    openpyxl.load_workbook(BytesIO(written.file)).save(bare)
    return openpyxl.load_workbook(libreoffice(bare, "xlsx"), data_only=True)


def differs(found: Any, figure: Value) -> bool:
    """Tell whether a cell does not show a figure; numbers to the fifteen digits a spreadsheet keeps."""
    found = found.date() if isinstance(found, datetime) else found
    if isinstance(figure, bool | str | date) or figure is None:
        return bool(found != figure and (found or figure))
    if isinstance(found, bool | str | date | None):
        return True
    return bool(abs(found - float(figure)) > 1e-9 * max(1.0, abs(float(figure))))


def test_libreoffice_works_every_formula_out_to_the_plans_own_figure(
    written: Written, libreoffice: Convert, tmp_path: Path
) -> None:
    book = worked_out(written, libreoffice, tmp_path)
    wrong = [
        (sheet, place, formula, figure, book[sheet][place].value)
        for sheet, place, figure, formula in written.cells()
        if differs(book[sheet][place].value, figure)
    ]
    assert wrong == []
    errors = [
        cell.coordinate
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "e"
    ]
    assert errors == []


def test_the_cost_added_up_again_from_the_workbook_alone_is_the_plans_to_the_cent(written: Written) -> None:
    assert recounted(written.file) == (written.plan.cost.total, written.plan.cost.total)


def test_a_program_that_works_nothing_out_shows_the_same_figures(written: Written) -> None:
    shown = openpyxl.load_workbook(BytesIO(written.file), data_only=True)
    wrong = [cell for cell in written.cells() if differs(shown[cell[0]][cell[1]].value, cell[2])]
    assert wrong == []


def test_every_check_holds(written: Written) -> None:
    failed = [
        (table.name, place)
        for table in written.tables
        for place, cell in table.cells(written.book)
        if cell.look is Look.CHECK and cell.value is False
    ]
    assert failed == []


@thorough
def test_libreoffice_prints_a_page_of_every_sheet_at_least(
    written: Written, libreoffice: Convert, tmp_path: Path
) -> None:
    month = tmp_path / "month.xlsx"
    month.write_bytes(written.file)
    assert len(PdfReader(libreoffice(month, "pdf")).pages) >= len(written.tables)


def test_every_total_is_a_live_formula(written: Written) -> None:
    for table in written.tables:
        totals = [column.key for column in table.columns if column.total]
        formulas = {place: cell.formula for place, cell in table.cells(written.book)}
        for key in totals:
            letter = table.letter(key)
            assert (
                formulas[f"{letter}{table.last_row + 1}"]
                == f"=SUM({letter}{FIRST_ROW}:{letter}{table.last_row})"
            )


def test_the_totals_are_the_plans(written: Written) -> None:
    plan = written.plan
    expected: dict[tuple[str, str], int | Decimal] = {
        ("Buy", "amount"): sum((order.goods for order in plan.buying.orders), Decimal(0)),
        ("Orders", "total"): plan.buying.total,
        ("Cut", "sheets"): plan.cutting.sheets,
        ("Cut", "minutes"): plan.cutting.minutes,
        ("Cut", "cost"): plan.cost.heading_total(Heading.CUTTING),
        ("Pack", "boxes"): plan.roster.boxes,
        ("Pack", "minutes"): plan.packing.minutes,
        ("Ship", "boxes"): plan.shipping.boxes,
        ("Ship", "postage"): plan.shipping.postage,
        ("Crew days", "boxes"): plan.shipping.boxes,
        ("Crew days", "minutes"): sum((one.minutes for one in plan.shipping.days), Decimal(0)),
        ("Waves", "boxes"): plan.shipping.boxes,
        ("Cost", "total"): plan.cost.total,
        ("Entries", "amount"): plan.cost.total,
        **{("Cost", heading.name.lower()): plan.cost.heading_total(heading) for heading in Heading},
    }
    for (sheet, key), figure in expected.items():
        table = written.book[sheet]
        cells = dict(table.cells(written.book))
        assert cells[f"{table.letter(key)}{table.last_row + 1}"].value == figure, (sheet, key)


def test_the_same_plan_makes_the_same_bytes(written: Written) -> None:
    assert Written(written.month).file == written.file


# --- What a reader finds; of the small month alone ---


@pytest.fixture(scope="module")
def small() -> Written:
    return Written(MONTH)


@pytest.fixture(scope="module")
def sheets(small: Written) -> Mapping[str, Any]:
    return {sheet.title: sheet for sheet in openpyxl.load_workbook(BytesIO(small.file)).worksheets}


def column(small: Written, sheet: str, key: str) -> list[Value]:
    """Return the plan's figures in a column."""
    table: Table[Any] = small.book[sheet]
    found = next(one for one in table.columns if one.key == key)
    return [found.figure(row) for row in table.rows]


def test_the_sheets_follow_the_month(sheets: Mapping[str, Any]) -> None:
    assert list(sheets) == [
        "Summary",
        "Needs you",
        "Buy",
        "Orders",
        "Cut",
        "Out of sheets",
        "Pieces",
        "Ways to cut",
        "Recipes",
        "Recipe papers",
        "Papers left",
        "Pack",
        "Contents",
        "Ship",
        "Crew days",
        "Waves",
        "Cost",
        "Entries",
        "Lots",
        "Shelf",
        "Other costs",
        "Against the budget",
        "Cash out",
        "Balance",
        "Balance of pieces",
        "Balance of area",
        "Roster exceptions",
    ]


def test_every_sheet_scrolls_filters_and_prints_as_a_list_should(sheets: Mapping[str, Any]) -> None:
    for sheet in sheets.values():
        assert sheet.freeze_panes is not None
        assert sheet.freeze_panes.endswith("4")
        assert sheet.auto_filter.ref.startswith("A3:")
        assert sheet.print_title_rows == "$3:$3"
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.oddFooter.left.text == STAMP.text
        assert sheet.oddFooter.right.text == "page &P of &N"
        assert sheet.oddHeader.left.text == "River && Reed Paper Club - Kingfisher, April 2027"


def test_the_workbook_says_which_plan_it_belongs_to(small: Written) -> None:
    book: Any = openpyxl.load_workbook(BytesIO(small.file))
    assert book.properties.identifier == STAMP.plan_id
    assert book.properties.version == "3"
    assert book.properties.subject == STAMP.text
    assert book.properties.modified == STAMP.made_at.replace(tzinfo=None)
    own = {one.name: one.value for one in book.custom_doc_props.props}
    assert own["Plan"] == STAMP.plan_id
    assert own["Plan version"] == 3


def test_money_and_days_are_numbers_with_formats(sheets: Mapping[str, Any]) -> None:
    heads = {cell.value: cell.column_letter for cell in sheets["Buy"][3]}
    assert sheets["Buy"][f"{heads['Amount (EUR)']}4"].number_format == "#,##0.00"
    assert sheets["Buy"][f"{heads['Price each (EUR)']}4"].number_format == "#,##0.00####"
    day = sheets["Buy"][f"{heads['Order by']}4"]
    assert (day.value, day.number_format) == (datetime(2027, 3, 10), "[$-809]d mmm yyyy")  # noqa: DTZ001


def test_a_yen_has_no_cents() -> None:
    sheet = openpyxl.load_workbook(BytesIO(Written(IN_YEN).file))["Cost"]
    assert sheet["C4"].number_format == "#,##0"


def test_heads_explain_figures_that_are_sums(sheets: Mapping[str, Any]) -> None:
    notes = {cell.value: cell.comment.text for cell in sheets["Buy"][3] if cell.comment}
    assert notes["To order"].startswith("Needed, less on hand, less cut, less due in, in time or late;")
    assert "Ordered x price each" in notes["Amount (EUR)"]


def test_text_that_looks_like_a_formula_stays_text() -> None:
    sheet: Any = openpyxl.load_workbook(BytesIO(Written(named("=1+1")).file))["Roster exceptions"]
    [cell] = [cell for row in sheet for cell in row if cell.value == "=1+1"]
    assert cell.data_type == "s"
    assert cell.quotePrefix  # so it stays text when somebody edits it


def named(name: str) -> Month:
    """Return the month with one more on the roster who is left out, so that the name stands on a sheet."""
    return replace(MONTH, subscribers=(*MONTH.subscribers, person("Z99", name, active=False)))


def test_a_late_and_a_short_material_are_called_so(small: Written) -> None:
    assert column(small, "Buy", "state") == ["", "late", "", "", "short 2", ""]
    assert column(small, "Needs you", "what")[:2] == ["Late material", "Short material"]


def test_pieces_say_which_sum_they_are(small: Written) -> None:
    # 12 deluxe and 31 standard kits with 3 tags each: 129
    at = column(small, "Pieces", "piece").index("Tag")
    assert column(small, "Pieces", "good")[at] == 129
    assert column(small, "Pieces", "for")[at] == "12 DLX kits x 3 + 31 STD kits x 3"


def test_recipes_are_measured_by_their_papers() -> None:
    """Of an A4 sheet 8 x 11 1/2 in are used: A4 is 210.0 x 297.0 mm, they are 203.2 x 292.1 mm."""
    demo = Written(demo_month(300))
    at = column(demo, "Recipe papers", "name").index("Clear vellum, A4")
    assert column(demo, "Recipe papers", "share")[at] == Fraction(2032 * 2921, 2100 * 2970)
    assert column(demo, "Recipe papers", "offcuts")[at] == "6.8 × 297 mm; 203.2 × 4.9 mm"
    assert column(demo, "Recipes", "cuts") == [15, 15, 5, 17, 11]
    papers = dict(
        zip(column(demo, "Papers left", "name"), column(demo, "Papers left", "sheets"), strict=True)
    )
    assert papers["Bark brown card"] == 3  # one each in Garden gate, Kite weather and Long table


def test_a_recipe_costs_its_sheets_and_its_share_of_those_cut_by_the_club() -> None:
    """Two sheets of card at 0.15; one print at 0.30, and two tags of twelve from a sheet of it: 0.30 x 2 / 12 = 0.05."""
    tiny = Written(designed_month())
    assert column(tiny, "Recipe papers", "cost") == [Fraction(3, 10), Fraction(35, 100)]
    assert column(tiny, "Recipes", "cost") == [Fraction(65, 100)]
    # of the print 12 x 3 of 12 x 12 in is used, of the card all of it
    assert column(tiny, "Recipe papers", "share") == [1, Fraction(1, 4)]
    assert column(tiny, "Papers left", "offcuts") == ["none", "12 × 9 in"]


def test_of_a_recipe_known_by_its_rows_no_cuts_are_made_up(small: Written) -> None:
    assert column(small, "Recipes", "cuts") == [None]
    assert column(small, "Papers left", "offcuts") == ["", ""]


def test_an_empty_sheet_says_so() -> None:
    empty = openpyxl.load_workbook(BytesIO(Written(EMPTY_MONTH).file))
    assert (
        empty["Pack"]["A4"].value
        == "No boxes this month: the roster is empty, or everyone on it is left out."
    )
    assert empty["Ship"]["A4"].value == "Nothing to send this month."


def test_nothing_in_the_file_tells_the_time_of_saving(small: Written) -> None:
    with ZipFile(BytesIO(small.file)) as parts:
        assert {part.date_time for part in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_the_workbook_carries_no_other_makers_name(small: Written) -> None:
    with ZipFile(BytesIO(small.file)) as parts:
        assert b"Kit production planning" in parts.read("docProps/app.xml")
        assert b"penpyxl" not in parts.read("docProps/app.xml") + parts.read("docProps/core.xml")
