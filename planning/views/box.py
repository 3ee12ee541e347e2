"""A box by its code: how it stands, what is in it, and what is done about it at the desk."""

from dataclasses import replace
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.timezone import now
from django.views.decorators.http import require_POST

from kits.models import Month
from planning.at_bench.boxes import Held, held, new_row, read_box, serial_scanned, state_of, with_carrier
from planning.at_bench.desk import ADDRESS, Asked, DeskError, change_address, do_at_desk, now_at, reprint
from planning.at_bench.released import Released
from planning.models import BoxAct, BoxWork, TrackingNumber
from planning.packed import GOODS, Act, ScanError, Status
from planning.packed.follow import grams
from planning.views import gate, words
from planning.views.bench import readable
from planning.views.forms import Field, Form, Typed, form_key, show_form
from planning.views.orders import around, person
from planning.views.parts import Line, Table, number, text, when

DONE_WORDS = {
    Act.TAKE: "taken in hand",
    Act.ADD: "put in",
    Act.OUT: "taken out",
    Act.RIGHT: "put right",
    Act.CLOSE: "closed",
    Act.UNDO: "undone",
    Act.LEAVE: "put back",
    Act.PULL: "pulled from its wave",
    Act.RESTORE: "put back into its wave",
    Act.DAMAGED: "damaged",
    Act.MISSING: "missing",
    Act.REPRINT: "slip printed again",
    Act.ADDRESS: "address changed",
}
LABELS = ("Name", "Address", "Second line", "Third line", "Town", "Region", "Postcode")
MOST_SHOWN = 200  # acts


def plan_or_404(month: Month) -> Released:
    """Return what is packed. Raises Http404 before anything is."""
    one = readable(month)
    if one is None:
        raise Http404
    return one


def asked_box(request: HttpRequest, one: Released) -> Held:
    """Return the box whose serial the address asks for, not locked. Raises Http404."""
    serial = gate.number_asked(request, "serial")
    try:
        found = read_box(one, serial)
    except ScanError:
        raise Http404 from None
    row = BoxWork.objects.filter(plan=one.plan, serial=serial).first() or new_row(one, *found)
    return held(one, row, *found, with_carrier(one, [row.code]))


