"""The month's sheets in the app: all of them, and the rows of one, found, sorted and by pages."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from kits import models as kits
from planning import edits, load
from planning.digests import fingerprint_of
from planning.drafts import draft_faults
from planning.faults import Fault
from planning.faults.keys import KEYS
from planning.faults.texts import one_line
from planning.models import Edit
from planning.monthfile.codecs import Habits, Lines
from planning.monthfile.sheets import CLUB, SHEETS, Sheet
from planning.monthfile.sheets.sheet import Column as Field
from planning.rights.ask import rights
from planning.rights.table import sheet_area
from planning.views import gate, words
from planning.views.forms import Field as Asking
from planning.views.found import SIZE, Asked, Found, all_rows, count_of, found_of, mark_of
from planning.views.parts import Cell, Column, Line, Pages, Table, number, text

MOST_SHOWN = 9  # columns of a list; the others are on the row's own page
LONGEST = 60  # characters of a cell in a list
LISTED = {
    "subscribers": ("reference", "name", "city", "postcode", "country", "tier", "quantity", "active", "skips")
}  # the columns of a list where others than the first say most


def around(row: kits.Month) -> dict[str, object]:
    """Return what every page around sheets shows."""
    return {"month": row, "step": "sheets"}


def url(page: str, row: kits.Month, query: str) -> str:
    """Return where a page about a sheet is."""
    return f"{reverse(page, args=[row.pk])}?{query}"


# --- All sheets ---


def sheets(request: HttpRequest, month: int) -> HttpResponse:
    """List the month's sheets, with how many rows each has and what waits for somebody there."""
    row = gate.month_or_404(request, month)
    asked = rights(request)
    seen = [sheet for sheet in SHEETS if asked.may_look(sheet_area(sheet.table))]
    lines = [sheet_line(row, sheet) for sheet in seen]
    table = Table(
        "Everything the month is planned from", (text("Sheet"), number("Rows"), text("What it says")), lines
    )
    shown = {"table": table, "edits": may_undo(request, row)}
    return render(request, "planning/sheets.html", around(row) | shown)


def may_undo(request: HttpRequest, row: kits.Month, table: str = "") -> list[Edit]:
    """Return the edits whoever asks may take back."""
    return [edit for edit in edits.undoable(row, table) if gate.may_change(request, edit.table)]


def sheet_line(row: kits.Month, sheet: Sheet) -> Line:
    """Return a sheet as the list of all sheets shows it."""
    waiting = sum(map(len, waiting_on(row, sheet.table).values()))
    count = (
        ""
        if sheet is CLUB
        else words.count(count_of(sheet.table, row.pk, str(row.digests.get(sheet.table, row.fingerprint))))
    )
    first = ", ".join(heading(column, Habits(money=row.currency)) for column in sheet.columns[:4])
    needs = f"{words.counted(waiting, 'fault')} in the way of a plan" if waiting else ""
    return Line((Cell(sheet.title, href=url("rows", row, f"sheet={sheet.table}")), count, first), needs)


def waiting_on(row: kits.Month, table: str) -> dict[int | None, list[Fault]]:
    """Return what stands in the way of a plan on a sheet, by the place of the row; None is the sheet as a whole."""
    held = {name: digest for name, digest in row.digests.items() if name not in load.PEOPLE}
    waiting = waiting_in(row.pk, fingerprint_of(held) if held else row.fingerprint).get(table, ())
    if not waiting or table in load.PEOPLE:
        return {}  # people were looked at when they came in
    kept = () if table == CLUB.table else all_rows(table, row.pk, mark_of(row, table))
    found: dict[int | None, list[Fault]] = {}
    for fault in waiting:
        is_there = fault.row is not None and fault.row < len(kept)
        found.setdefault(kept[fault.row or 0][0] if is_there else None, []).append(fault)
    return found


@lru_cache(maxsize=16)  # it follows from all sheets but those of people
def waiting_in(pk: int, mark: str) -> dict[str, list[Fault]]:
    """Return what stands in the way of a plan, by sheet."""
    found: dict[str, list[Fault]] = {}
    for fault in draft_faults(load.without_people(kits.Month.objects.get(pk=pk))):
        found.setdefault(fault.table, []).append(fault)
    return found


# --- The rows of one ---


