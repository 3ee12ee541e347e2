"""One row of a sheet: typed into a form, added, duplicated, taken out. Nobody's change is written over another's."""

from collections.abc import Mapping
from dataclasses import MISSING, replace
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits import models as kits
from planning import edits, load, proposals
from planning.editing import NEW, Change, field_texts, habits_of, read_fields
from planning.faults.keys import KEYS
from planning.models import Edit
from planning.monthfile.codecs import Habits
from planning.monthfile.sheets import CLUB, Sheet
from planning.rights.table import Act
from planning.views import gate, row_person
from planning.views.forms import Form, show_form
from planning.views.orders import person
from planning.views.parts import Line, Table, text
from planning.views.row_form import FIXED, form_of, name_of, place_asked, told, version
from planning.views.rows import around, url


def row(request: HttpRequest, month: int) -> HttpResponse:
    """Show a row of a sheet as a form, or an empty one for a new row; keep what was typed."""
    owner = gate.month_or_404(request, month)
    is_new = "at" not in request.GET and request.GET.get("sheet") != CLUB.table
    sheet = gate.sheet_or_404(request, Act.CHANGE if is_new else Act.LOOK)
    place = place_asked(request, sheet)
    kept = edits.row_at(sheet.table, owner, place) if place != NEW else None
    if place != NEW and kept is None and request.method != "POST":
        raise Http404
    habits = habits_of(load.club(owner))
    if request.method == "POST":
        return take(request, owner, sheet, place, kept, habits)
    texts = start_of(request, owner, sheet, kept, habits)
    form = form_of(owner, sheet, place, kept, texts, habits)
    if not gate.may_change(request, sheet.table):
        form = replace(form, button="", links=form.links[:1], back=(form.back[0], "Back"))
    return show_row(request, owner, sheet, place, kept, form)


def show_row(
    request: HttpRequest, owner: kits.Month, sheet: Sheet, place: int, kept: Any, form: Form
) -> HttpResponse:
    """Show the form of a row, and beside a subscriber's what else can be done."""
    if sheet.table != "subscribers" or kept is None:
        return show_form(request, around(owner), form)
    more = row_person.beside(request, owner, place, kept)
    return show_form(request, around(owner) | more, form, "planning/row_person.html")


def start_of(
    request: HttpRequest, owner: kits.Month, sheet: Sheet, kept: Any, habits: Habits
) -> dict[str, str]:
    """Return what a form begins with: the row, one like another, or what an empty cell means."""
    if kept is not None:
        return field_texts(sheet, kept, habits)
    if (like := place_asked(request, sheet, "like")) != NEW:
        other = edits.row_at(sheet.table, owner, like)
        if other is None:
            raise Http404
        key = KEYS[sheet.table][-1]
        return field_texts(sheet, other, habits) | {key: ""}
    texts = {}
    for column in sheet.columns:
        default = sheet.default(column)
        texts[column.field] = (
            "" if default in (MISSING, None) else str(column.codec.write(default, habits) or "")
        )
    return texts | {
        name: request.GET[name]
        for name in texts
        if name in request.GET and name not in ("sheet", "at", "like")
    }


# --- Taking what was typed ---


def take(
    request: HttpRequest, owner: kits.Month, sheet: Sheet, place: int, kept: Any, habits: Habits
) -> HttpResponse:
    """Keep a row as it was typed, or show the form again with what is wrong."""
    act = request.POST.get("act", "")
    by_button = sheet.table == "subscribers" and kept is not None and act not in ("", "do")
    texts = (
        texts_after(sheet, owner, kept, act, habits)
        if by_button
        else typed_texts(request, sheet, kept, habits)
    )
    if place != NEW and request.POST.get("version") != version(kept):
        return stale(request, owner, sheet, place, kept, texts, habits)
    fields, wrong = read_fields(sheet, texts, habits)
    problem = ""
    wanted = None
    if not wrong:
        try:
            wanted = sheet.row_type(**fields)
        except ValueError as error:
            problem = str(error)
    if wanted is not None:
        found = list(proposals.why_refused(owner, sheet, Change(place, kept, wanted)))
        for fault in found:
            wrong.setdefault(fault.field or "", str(fault))
        problem = wrong.pop("", "")
    if wrong or problem or wanted is None:
        form = form_of(owner, sheet, place, kept, texts, habits, wrong, problem)
        return show_row(request, owner, sheet, place, kept, form)
    return keep(request, owner, sheet, Change(place, kept, wanted), texts, habits)


def texts_after(sheet: Sheet, owner: kits.Month, kept: Any, act: str, habits: Habits) -> dict[str, str]:
    """Return somebody's texts once an act is done. Raises Http404 for an act there is not."""
    done = row_person.acted(kept, act, load.club(owner).month)
    if done is None:
        raise Http404
    return field_texts(sheet, done, habits)


def typed_texts(request: HttpRequest, sheet: Sheet, kept: Any, habits: Habits) -> dict[str, str]:
    """Return what was typed, field by field."""
    texts = {
        column.field: request.POST.get(column.field, "").replace("\r\n", "\n").replace("\x00", "")
        for column in sheet.columns
    }
    fixed = field_texts(sheet, kept, habits) if kept is not None else {}
    return texts | {name: fixed[name] for name in FIXED.get(sheet.table, ()) if fixed}


def keep(
    request: HttpRequest,
    owner: kits.Month,
    sheet: Sheet,
    change: Change,
    texts: Mapping[str, str],
    habits: Habits,
) -> HttpResponse:
    """Keep a row, and say what stands in the way of a plan because of it."""
    name = name_of(sheet, change.after)
    if change.before == change.after:
        messages.success(request, f"{name}: nothing is changed.")
        return redirect(url("rows", owner, f"sheet={sheet.table}"))
    way = proposals.newly_in_the_way(owner, sheet.table, [change])
    said = f"{sheet.title}: {name} {'added' if change.before is None else 'changed'}"
    try:
        edits.make(owner, sheet.table, [change], person(request), said)
    except edits.ChangedError as error:
        return stale(request, owner, sheet, change.place, error.now, texts, habits)
    messages.success(request, f"{said}.{told(way)}")
    if sheet.table == "subscribers" and change.before is not None:
        return redirect(url("row", owner, f"sheet=subscribers&at={change.place}"))
    return redirect(url("sheets" if sheet is CLUB else "rows", owner, f"sheet={sheet.table}"))


# --- Somebody else was quicker ---


def stale(
    request: HttpRequest,
    owner: kits.Month,
    sheet: Sheet,
    place: int,
    kept: Any,
    texts: Mapping[str, str],
    habits: Habits,
) -> HttpResponse:
    """Refuse a form that was filled in from a row that is another by now, and show both."""
    now_there = {} if kept is None else field_texts(sheet, kept, habits)
    lines = [
        Line((column.title(habits), texts[column.field] or "–", now_there.get(column.field, "") or "–"))
        for column in sheet.columns
        if texts[column.field] != now_there.get(column.field, "")
    ]
    last = Edit.objects.filter(month=owner, table=sheet.table).first()
    who = f"{last.by} changed" if last else "Somebody changed"
    gone = (
        "The row was taken out since you opened it."
        if kept is None
        else f"{who} this row since you opened it."
    )
    form = form_of(owner, sheet, place, kept, texts, habits, {}, f"{gone} Nothing of yours is saved yet.")
    table = Table(
        "Where the two differ", (text("Field"), text("As you typed it"), text("As it is now")), lines
    )
    button = "Add it again" if kept is None else "Save mine over it"
    more = replace(form, compared=table, button=button, failed="Somebody else was here")
    return show_row(request, owner, sheet, place, kept, more)
