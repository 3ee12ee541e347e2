"""Taking a row out of a sheet, once somebody has said yes to it, knowing what else names it."""

from collections.abc import Iterator
from operator import attrgetter
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits import models as kits
from planning import edits, proposals
from planning.editing import NEW, Change
from planning.faults import TITLES
from planning.faults.keys import KEYS
from planning.faults.references import REFERENCES
from planning.monthfile.codecs import Codes, Habits
from planning.monthfile.sheets import BY_TABLE, CLUB, Sheet
from planning.rights.table import Act
from planning.views import gate, words
from planning.views.forms import Form, show_form
from planning.views.orders import person
from planning.views.parts import Line, Table, number, text
from planning.views.row_form import name_of, place_asked, told, version
from planning.views.rows import around, url


def row_delete(request: HttpRequest, month: int) -> HttpResponse:
    """Take a row out, once somebody has said yes to it, knowing what else names it."""
    owner = gate.month_or_404(request, month)
    sheet = gate.sheet_or_404(request, Act.CHANGE)
    place = place_asked(request, sheet)
    kept = edits.row_at(sheet.table, owner, place) if sheet is not CLUB and place != NEW else None
    if kept is None:
        raise Http404
    name = name_of(sheet, kept)
    if request.method == "POST" and request.POST.get("version") == version(kept):
        change = Change(place, kept, None)
        way = proposals.newly_in_the_way(owner, sheet.table, [change])
        said = f"{sheet.title}: {name} deleted"
        edits.make(owner, sheet.table, [change], person(request), said)
        messages.success(request, f"{said}.{told(way)}")
        return redirect(url("rows", owner, f"sheet={sheet.table}"))
    form = Form(
        title=f"Delete {name}?",
        lede=f"{lede_of(owner, sheet, kept)} It can be taken back for ten minutes.",
        button=f"Delete {name}",
        back=(url("row", owner, f"sheet={sheet.table}&at={place}"), "Keep it"),
        hidden=(("version", version(kept)),),
        failed="Nothing was deleted",
        problem="The row was changed since you opened this page. Look at it again."
        if request.method == "POST"
        else "",
        compared=uses_table(owner, sheet, kept),
    )
    return show_form(request, around(owner), form)


def lede_of(owner: kits.Month, sheet: Sheet, kept: Any) -> str:
    """Say what goes, and what still names it."""
    uses = list(used_by(owner, sheet, kept))
    if not uses:
        return f"No other row names this row of the {sheet.title} sheet."
    rows = sum(count for _, _, count, _ in uses)
    said = words.counted(rows, "other row names", "other rows name")
    return f"{said} it. They stay, and stand in the way of a plan until they name something else."


def uses_table(owner: kits.Month, sheet: Sheet, kept: Any) -> Table | None:
    """Return what else names a row."""
    lines = [
        Line((TITLES[table], heading, words.count(count), ", ".join(first)))
        for table, heading, count, first in used_by(owner, sheet, kept)
    ]
    heads = (text("Sheet"), text("In"), number("Rows"), text("The first of them"))
    return Table("What else names it", heads, lines) if lines else None


def used_by(owner: kits.Month, sheet: Sheet, kept: Any) -> Iterator[tuple[str, str, int, list[str]]]:
    """Yield which sheets name a row: the sheet, in which column, how many rows, and the first of them."""
    for reference in REFERENCES:
        if sheet.table not in reference.to:
            continue
        code = getattr(kept, reference.by)
        column = next(one for one in BY_TABLE[reference.table].columns if one.field == reference.field)
        if isinstance(column.codec, Codes):
            found = [
                one
                for _, one in edits.as_placed(reference.table, edits.rows_of(reference.table, owner))
                if code in getattr(one, reference.field)
            ]
            count = len(found)
        else:
            naming = edits.rows_of(reference.table, owner).filter(**{reference.field: code})
            count = naming.count()
            found = [one for _, one in edits.as_placed(reference.table, naming[:5])]
        if count:
            names = map(attrgetter(KEYS[reference.table][0]), found[:5])
            yield reference.table, column.title(Habits()), count, list(map(str, dict.fromkeys(names)))
