"""Tables into a workbook: heads, figures, formulas, totals, and a page that prints."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import Cell as Target
from openpyxl.chart import BarChart, LineChart, Reference
from openpyxl.comments import Comment
from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from planning.documents.pdf.typeset import wrap
from planning.documents.pdf.words import LETTER
from planning.documents.stamp import Stamp
from planning.documents.workbook import looks
from planning.documents.workbook.cells import put
from planning.documents.workbook.save import workbook_bytes
from planning.documents.workbook.table import FIRST_ROW, HEAD_ROW, Book, Cell, Chart, Look, Table, Value

LETTER_SIZE, A4_SIZE = 1, 9  # as spreadsheet files number sizes of paper
UPRIGHT_UP_TO = 145  # characters; wider sheets print across
READ_ACROSS = 16  # columns that what a sheet says stands above; nobody reads across a hundred
POINTS_A_LINE = 13
FIGURE = 5.4  # points: how wide a figure is, in which columns are measured
PADDING = 9  # points a cell of words keeps free

Type = tuple[str, float]
PLAIN: Type = ("Helvetica", 10)  # as wide as the workbook's font, letter by letter
BOLD: Type = ("Helvetica-Bold", 9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Binding:
    """What all sheets share. title: of the workbook; paper: A4 or Letter; exponent: decimals of the club's money."""

    title: str
    author: str
    paper: str
    exponent: int
    stamp: Stamp


def bound(tables: Sequence[Table[Any]], binding: Binding) -> bytes:
    """Return the workbook that holds the tables."""
    file = opened(binding)
    book = {table.name: table for table in tables}
    figures = {table.name: fill(file.create_sheet(table.name), table, book, binding) for table in tables}
    return workbook_bytes(file, figures, binding.stamp)


def opened(binding: Binding) -> Workbook:
    """Return a workbook without sheets that knows every style."""
    file = Workbook()
    file.remove(file.worksheets[0])
    file.properties.title, file.properties.creator = binding.title, binding.author
    # Widths are in figures of the font of the style Normal. No public way leads to it.
    file._named_styles["Normal"].font = Font(looks.FONT, 10)  # type: ignore[attr-defined]  # noqa: SLF001
    for style in looks.styles(binding.exponent):
        file.add_named_style(style)
    return file


def fill(sheet: Worksheet, table: Table[Any], book: Book, binding: Binding) -> dict[str, Value]:
    """Write a table on its sheet; return the figure of each of its formulas."""
    begin(sheet, table)
    figures: dict[str, Value] = {}
    for place, cell in table.cells(book):
        write(sheet[place], cell, is_total=sheet[place].row > table.last_row)
        if cell.formula:
            figures[place] = cell.value
    furnish(sheet, table)
    if table.chart and table.rows:
        sheet.add_chart(
            drawn(sheet, table, table.chart), f"{get_column_letter(len(table.columns) + 2)}{HEAD_ROW}"
        )
    lay_out(sheet, table, binding)
    return figures


def drawn(sheet: Worksheet, table: Table[Any], chart: Chart) -> BarChart | LineChart:
    """Return a chart of some columns, each named by its head."""
    made: BarChart | LineChart = LineChart() if chart.is_line else BarChart()
    made.title, made.width, made.height = chart.title, 24, 11
    made.x_axis.delete = made.y_axis.delete = False
    keys = [column.key for column in table.columns]

    def cells(key: str, first: int) -> Reference:
        column = keys.index(key) + 1
        return Reference(sheet, min_col=column, min_row=first, max_row=table.last_row)

    for key in chart.drawn:
        made.add_data(cells(key, HEAD_ROW), titles_from_data=True)
    made.set_categories(cells(chart.along, FIRST_ROW))
    return made