def box(request: HttpRequest, month: int) -> HttpResponse:
    """Show a box, or ask which."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    code = request.GET.get("code", "")
    if code:
        return by_code(request, row, one, code)
    if "serial" not in request.GET:
        return render(request, "planning/box.html", around(row, "benches"))
    return render(request, "planning/box.html", around(row, "benches") | shown(one, asked_box(request, one)))


def by_code(request: HttpRequest, month: Month, one: Released, code: str) -> HttpResponse:
    """Lead to the box of a code, or say why there is none."""
    try:
        serial = serial_scanned(one, code, one.plan.version)
    except ScanError as error:
        asked = around(month, "benches") | {"code": code[:100], "error": str(error)}
        return render(request, "planning/box.html", asked, status=422)
    return redirect(f"{reverse('box', args=[month.pk])}?serial={serial}")


def shown(one: Released, found: Held) -> dict[str, Any]:
    """Return what the page of a box shows."""
    going = now_at(one.row.month_id, found.box.subscriber)
    return {
        "box": found.row,
        "serial": found.box.serial,
        "state": state_words(found),
        "where": f"Wave {found.box.wave}, box {found.box.place}" if found.box.wave else "In no wave",
        "address": [*filter(None, (getattr(going, name) for name in ADDRESS)), going.country],
        "is_moved": going != found.box.subscriber,
        "is_sent": found.list.sent,
        "table": content_table(found),
        "acts": act_table(one, found),
        "numbers": TrackingNumber.objects.filter(month=one.row.month_id, box=found.row.code),
        "key": uuid4().hex,
    }


def state_words(found: Held) -> str:
    """Say how a box stands."""
    state = state_of(found.row)
    if state.pulled:
        return f"Pulled from its wave: {state.pulled}"
    if state.status is Status.CLOSED:
        weighs = f", {grams(state.tenths)} g" if state.tenths is not None else ""
        at = f" on {words.moment(state.closed_at)}" if state.closed_at else ""
        sent = "; with the carrier" if found.list.sent else ""
        return f"Packed by {state.who} at {state.bench}{at}{weighs}{sent}"
    if state.status is Status.IN_HAND:
        kept = "" if state.until and now() < state.until else ", but left lying: any bench may take it"
        return f"In hand of {state.who} at {state.bench}{kept}"
    return "Waits to be packed"


def content_table(found: Held) -> Table:
    """Return what must be in a box and what is."""
    inside = found.state.inside
    lines = [
        Line((line.name, line.code, words.count(line.count), words.count(inside[line.item])))
        for line in found.list.lines
    ]
    return Table("What is in it", (text("Item"), text("Code"), number("Wanted"), number("In the box")), lines)


def act_table(one: Released, found: Held) -> Table:
    """Return the latest acts on a box."""
    names = {line.item: line.name for line in found.list.lines}
    rows = BoxAct.objects.filter(plan=one.plan, serial=found.box.serial).order_by("-pk")[:MOST_SHOWN]
    return Table(
        "What was done, the latest first",
        (when("When"), text("What"), text("Who"), text("Note")),
        [act_line(row, names) for row in rows],
        empty="Nothing was done to this box yet.",
    )


def act_line(row: BoxAct, names: dict[str, str]) -> Line:
    """Return one act."""
    goods = f"{row.count} × {names.get(row.item, row.item)} " if row.item else ""
    who = f"{row.who}, {row.bench}" if row.bench else row.who
    return Line((words.moment(row.at), f"{goods}{DONE_WORDS[Act(row.act)]}", who, row.note))


# --- What is done about it ---


def back(month: Month, serial: int) -> tuple[str, str]:
    """Return where the page of a box is."""
    return f"{reverse('box', args=[month.pk])}?serial={serial}", "Back to the box"


def asked(request: HttpRequest, act: Act, **more: Any) -> Asked:
    """Return an act as the form asks for it."""
    return Asked(key=form_key(request), act=act, who=person(request), **more)


def box_pull(request: HttpRequest, month: int) -> HttpResponse:
    """Pull a box from its wave, or put it back; the rest of the plan stays as it is."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    found = asked_box(request, one)
    typed = Typed(request.POST if request.method == "POST" else {})
    act = Act.RESTORE if found.row.pulled else Act.PULL
    problem = ""
    if request.method == "POST":
        try:
            do_at_desk(one, found.box.serial, asked(request, act, note=typed.text("note", 200)))
            messages.success(request, f"{found.row.code} is {DONE_WORDS[act]}.")
            return redirect(back(row, found.box.serial)[0])
        except DeskError as error:
            problem = str(error)
    return show_form(request, around(row, "benches"), pull_form(request, row, found, typed, problem))


def pull_form(request: HttpRequest, month: Month, found: Held, typed: Typed, problem: str) -> Form:
    """Return the form."""
    code = found.row.code
    pulled = bool(found.row.pulled)
    return Form(
        title=f"Put {code} back into its wave" if pulled else f"Pull {code} from its wave",
        lede="It is packed anew, whatever was in it."
        if pulled
        else "No bench packs it until it is put back. All other boxes stay as they are.",
        button=f"Put {code} back" if pulled else f"Pull {code}",
        back=back(month, found.box.serial),
        fields=() if pulled else (Field(name="note", label="Why", value=typed.text("note")),),
        failed="Nothing was done to the box",
        problem=problem,
        key=form_key(request),
    )


