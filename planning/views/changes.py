"""Who did what, the latest first."""

from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from planning.models import Change
from planning.views import gate
from planning.views.parts import Column, Line, Pages, Table
from planning.views.words import moment

ON_A_PAGE = 100


def changes(request: HttpRequest) -> HttpResponse:
    """List what everybody did, in all months."""
    number = gate.page_number(request, "page")
    return render(request, "planning/changes.html", {"table": table(Change.objects.all(), number)})


def table(rows: QuerySet[Change], number: int) -> Table:
    """Return one numbered page of the record. Raises Http404 for one beyond the last."""
    pages = Pages("page", number, rows.count(), ON_A_PAGE)
    if number > pages.count:
        raise Http404
    shown = rows[(number - 1) * ON_A_PAGE : number * ON_A_PAGE]
    columns = (Column("When"), Column("Who"), Column("Did what"), Column("Month"), Column("Fields filled in"))
    return Table(
        "Who did what",
        columns,
        tuple(map(line, shown)),
        empty="Nobody has changed anything yet.",
        pages=pages,
    )


def line(row: Change) -> Line:
    """Return one thing done as a row."""
    page = row.page.replace("_", " ").capitalize()
    did = f"{page}, {row.what}" if row.what else page
    return Line((moment(row.at), row.who, did, row.month, ", ".join(row.fields)))
