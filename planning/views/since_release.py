"""What changed since the plan was released to the benches, on one page."""

from collections.abc import Callable
from typing import Any

from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from kits.models import Month
from planning.at_bench.changes import astray, counted, differences, done_since, is_stale, pulled_now
from planning.at_bench.released import Released
from planning.documents.codes import box_code
from planning.models import BoxAct, Plan
from planning.packed import Act
from planning.views import gate, words
from planning.views.box import DONE_WORDS, plan_or_404
from planning.views.orders import around
from planning.views.parts import Cell, Column, Figure, Line, Pages, Table, number, text, when

SIZE = 100  # lines on a page


@require_safe
def since_release(request: HttpRequest, month: int) -> HttpResponse:
    """Show what was done besides packing, and how the plan that is packed differs from the latest."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    latest = row.plans.defer("answers").first()
    shown: dict[str, Any] = around(row, "benches") | {
        "released": one,
        "latest": latest,
        "is_stale": is_stale(one),
        "figures": figures(one),
        "tables": tables(request, row, one, latest),
    }
    return render(request, "planning/since_release.html", shown)


def figures(one: Released) -> tuple[Figure, ...]:
    """Return what was done, in numbers."""
    done = counted(one)
    units = [(act, done.get(act, (0, 0))[1]) for act in (Act.DAMAGED, Act.MISSING)]
    times = [
        (done.get(act, (0, 0))[0], said)
        for act, said in ((Act.REPRINT, "reprints"), (Act.ADDRESS, "new addresses"))
    ]
    return (
        *(Figure(words.count(many), f"units {act}") for act, many in units),
        Figure(words.count(pulled_now(one).count()), "boxes pulled"),
        *(Figure(words.count(many), said) for many, said in times),
    )


def tables(request: HttpRequest, month: Month, one: Released, latest: Plan | None) -> list[tuple[str, Table]]:
    """Return what was done, what is pulled, what is astray, and what was planned since, each with its heading."""
    names = dict(one.items().values())
    shown = [
        (
            "Booked and changed",
            paged(
                request,
                "done",
                done_since(one),
                lambda row: done_line(month, one, row, names),
                "Acts, the latest first",
                (when("When"), text("Box"), text("What"), text("Who"), text("Note")),
            ),
        ),
        (
            "Pulled",
            paged(
                request,
                "pulled",
                pulled_now(one),
                lambda row: Line(
                    (linked(month, row.code, row.serial), f"Wave {row.wave}", row.reference, row.pulled)
                ),
                "Boxes out of their waves",
                (text("Box"), text("Wave"), text("Whose"), text("Why")),
            ),
        ),
        (
            "Packed for nobody",
            paged(
                request,
                "astray",
                astray(one),
                lambda row: Line(
                    (row.code, str(row.plan.version), row.reference, row.signature.rpartition(" #")[0])
                ),
                "Boxes that an earlier version packed and this one does not send: unpack them",
                (text("Box"), number("Version"), text("Whose"), text("Contents")),
            ),
        ),
    ]
    if latest is not None and latest.pk != one.plan.pk:
        shown.append(("Planned since", planned_table(one, latest)))
    return shown


def paged(
    request: HttpRequest,
    name: str,
    rows: QuerySet[Any],
    line: Callable[[Any], Line],
    caption: str,
    columns: tuple[Column, ...],
) -> Table:
    """Return one page of a table of rows."""
    pages = Pages(name, gate.page_number(request, name), rows.count(), SIZE)
    if pages.number > pages.count:
        raise Http404
    lines = [line(row) for row in rows[pages.first - 1 : pages.last]]
    return Table(caption, columns, lines, empty="None.", pages=pages if pages.count > 1 else None)


def done_line(month: Month, one: Released, row: BoxAct, names: dict[str, str]) -> Line:
    """Return one act."""
    goods = f"{row.count} × {names.get(row.item, row.item)} " if row.item else ""
    who = f"{row.who}, {row.bench}" if row.bench else row.who
    code = box_code(one.planned.club.code, one.planned.club.month, row.serial)
    said = f"{goods}{DONE_WORDS[Act(row.act)]}"
    return Line((words.moment(row.at), linked(month, code, row.serial), said, who, row.note))


def linked(month: Month, code: str, serial: int) -> Cell:
    """Return a box's code that leads to its page."""
    return Cell(code, href=f"{reverse('box', args=[month.pk])}?serial={serial}")


def planned_table(one: Released, latest: Plan) -> Table:
    """Return which contents the latest plan has more or fewer boxes of."""
    lines = [
        Line(
            (
                each.contents,
                words.count(each.packed),
                words.count(each.latest),
                f"{each.latest - each.packed:+,}",
            )
        )
        for each in differences(one, latest)
    ]
    return Table(
        f"Boxes of version {one.plan.version}, which is packed, and of version {latest.version}",
        (text("Contents"), number("Packed"), number("Latest"), number("Difference")),
        lines,
        empty="As many boxes of everything.",
    )