def box_goods(request: HttpRequest, month: int) -> HttpResponse:
    """Book what turned out damaged or missing."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    found = asked_box(request, one)
    typed = Typed(request.POST if request.method == "POST" else {})
    problem = ""
    if request.method == "POST":
        item = typed.choice("item", [line.item for line in found.list.lines])
        act = typed.choice("what", GOODS)
        count = typed.count("count")
        if count == 0 and "count" not in typed.errors:
            typed.errors["count"] = "Write how many, from 1."
        note = typed.text("note", 200)
        if not typed.errors:
            try:
                more = {"item": item, "count": count, "note": note}
                said = do_at_desk(one, found.box.serial, asked(request, Act(act), **more)).said
                messages.success(request, f"Noted for {found.row.code}. {said}")
                return redirect(back(row, found.box.serial)[0])
            except DeskError as error:
                problem = str(error)
    return show_form(request, around(row, "benches"), goods_form(request, row, found, typed, problem))


def goods_form(request: HttpRequest, month: Month, found: Held, typed: Typed, problem: str) -> Form:
    """Return the form."""
    lines = tuple((line.item, line.name) for line in found.list.lines)
    fields = (
        Field(name="item", label="What", kind="choice", choices=(("", "Choose"), *lines)),
        Field(
            name="what",
            label="It is",
            kind="choice",
            choices=(("", "Choose"), ("damaged", "damaged"), ("missing", "missing")),
            hint="Damaged goods are spoiled in the stock book; missing ones leave it.",
        ),
        Field(name="count", label="How many", kind="number"),
        Field(name="note", label="Note"),
    )
    return Form(
        title=f"Damaged or missing in {found.row.code}",
        lede="It is booked in the stock book where that counts the item.",
        button="Book it",
        back=back(month, found.box.serial),
        fields=tuple(filled(one, typed) for one in fields),
        failed="Nothing was booked",
        problem=problem,
        key=form_key(request),
    )


def filled(field: Field, typed: Typed) -> Field:
    """Return a field with what was typed, and what is wrong with it."""
    return replace(field, value=typed.text(field.name) or field.value, error=typed.errors.get(field.name, ""))


def box_address(request: HttpRequest, month: int) -> HttpResponse:
    """Change where somebody's boxes of the month go, before they are collected."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    found = asked_box(request, one)
    typed = Typed(request.POST if request.method == "POST" else {})
    problem = ""
    if request.method == "POST":
        address = {name: typed.text(name, 200) for name in ADDRESS}
        if not typed.errors:
            try:
                change_address(one, found.box.serial, asked(request, Act.ADDRESS), address)
                messages.success(request, "The address is changed. Print the slip and the label again.")
                return redirect(back(row, found.box.serial)[0])
            except DeskError as error:
                problem = str(error)
    return show_form(request, around(row, "benches"), address_form(request, row, found, typed, problem))


def address_form(request: HttpRequest, month: Month, found: Held, typed: Typed, problem: str) -> Form:
    """Return the form, with the address that counts."""
    going = now_at(month.pk, found.box.subscriber)
    sent = request.method == "POST"
    return Form(
        title=f"Address of {found.row.code}",
        lede=f"For all boxes of {going.reference} this month. The roster stays as it is; the country, {going.country}, "
        "decides on service and postage: to change it, change the roster and plan the month again.",
        button="Change the address",
        back=back(month, found.box.serial),
        fields=tuple(
            Field(
                name=name,
                label=label,
                value=typed.text(name) if sent else getattr(going, name),
                error=typed.errors.get(name, ""),
            )
            for name, label in zip(ADDRESS, LABELS, strict=True)
        ),
        failed="The address was not changed",
        problem=problem,
        key=form_key(request),
    )


@require_POST
def box_slip(request: HttpRequest, month: int) -> HttpResponse:
    """Print the slip of a box again, marked as a reprint."""
    row = gate.month_or_404(request, month)
    one = plan_or_404(row)
    found = asked_box(request, one)
    try:
        made = reprint(one, found.box.serial, asked(request, Act.REPRINT))
    except DeskError as error:
        messages.warning(request, str(error))
        return redirect(back(row, found.box.serial)[0])
    answer = HttpResponse(made, content_type="application/pdf")
    answer["Content-Disposition"] = f'attachment; filename="slip-{found.row.code}.pdf"'
    return answer
