"""Many rows of a sheet at once: pasted or from a file, looked at first, then made; taken back within ten minutes."""

from collections.abc import Callable, Iterator
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe

from kits import models as kits
from planning import edits, load, proposals
from planning.editing import MOST_PASTED, Line, Proposal, State, block_rows, habits_of, text_of_field
from planning.faults import TITLES
from planning.models import Edit, EditState
from planning.monthfile.problems import MonthFileError, Problem, refuse
from planning.monthfile.sheets import BY_TABLE, CLUB, Sheet
from planning.monthfile.xlsx import Row
from planning.rights.table import Act
from planning.views import gate, words
from planning.views.months import attachment
from planning.views.orders import person
from planning.views.parts import Figure, Table, number, text, why
from planning.views.parts import Line as Shown
from planning.views.row_form import name_of, told
from planning.views.rows import around, short, url

SHOWN = 100  # lines of a table on the page
LARGEST_FILE = 10_000_000  # bytes
LARGEST_PASTE = 2_000_000  # characters


def list_or_404(request: HttpRequest, act: Act = Act.CHANGE) -> Sheet:
    """Return the sheet of rows the URL asks for."""
    sheet = gate.sheet_or_404(request, act)
    if sheet is CLUB:
        raise Http404
    return sheet


# --- In ---


def rows_paste(request: HttpRequest, month: int) -> HttpResponse:
    """Ask for a block copied from a spreadsheet."""

    def read(row: kits.Month, sheet: Sheet) -> tuple[str, Iterator[Row]]:
        block = request.POST.get("block", "")
        if not block.strip():
            raise refuse("nothing was pasted", "Copy rows in your spreadsheet and paste them here.")
        if len(block) > LARGEST_PASTE or block.count("\n") > MOST_PASTED:
            raise refuse(
                "that is too much to paste", f"Paste at most {MOST_PASTED:,} rows, or take in a file."
            )
        return "a pasted block", block_rows(block, sheet, habits_of(load.club(row)))

    return asked(request, month, "planning/rows_paste.html", "block", read)


def rows_file(request: HttpRequest, month: int) -> HttpResponse:
    """Ask for a file with rows of one sheet."""

    def read(row: kits.Month, sheet: Sheet) -> tuple[str, Iterator[Row]]:
        file = request.FILES.get("file")
        if file is None:
            raise refuse("no file was chosen", "Choose CSV or an .xlsx workbook.")
        if (file.size or 0) > LARGEST_FILE:
            raise refuse(f"{file.name} is larger than {words.file_size(LARGEST_FILE)}", "Divide it.")
        return str(file.name), iter(rows_of_file(file, sheet))

    return asked(request, month, "planning/rows_file.html", "file", read)


def asked(
    request: HttpRequest,
    month: int,
    template: str,
    field: str,
    read: Callable[[kits.Month, Sheet], tuple[str, Iterator[Row]]],
) -> HttpResponse:
    """Show what asks for rows, or take them to be looked at."""
    row = gate.month_or_404(request, month)
    sheet = list_or_404(request)
    shown: dict[str, Any] = {
        "sheet": sheet,
        "is_roster": sheet.table in load.PEOPLE,
        "field": field,
        "headings": [column.title(habits_of(load.club(row))) for column in sheet.columns],
        "most": words.file_size(LARGEST_FILE),
    }
    if request.method != "POST":
        return render(request, template, around(row) | shown)
    replaces = request.POST.get("replaces") == "yes"
    try:
        name, rows = read(row, sheet)
        edit = proposals.receive(row, sheet, name, rows, person(request), replaces=replaces)
    except MonthFileError as error:
        shown |= {"problems": [str(one) for one in error.problems[:SHOWN]], "replaces": replaces}
        shown["pasted"] = request.POST.get("block", "")
        return render(request, template, around(row) | shown, status=422)
    return redirect(url("rows_preview", row, f"edit={edit.pk}"))


