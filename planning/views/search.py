"""One field that finds everything: months, the rows of a month's sheets, people, orders, boxes by their codes, papers."""

import re
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode

from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from kits import models as kits
from planning.calendar import YearMonth
from planning.documents.codes import BoxCodeError, box_code, check_box_code
from planning.models import Box, Plan, PurchaseOrder
from planning.monthfile.sheets import CLUB, SHEETS, Sheet
from planning.rights.ask import rights
from planning.rights.table import Area, paper_area, sheet_area
from planning.views import gate, words
from planning.views.found import Asked, found_of
from planning.views.parts import Cell, Line, Table, text
from planning.views.rows import page_of, query_of, url

FIRST = 5  # of each kind
SERIAL = 6  # digits of a box's serial number, which stand before its check character


@require_safe
def search(request: HttpRequest) -> HttpResponse:
    """Show what is called as the field says, in the month one comes from or in the latest."""
    row = month_asked(request)
    asked = Asked.of(request, CLUB).find
    shown: dict[str, Any] = {
        "find": asked,
        "place": row,
        "tables": list(tables(request, row, asked)) if asked else [],
    }
    if row is not None:
        shown |= {"month": row, "step": "search"}
        shown["others"] = kits.Month.objects.exclude(pk=row.pk)[:12]
    return render(request, "planning/search.html", shown)


def month_asked(request: HttpRequest) -> kits.Month | None:
    """Return the month to look in, None where there is none at all."""
    said = request.GET.get("month", "")
    if not said:
        return kits.Month.objects.first()
    if not said.isascii() or not said.isdigit() or len(said) > 9:
        raise Http404
    return gate.month_or_404(request, int(said))


def tables(request: HttpRequest, row: kits.Month | None, asked: str) -> Iterator[Table]:
    """Yield what was found, a table for each kind of which there is something."""
    found = [months_table(asked)]
    if row is not None:
        may = rights(request).may_look
        found += [box_table(row, asked)] if may(Area.PACKING) else []
        found += [sheet_table(row, sheet, asked) for sheet in SHEETS if may(sheet_area(sheet.table))]
        found += [order_table(row, asked)] if may(Area.BUYING) else []
        found += [paper_table(request, row, asked)]
    yield from (table for table in found if table is not None)


def months_table(asked: str) -> Table | None:
    """Return the months of a name, a kit's name or a date."""
    some = kits.Month.objects.all()
    for word in asked.split():
        some = some.filter(
            Q(kit_name__icontains=word)
            | Q(name__icontains=word)
            | Q(code__iexact=word)
            | Q(month__startswith=word)
        )
    lines = [
        Line(
            (
                Cell(one.kit_name, href=reverse("month", args=[one.pk])),
                YearMonth.parse(one.month).title,
                one.name,
            )
        )
        for one in some[:FIRST]
    ]
    return Table("Months", (text("Kit"), text("Month"), text("Club")), lines) if lines else None


def sheet_table(row: kits.Month, sheet: Sheet, asked: str) -> Table | None:
    """Return the first rows of a sheet that hold every word, and where all of them are."""
    if sheet is CLUB:
        return None
    found = found_of(row, Asked(sheet, asked))
    if not found.count:
        return None
    lines = []
    for (place, _), texts in list(zip(found.rows, found.texts, strict=True))[:FIRST]:
        first, *others = (text for text in texts.values() if text)
        more = ", ".join(one for one in others[:4] if len(one) <= 80 and "\n" not in one)
        lines.append(Line((Cell(first, href=url(page_of(sheet), row, query_of(sheet, place, texts))), more)))
    if found.count > FIRST:
        every = url("rows", row, urlencode({"sheet": sheet.table, "find": asked}))
        lines.append(Line((Cell(f"All {found.count:,}", href=every), "")))
    return Table(
        f"{sheet.title}, {words.counted(found.count, 'row')}", (text("Which"), text("What it says")), lines
    )


def order_table(row: kits.Month, asked: str) -> Table | None:
    """Return the club's purchase orders whose number begins or ends so."""
    either = Q(number__istartswith=asked) | Q(number__iendswith=asked)
    some = PurchaseOrder.objects.filter(either, book__club=row.code).order_by("-pk")[:FIRST]
    lines = [
        Line((Cell(one.number, href=url("order", row, urlencode({"number": one.number}))),)) for one in some
    ]
    return Table("Orders", (text("Number"),), lines) if lines else None


def box_table(row: kits.Month, asked: str) -> Table | None:
    """Return the box of a code, as it is printed on it, in the month's latest plan."""
    plan = row.plans.first()
    serial = serial_of(row, asked)
    box = Box.objects.filter(plan=plan, serial=serial).first() if plan and serial else None
    if box is None:
        return None
    where = f"Wave {box.wave}, place {box.place}" if box.wave else "Taken by no service"
    href = reverse("packing", args=[row.pk])
    return Table(
        "Boxes", (text("Code"), text("Where")), [Line((Cell(code_of(row, box.serial), href=href), where))]
    )


def code_of(row: kits.Month, serial: int) -> str:
    """Return the code of one of the month's boxes."""
    return box_code(row.code, YearMonth.parse(row.month), serial)


def serial_of(row: kits.Month, asked: str) -> int:
    """Return the serial number in a box's code, 0 where it is none of the month's."""
    try:
        code = check_box_code(asked)
    except BoxCodeError:
        return 0
    serial = int(code[-SERIAL - 1 : -1]) if re.fullmatch(r"[0-9]+", code[-SERIAL - 1 : -1]) else 0
    return serial if serial and code_of(row, serial) == code else 0


def paper_table(request: HttpRequest, row: kits.Month, asked: str) -> Table | None:
    """Return the papers of the latest plan that are called so, of those whoever asks may have."""
    plan = row.plans.defer("answers").first()
    lines = list(paper_lines(request, plan, asked))[:FIRST] if plan else []
    return Table("Papers", (text("Paper"), text("File")), lines) if lines else None


def paper_lines(request: HttpRequest, plan: Plan, asked: str) -> Iterator[Line]:
    """Yield the papers of a plan that are called so."""
    some = plan.papers.all()
    for word in asked.split():
        some = some.filter(Q(title__icontains=word) | Q(name__icontains=word))
    may = rights(request).may_look
    for one in some.order_by("position")[: 20 * FIRST]:
        if may(paper_area(one.name)):
            yield Line((Cell(one.title, href=reverse("paper", args=[one.pk])), one.name))
