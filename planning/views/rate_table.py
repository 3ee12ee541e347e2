"""A service's rate table comes in from a spreadsheet: from a day on, looked at first, then made like any other rows."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from kits import models as kits
from planning import load, proposals
from planning.editing import habits_of
from planning.editing.rate_table import rows_of_rate_table
from planning.monthfile.problems import MonthFileError, refuse
from planning.monthfile.sheets import Sheet
from planning.monthfile.xlsx import Row
from planning.shipping import Service
from planning.views import gate, words
from planning.views.orders import person
from planning.views.rows import around, url
from planning.views.rows_take import LARGEST_FILE, rows_of_file


def rate_table(request: HttpRequest, month: int) -> HttpResponse:
    """Ask for a rate table, or take it to be looked at."""
    row, sheet = gate.month_or_404(request, month), gate.sheet_or_404(request)
    if sheet.table != "rates":
        raise Http404
    services = tuple(load.rows("services", row))
    shown: dict[str, Any] = {
        "sheet": sheet,
        "services": services,
        "service": request.POST.get("service", ""),
        "first": request.POST.get("first", ""),
        "most": words.file_size(LARGEST_FILE),
    }
    if request.method != "POST":
        return render(request, "planning/rate_table.html", around(row) | shown)
    try:
        name, rows = asked(request, row, sheet, services)
        edit = proposals.receive(row, sheet, name, rows, person(request), replaces=False)
    except MonthFileError as error:
        shown["problems"] = [str(one) for one in error.problems[:10]]
        return render(request, "planning/rate_table.html", around(row) | shown, status=422)
    return redirect(url("rows_preview", row, f"edit={edit.pk}"))


def asked(
    request: HttpRequest, row: kits.Month, sheet: Sheet, services: tuple[Service, ...]
) -> tuple[str, Iterator[Row]]:
    """Return what was sent as rows of the Rates sheet, and what to call it. Raises MonthFileError."""
    service = next((one for one in services if one.code == request.POST.get("service")), None)
    file = request.FILES.get("file")
    if service is None:
        raise refuse("no service was chosen", "Choose the service whose rates these are.")
    if file is None:
        raise refuse("no file was chosen", "Choose CSV or an .xlsx workbook.")
    if (file.size or 0) > LARGEST_FILE:
        raise refuse(f"{file.name} is larger than {words.file_size(LARGEST_FILE)}", "Divide it.")
    first = day_of(request.POST.get("first", ""))
    rows = list(rows_of_rate_table(rows_of_file(file, sheet), service.code, first, habits_of(load.club(row))))
    since = f" from {words.day(first)}" if first else ""
    return f"Rates of {service.name}{since}, {file.name}", iter(rows)


def day_of(text: str) -> date | None:
    """Return a day as a browser sends it, None where it was left empty. Raises MonthFileError."""
    try:
        return date.fromisoformat(text) if text.strip() else None
    except ValueError:
        raise refuse(f"{text[:20]} is no day", "Choose the first day of collection.") from None