def rows_of_file(file: "UploadedFile[Any]", sheet: Sheet) -> list[Row]:
    """Return the rows of one sheet in a file: CSV, or a workbook with that sheet or with no other. Raises MonthFileError."""
    from planning.editing.reading import MOST_ROWS
    from planning.monthfile.headings import LAST_HEADING_ROW
    from planning.rosterfile.read import without_notes
    from planning.rosterfile.source import open_roster

    with TemporaryDirectory() as folder:
        path = Path(folder, Path(str(file.name)).name or "file")
        with path.open("wb") as kept:
            for chunk in file.chunks():
                kept.write(chunk)
        with open_roster(path, sheet) as source:
            return list(islice(without_notes(source.rows), MOST_ROWS + LAST_HEADING_ROW + 1))


# --- Looked at, and made ---


def rows_preview(request: HttpRequest, month: int) -> HttpResponse:
    """Show what rows would change, and change it when told to."""
    row = gate.month_or_404(request, month)
    edit = gate.edit_or_404(request, row, request.GET.get("edit", ""))
    if edit.state != EditState.PROPOSED:
        messages.info(request, f"{edit.name}: {edit.get_state_display()}.")
        return redirect(url("rows", row, f"sheet={edit.table}"))
    if request.method == "POST" and request.POST.get("act") == "drop":
        proposals.drop(edit)
        messages.success(request, "Dropped. Nothing was changed.")
        return redirect(url("rows", row, f"sheet={edit.table}"))
    proposal = proposals.look(edit)
    if request.method == "POST":
        return made(request, row, edit, proposal)
    return render(request, "planning/rows_preview.html", around(row) | preview(row, edit, proposal))


def made(request: HttpRequest, row: kits.Month, edit: Edit, proposal: Proposal) -> HttpResponse:
    """Make what was looked at, unless the month is another by now."""
    again = redirect(url("rows_preview", row, f"edit={edit.pk}"))
    if request.POST.get("fingerprint") != row.fingerprint:
        messages.warning(
            request, "The month was changed since you looked. See what changes now, then say yes again."
        )
        return again
    way = proposals.newly_in_the_way(row, edit.table, proposal.changes)
    faults = list(proposals.too_many_boxes(row, proposal.changes)) if edit.table == "subscribers" else []
    if faults:
        messages.error(request, f"Nothing was changed. {faults[0]}")
        return again
    if not proposal.changes:
        messages.info(request, "There was nothing to change.")
        return redirect(url("rows", row, f"sheet={edit.table}"))
    try:
        done = proposals.make(edit, proposal, person(request))
    except edits.ChangedError:
        messages.warning(
            request, "Somebody changed these rows just now. See what changes now, then say yes again."
        )
        return again
    messages.success(request, f"{done.name}.{told(way)}")
    return redirect(url("rows", row, f"sheet={edit.table}"))


def preview(row: kits.Month, edit: Edit, proposal: Proposal) -> dict[str, Any]:
    """Return what the page shows of what would change."""
    sheet = BY_TABLE[edit.table]
    counts = [(state, proposal.count(state)) for state in State]
    figures = [Figure(words.count(count), state.value) for state, count in counts]
    if edit.replaces:
        figures.append(Figure(words.count(len(proposal.gone)), "taken out"))
    return {
        "edit": edit,
        "sheet": sheet,
        "figures": figures,
        "button": button_of(proposal),
        "refused": proposal.count(State.REFUSED),
        "problems": problem_table(proposal),
        "changes": change_table(row, sheet, proposal),
        "way": [
            f"{TITLES[one.table]}: {one}"
            for one in proposals.newly_in_the_way(row, edit.table, proposal.changes)[:10]
        ],
    }


def button_of(proposal: Proposal) -> str:
    """Name the act and its size; nothing where there is nothing to do."""
    parts = [
        ("add", proposal.count(State.NEW)),
        ("change", proposal.count(State.CHANGED)),
        ("take out", len(proposal.gone)),
        ("leave out", proposal.count(State.REFUSED)),
    ]
    if not proposal.changes:
        return ""
    if not any(count for _, count in parts[:3]):
        return "Put the rows in this order"
    said = ", ".join(f"{act} {count:,}" for act, count in parts if count)
    return f"{said[0].upper()}{said[1:]}"


