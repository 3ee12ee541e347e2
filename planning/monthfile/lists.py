"""Lists that spreadsheets enforce: what a cell may say is picked, not typed."""

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from planning.countries import COUNTRIES
from planning.faults.references import REFERENCES
from planning.monthfile.codecs import Codes
from planning.monthfile.look import Tab
from planning.monthfile.sheets import COUNTRIES_TITLE, SHEETS, Column, Sheet

FIRST_ROW, LAST_ROW = 3, 1_048_576

# Fields that name another sheet's column: the whole column, so that the list grows with it. The roles of
# kit papers have none, as those of a designed recipe stand in its text.
NAMED = {(one.table, one.field): (one.to[0], one.by) for one in REFERENCES if len(one.to) == 1} | {
    ("pieces", "role"): ("roles", "role"),
    ("transits", "zone"): ("zones", "zone"),
    ("rates", "zone"): ("zones", "zone"),
}


def enforced_list(tab: Tab, sheet: Sheet, column: Column, cells: str) -> None:
    """Let some cells of a column take only what is on their list, if they have one."""
    formula, advice = list_of(sheet, column)
    if not formula:
        return
    rule = DataValidation(
        type="list",
        formula1=formula,
        allow_blank=not sheet.is_needed(column),
        showErrorMessage=True,
        errorTitle=column.heading.partition(" (")[0],
        error=advice,
    )
    rule.add(cells)
    tab.data_validations.append(rule)


def list_of(sheet: Sheet, column: Column) -> tuple[str, str]:
    """Return where a column's list is, and what to say to someone who writes something else."""
    if column.codec.choices:
        return f'"{",".join(column.codec.choices)}"', "Pick one from the list."
    if column.field == "country":
        return f"{COUNTRIES_TITLE}!$A$2:$A${len(COUNTRIES) + 1}", "Pick a code from the Countries sheet."
    if (sheet.table, column.field) in NAMED and not isinstance(column.codec, Codes):
        table, field = NAMED[sheet.table, column.field]
        return named_column(next(one for one in SHEETS if one.table == table), field)
    return "", ""


def named_column(sheet: Sheet, field: str) -> tuple[str, str]:
    """Return the cells below a heading of another sheet."""
    at = next(number for number, one in enumerate(sheet.columns, 1) if one.field == field)
    letter = get_column_letter(at)
    where = f"'{sheet.title}'!${letter}${FIRST_ROW}:${letter}${LAST_ROW}"
    return where, f"Write what stands on the {sheet.title} sheet."
