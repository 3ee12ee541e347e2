"""Carriers' lists of tracking numbers: sent, shown with what is wrong with them, taken."""

import csv
import io
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe

from kits.models import Month
from planning.at_bench.numbers import BOX, NUMBER, look_through, read_list, take_list
from planning.documents.exceptions import harmless
from planning.models import TrackingList, TrackingNumber
from planning.monthfile.guard import MOST_BYTES
from planning.monthfile.problems import MonthFileError, refuse
from planning.tracking import TrackingResult
from planning.views import gate, words
from planning.views.box import plan_or_404
from planning.views.orders import around, person
from planning.views.parts import Cell, Figure, Line, Pages, Table, number, text, when, why

SHOWN = 100  # rows on a page
EARLIER = 20  # lists


def tracking(request: HttpRequest, month: int) -> HttpResponse:
    """Ask for a list, and show those that came before."""
    row = gate.month_or_404(request, month)
    plan_or_404(row)
    error = ""
    if request.method == "POST":
        try:
            return redirect(address(row, receive(request, row)))
        except MonthFileError as problem:
            error = str(problem)
    lists = row.tracking_lists.defer("rows")[:EARLIER]
    shown = around(row, "benches") | {
        "error": error,
        "most": words.file_size(MOST_BYTES),
        "table": list_table(row, list(lists)),
        "count": TrackingNumber.objects.filter(month=row).count(),
    }
    return render(request, "planning/tracking.html", shown, status=422 if error else 200)


def receive(request: HttpRequest, month: Month) -> TrackingList:
    """Keep the list that was sent. Raises MonthFileError."""
    file = request.FILES.get("file")
    if file is None:
        raise refuse("no file was chosen", "Choose a list: CSV or an .xlsx workbook.")
    if (file.size or 0) > MOST_BYTES:
        raise refuse(
            f"the file is larger than {words.file_size(MOST_BYTES)}", "Divide it into several files."
        )
    with TemporaryDirectory() as folder:
        path = Path(folder, "list")
        with path.open("wb") as kept:
            for piece in file.chunks():
                kept.write(piece)
        rows = read_list(path)
    s10 = request.POST.get("s10") == "yes"
    name = Path(file.name or "list").name[:100]
    return TrackingList.objects.create(
        month=month, name=name, at=now(), by=person(request), s10=s10, rows=rows
    )


def address(month: Month, listed: TrackingList) -> str:
    """Return where a list is shown."""
    return f"{reverse('tracking_list', args=[month.pk])}?list={listed.pk}"


def list_table(month: Month, lists: list[TrackingList]) -> Table:
    """Return the lists that came before."""
    return Table(
        "Lists, the latest first",
        (text("List"), when("Came"), text("By"), when("Taken")),
        [
            Line(
                (
                    Cell(one.name, href=address(month, one)),
                    words.moment(one.at),
                    one.by,
                    words.moment(one.taken_at) if one.taken_at else "not yet",
                )
            )
            for one in lists
        ],
        empty="None came yet.",
    )


# --- One list ---


def asked_list(request: HttpRequest, month: Month) -> TrackingList:
    """Return the list whose number the address asks for. Raises Http404."""
    return get_object_or_404(TrackingList, month=month, pk=gate.number_asked(request, "list"))


@require_safe
def tracking_list(request: HttpRequest, month: int) -> HttpResponse:
    """Show what a list would bring, and what is wrong with it."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    listed = asked_list(request, row)
    found = look_through(one, listed)
    shown = around(row, "benches") | {
        "listed": listed,
        "new": len(found.new),
        "has_refused": bool(found.refused),
        "figures": list_figures(listed, found),
        "table": refused_table(listed, found, gate.page_number(request, "refused")),
    }
    return render(request, "planning/tracking_list.html", shown)


def list_figures(listed: TrackingList, found: TrackingResult) -> tuple[Figure, ...]:
    """Return what a list says, in numbers."""
    rows = len(listed.rows)
    parts = (len(found.new), len(found.repeated), len(found.refused))
    return (
        Figure(words.count(rows), f"{words.noun(rows, 'row')} in the list", words.added(parts, rows)),
        Figure(words.count(parts[0]), "new"),
        Figure(words.count(parts[1]), "known already"),
        Figure(words.count(parts[2]), "refused"),
    )


def refused_table(listed: TrackingList, found: TrackingResult, page: int) -> Table:
    """Return one page of the rows that are refused."""
    pages = Pages("refused", page, len(found.refused), SHOWN, f"list={listed.pk}&amp;")
    cells = {row: (box, code) for row, box, code in listed.rows}
    lines = [
        Line((words.count(one.row), *cells[one.row], words.sentence(one.why)))
        for one in found.refused[pages.first - 1 : pages.last]
    ]
    return Table(
        "Rows that are refused",
        (number("Row"), text(BOX), text(NUMBER), why("What is wrong")),
        lines,
        empty="No row is refused.",
        pages=pages if pages.count > 1 else None,
    )


@require_POST
def tracking_take(request: HttpRequest, month: int) -> HttpResponse:
    """Take the new numbers of a list."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    taken = take_list(one, asked_list(request, row).pk)
    said = words.counted(taken, "number")
    messages.success(request, f"{said} taken." if taken else "Nothing of this list is new.")
    return redirect("tracking", month=month)


@require_safe
def tracking_refused(request: HttpRequest, month: int) -> HttpResponse:
    """Send the refused rows as CSV with what is wrong, to be put right and sent again."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    listed = asked_list(request, row)
    cells = {number: (box, code) for number, box, code in listed.rows}
    rows = [("Row", BOX, NUMBER, "What is wrong")]
    rows += [(str(each.row), *cells[each.row], each.why) for each in look_through(one, listed).refused]
    return as_csv(rows, "refused.csv")


@require_safe
def tracking_template(request: HttpRequest, month: int) -> HttpResponse:
    """Send an empty list: its two headings."""
    gate.month_or_404(request, month)
    return as_csv([(BOX, NUMBER)], "tracking.csv")


def as_csv(rows: Sequence[Sequence[str]], name: str) -> HttpResponse:
    """Return rows as a file; no cell of it is taken for a formula."""
    made = io.StringIO()
    csv.writer(made, lineterminator="\r\n").writerows([harmless(cell) for cell in row] for row in rows)
    answer = HttpResponse("\ufeff" + made.getvalue(), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