def rows(request: HttpRequest, month: int) -> HttpResponse:
    """List the rows of a sheet."""
    row = gate.month_or_404(request, month)
    sheet = gate.sheet_or_404(request)
    if sheet is CLUB:
        return redirect(url("row", row, "sheet=club"))
    asked = Asked.of(request, sheet)
    found = found_of(row, asked)
    waiting = waiting_on(row, sheet.table)
    shown: dict[str, Any] = {
        "sheet": sheet,
        "asked": asked,
        "found": found,
        "table": table_of(row, asked, found),
        "filters": list(filters_of(sheet, asked, found)),
        "said": [str(fault) for fault in waiting.get(None, ())],
        "edits": may_undo(request, row, sheet.table),
        "may_change": gate.may_change(request, sheet.table),
        "is_roster": sheet.table == "subscribers",
    }
    return render(request, "planning/rows.html", around(row) | shown)


def table_of(row: kits.Month, asked: Asked, found: Found) -> Table:
    """Return the rows of one page."""
    sheet = asked.sheet
    habits = Habits(money=row.currency)
    waiting = waiting_on(row, sheet.table)
    columns = columns_shown(sheet, found)
    lines = []
    for (place, _), texts in zip(found.rows, found.texts, strict=True):
        first, *others = (in_list(column, texts[column.field]) or "–" for column in columns)
        needs = " ".join(str(fault) for fault in waiting.get(place, ()))
        lines.append(
            Line((Cell(first, href=url(page_of(sheet), row, query_of(sheet, place, texts))), *others), needs)
        )
    pages = Pages("page", asked.page, found.count, SIZE, f"{asked.query()}&") if found.count > SIZE else None
    title = f"{sheet.title}, {found.count:,} of {found.all:,} shown" if asked.is_filtered else sheet.title
    headings = tuple(column_of(column, asked, found, habits) for column in columns)
    return Table(
        title,
        headings,
        lines,
        empty="No row is like that." if found.all else "There is no row yet.",
        pages=pages,
    )


def page_of(sheet: Sheet) -> str:
    """Return the page a row of a sheet is changed on."""
    return "recipe" if sheet.table == "recipes" else "row"


def query_of(sheet: Sheet, place: int, texts: dict[str, str]) -> str:
    """Return the query of a row's own page."""
    from planning.views.recipes import query

    return query(texts["code"]) if sheet.table == "recipes" else f"sheet={sheet.table}&at={place}"


def columns_shown(sheet: Sheet, found: Found) -> list[Field]:
    """Return the columns of a list: what tells rows apart, then what most rows say something in."""
    if sheet.table in LISTED:
        return [column for column in sheet.columns if column.field in LISTED[sheet.table]]
    keys = [column for column in sheet.columns if column.field in KEYS[sheet.table]]
    others = [
        column for column in sheet.columns if column not in keys and not isinstance(column.codec, Lines)
    ]
    plain = {column.field: sheet.default(column) for column in others}
    told = [
        column
        for column in others
        if any(getattr(one, column.field) not in (plain[column.field], "", None, ()) for _, one in found.rows)
    ]
    return [*keys, *told][:MOST_SHOWN]


def column_of(column: Field, asked: Asked, found: Found, habits: Habits) -> Column:
    """Return the heading of a list's column, which leads to sort by it."""
    title, _, unit = column.title(habits).partition(" (")
    name = asked.sort.removeprefix("-")
    is_up = asked.sort == column.field
    way = ("ascending" if is_up else "descending") if name == column.field else ""
    sort = (
        f"?{asked.query(sort=f'-{column.field}' if is_up else column.field)}"
        if column.field in found.sorts
        else ""
    )
    kind = "number" if column.codec.is_number else ""
    return Column(title, unit.removesuffix(")"), kind, sort, way)


def heading(column: Field, habits: Habits) -> str:
    """Return a heading without its unit."""
    return column.title(habits).partition(" (")[0]


def in_list(column: Field, said: str) -> str:
    """Return a cell as a list shows it; large numbers have their thousands parted."""
    return f"{int(said):,}" if column.codec.is_number and said.isascii() and said.isdigit() else short(said)


def short(said: str) -> str:
    """Return a text as a list has room for it."""
    line = one_line(said)
    return line if len(line) <= LONGEST else f"{line[:LONGEST]}…"


def filters_of(sheet: Sheet, asked: Asked, found: Found) -> Iterator[Asking]:
    """Yield the fields to choose rows by."""
    columns = {column.field: column for column in sheet.columns}
    for name, choices in found.filters.items():
        yield Asking(
            name=f"is-{name}",
            label=heading(columns[name], Habits()),
            value=asked.chosen.get(name, ""),
            kind="choice",
            choices=(("", "Any"), *((one, one) for one in choices)),
        )