def problem_table(proposal: Proposal) -> Table | None:
    """Return what is wrong with the rows that are refused."""
    problems = [problem for line in proposal.lines for problem in line.problems]
    if not problems:
        return None
    lines = [
        Shown((str(one.row), where(one), one.value or "–", words.sentence(one.why), one.allowed))
        for one in problems[:SHOWN]
    ]
    more = f", the first {SHOWN} of {len(problems):,}" if len(problems) > SHOWN else ""
    heads = (number("Row"), text("Column"), text("Value"), why("What is wrong"), text("What to do"))
    return Table(f"What is wrong with rows that are left out{more}", heads, lines)


def where(problem: Problem) -> str:
    """Return the column of a problem: its letter and its heading."""
    return " ".join(part for part in (problem.column, problem.heading) if part) or "The row"


def change_table(row: kits.Month, sheet: Sheet, proposal: Proposal) -> Table:
    """Return what would become of rows, the first of them."""
    lines = list(islice(change_lines(row, sheet, proposal), SHOWN))
    count = proposal.count(State.NEW) + proposal.count(State.CHANGED) + len(proposal.gone)
    more = f", the first {SHOWN} of {count:,}" if count > SHOWN else ""
    heads = (number("Row"), text("Which"), text("What becomes of it"))
    return Table(
        f"What would change{more}", heads, lines, empty="Nothing: all that can be taken is here already."
    )


def change_lines(row: kits.Month, sheet: Sheet, proposal: Proposal) -> Iterator[Shown]:
    """Yield what would become of each row."""
    habits = habits_of(load.club(row))

    def said(line: Line) -> str:
        if line.before is None:
            return "New"
        return "; ".join(
            f"{column.heading.partition(' (')[0]}: {short(old) or 'nothing'} → {short(new) or 'nothing'}"
            for column in sheet.columns
            if (old := text_of_field(column, getattr(line.before, column.field), habits))
            != (new := text_of_field(column, getattr(line.after, column.field), habits))
        )

    for line in proposal.lines:
        if line.state in (State.NEW, State.CHANGED):
            yield Shown((str(line.read.number), name_of(sheet, line.after), said(line)))
    for _, gone in proposal.gone:
        yield Shown(("", name_of(sheet, gone), "Taken out"))


# --- Out, and back ---


@require_safe
def rows_refused(request: HttpRequest, month: int) -> HttpResponse:
    """Send the rows that are refused, with what is wrong, ready to be put right and taken in again."""
    from planning.intake.refused import Line as Refused
    from planning.intake.refused import Looked, words_of, write_refused

    row = gate.month_or_404(request, month)
    edit = gate.edit_or_404(request, row, request.GET.get("edit", ""))
    sheet = BY_TABLE[edit.table]
    lines = [
        Refused(line.read.number, " ".join(map(words_of, line.problems)), line.read.cells)
        for line in proposals.look(edit).lines
        if line.state is State.REFUSED
    ]
    if not lines:
        raise Http404
    stamp = Looked(plan_id=str(row), version=0, made_at=now(), file=edit.name)
    with TemporaryDirectory() as folder:
        path = Path(folder, "refused.xlsx")
        write_refused(iter(lines), path, load.club(row), stamp, len(lines), sheet)
        return attachment(path.read_bytes(), f"{sheet.table}-faults.xlsx")


@require_safe
def rows_export(request: HttpRequest, month: int) -> HttpResponse:
    """Send a sheet's rows as a workbook that can be taken in again, or an empty one to fill in."""
    from planning.monthfile.write import sheet_to_workbook

    row = gate.month_or_404(request, month)
    sheet = list_or_404(request, Act.LOOK)
    empty = request.GET.get("empty") == "yes"
    rows = () if empty else tuple(load.rows(sheet.table, row))
    name = f"{sheet.table}-template.xlsx" if empty else f"{row.code}-{row.month}-{sheet.table}.xlsx"
    return attachment(sheet_to_workbook(load.club(row), sheet, rows), name)


@require_POST
def rows_undo(request: HttpRequest, month: int) -> HttpResponse:
    """Take an edit back."""
    row = gate.month_or_404(request, month)
    edit = gate.edit_or_404(request, row, request.POST.get("edit", ""))
    try:
        done = edits.undo(edit, person(request))
        messages.success(request, f"{done.name}.")
    except edits.TooLateError as error:
        messages.warning(request, f"Nothing was taken back. {error}")
    return redirect(url("sheets" if edit.table == "club" else "rows", row, f"sheet={edit.table}"))
