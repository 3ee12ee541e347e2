"""How a month file looks: ink on paper, and readable when printed in grey."""

from collections.abc import Sequence
from math import ceil
from typing import Any, TypeAlias

from openpyxl.cell import Cell, WriteOnlyCell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.properties import PageSetupProperties

Tab: TypeAlias = Any  # a write-only worksheet, of whose attributes openpyxl's types know few

INK, SOFT, FAINT = "20242B", "575D68", "F3EEE3"
A4, LETTER = 9, 1  # paper sizes as workbooks number them
TALLEST_ROW = 320  # points; who wants to see more of a text opens its cell
LINE_HEIGHT, NOTE_LINE_HEIGHT, TITLE_HEIGHT = 16, 12, 28  # points; a row may hold several lines
NOTE_SHARE = 0.85  # of a column's width in characters that a line of a note fills on average, small as it is

PLAIN = Font(name="Calibri", size=11, color=INK)
BOLD = Font(name="Calibri", size=11, bold=True, color=INK)
QUIET = Font(name="Calibri", size=9, italic=True, color=SOFT)
TITLE = Font(name="Cambria", size=18, color=INK)
GROUND = PatternFill("solid", fgColor=FAINT)
UNDERLINE = Border(bottom=Side("medium", color=INK))


def styled(
    tab: Tab,
    *,
    font: Font = PLAIN,
    shown_as: str = "General",
    right: bool = False,
    wrap: bool = False,
) -> Cell:
    """Return an empty cell with a look of its own."""
    cell = WriteOnlyCell(tab)
    cell.font = font
    cell.number_format = shown_as
    cell.alignment = Alignment(
        horizontal="right" if right else "left", vertical="top", wrap_text=wrap, indent=1
    )
    return cell


def heading(tab: Tab, *, right: bool = False) -> Cell:
    """Return an empty cell that heads a column."""
    cell = styled(tab, font=BOLD, right=right, wrap=True)
    cell.fill = GROUND
    cell.border = UNDERLINE
    return cell


def lay_out_page(tab: Tab, paper: str) -> None:
    """Print a sheet one page wide, on its side."""
    tab.page_setup.orientation = "landscape"
    tab.page_setup.paperSize = LETTER if paper == "Letter" else A4
    tab.page_setup.fitToWidth, tab.page_setup.fitToHeight = 1, 0
    tab.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    tab.oddFooter.left.text, tab.oddFooter.right.text = "&A", "page &P of &N"


def lay_out_table(tab: Tab, paper: str, heading_row: int, area: str, widths: tuple[int, ...]) -> None:
    """Lay out a table: headings that stay in sight and stand on every page, a filter, and widths."""
    lay_out_page(tab, paper)
    tab.freeze_panes = f"B{heading_row + 1}"
    tab.auto_filter.ref = area
    tab.print_title_rows = f"{heading_row}:{heading_row}"
    tab.row_dimensions[heading_row].height = 2 * LINE_HEIGHT
    for at, width in enumerate(widths, 1):
        tab.column_dimensions[get_column_letter(at)].width = width


def text_height(texts: Sequence[str]) -> int:
    """Return the height of a row in which texts show their lines."""
    lines = max((text.count("\n") + 1 for text in texts), default=1)
    return min(LINE_HEIGHT * lines, TALLEST_ROW)


def note_height(notes: Sequence[str], widths: Sequence[int]) -> int:
    """Return the height of a row of notes, each in a column of some width."""
    lines = (ceil(len(note) / (width * NOTE_SHARE)) for note, width in zip(notes, widths, strict=True))
    return NOTE_LINE_HEIGHT * max(lines) + 4