def begin(sheet: Worksheet, table: Table[Any]) -> None:
    """Write what stands above the figures: the sheet's name, what it is for, the heads with their notes."""
    above = table.columns[:READ_ACROSS]
    sheet["A1"], sheet["A2"] = table.name, table.says
    sheet["A1"].style, sheet["A2"].style = looks.TITLE, looks.SAYS
    sheet.merge_cells(f"A2:{get_column_letter(len(above))}2")
    wide = sum(column.width for column in above)
    sheet.row_dimensions[1].height = 26
    sheet.row_dimensions[2].height = row_height([(table.says, wide)]) + 5
    sheet.row_dimensions[HEAD_ROW].height = (
        row_height([(one.head, one.width) for one in table.columns], BOLD) + 3
    )
    for column in table.columns:
        cell = sheet[f"{table.letter(column.key)}{HEAD_ROW}"]
        cell.value, cell.style = column.head, looks.HEAD if column.is_words else looks.HEAD_OF_FIGURES
        sheet.column_dimensions[cell.column_letter].width = column.width
        if column.note:
            cell.comment = Comment(column.note, "", width=260, height=30 + 17 * lines(column.note, 44))


def row_height(texts: Iterable[tuple[Value, float]], font: Type = PLAIN) -> float:
    """Return the height of a row in points, by the text that takes most lines in a column of its width."""
    return POINTS_A_LINE * max((lines(str(text or ""), width, font) for text, width in texts), default=1) + 3


def lines(text: str, width: float, font: Type = PLAIN) -> int:
    """Return how many lines a text takes in a column so many figures wide."""
    room = max(width * FIGURE - PADDING, FIGURE)
    return sum(len(list(wrap(part, *font, room))) for part in text.split("\n"))


def write(target: Target, cell: Cell, *, is_total: bool) -> None:
    """Write one cell below the heads."""
    state = looks.TOTAL if is_total else looks.NEEDS_YOU if cell.needs_you else ""
    target.style = f"{cell.look} {state}".strip()
    if cell.formula:
        target.value = cell.formula
    else:
        put(target, cell.value)
    if cell.look is Look.LINK and cell.value:
        target.hyperlink = Hyperlink(ref=target.coordinate, location=f"'{cell.value}'!A1")


def furnish(sheet: Worksheet, table: Table[Any]) -> None:
    """Let heads and names stand still, rows be filtered, and a check that fails stand out."""
    last = get_column_letter(len(table.columns))
    for at, row in enumerate(table.rows, FIRST_ROW):
        texts = [(column.figure(row), column.width) for column in table.columns if column.is_words]
        sheet.row_dimensions[at].height = row_height(texts)
    sheet.freeze_panes = f"{get_column_letter(table.frozen + 1)}{FIRST_ROW}"
    sheet.auto_filter.ref = f"A{HEAD_ROW}:{last}{table.last_row}"
    sheet.sheet_view.showGridLines = False
    for column in table.columns:
        if column.look is Look.CHECK:
            fails = Rule(
                type="cellIs",
                operator="equal",
                formula=["FALSE"],
                dxf=DifferentialStyle(font=Font(bold=True, color=looks.NEED)),
            )
            sheet.conditional_formatting.add(table.span(column.key), fails)


def lay_out(sheet: Worksheet, table: Table[Any], binding: Binding) -> None:
    """Print one page wide, the heads again on every page, with title, stamp and "page x of y"."""
    across = sum(column.width for column in table.columns) > UPRIGHT_UP_TO
    page = sheet.page_setup
    page.orientation = "landscape" if across else "portrait"
    page.paperSize = LETTER_SIZE if binding.paper == LETTER else A4_SIZE
    page.fitToWidth, page.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_title_rows = f"{HEAD_ROW}:{HEAD_ROW}"
    sheet.page_margins = PageMargins(left=0.45, right=0.45, top=0.7, bottom=0.7, header=0.35, footer=0.35)
    sheet.oddHeader = edge(binding.title, "&A")
    sheet.oddFooter = edge(binding.stamp.text, "page &P of &N")


def edge(left: str, right: str) -> HeaderFooterItem:
    """Return what stands above or below a printed page. left is text, right may hold the format's own signs."""
    item = HeaderFooterItem()
    for part, text in ((item.left, left.replace("&", "&&")), (item.right, right)):
        part.text, part.size, part.font, part.color = text, 8, looks.FONT, looks.SOFT
    return item
