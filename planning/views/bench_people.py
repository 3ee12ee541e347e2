"""Who may sign in at the benches: names, new PINs, and who packs no more."""

from django.contrib import messages
from django.db.models import QuerySet
from django.db.transaction import atomic, set_rollback
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters

from kits.models import Month
from planning.at_bench.people import MOST, PinError, add_packer, set_pin
from planning.models import Packer
from planning.views import gate
from planning.views.forms import Field, Form, Grid, GridRow, Typed, show_form
from planning.views.orders import around
from planning.views.parts import text


@sensitive_post_parameters()
def bench_people(request: HttpRequest, month: int) -> HttpResponse:
    """Show who packs, and let it be changed."""
    row = gate.month_or_404(request, month)
    typed = Typed(request.POST if request.method == "POST" else {})
    if request.method == "POST":
        change(row, typed)
        if not typed.errors:
            messages.success(request, "Saved.")
            return redirect("bench_people", month=month)
    return show_form(request, around(row, "benches"), people_form(request, row, typed))


def change(month: Month, typed: Typed) -> None:
    """Save all that was typed, or nothing; what is wrong is among `typed.errors`."""
    with atomic():
        for packer in Packer.objects.select_for_update().filter(club=month.code):
            change_one(packer, typed)
        add_one(month, typed)
        if typed.errors:
            set_rollback(True)


def change_one(packer: Packer, typed: Typed) -> None:
    """Give somebody a new PIN where one was typed, and let them pack or not."""
    field = f"pin-{packer.pk}"
    if pin := typed.text(field):
        try:
            set_pin(packer, pin)
        except PinError as error:
            typed.errors[field] = str(error)
    packer.active = typed.text(f"active-{packer.pk}") == "yes"
    packer.save(update_fields=["active"])


def add_one(month: Month, typed: Typed) -> None:
    """Add somebody where a name or a PIN was typed."""
    name, pin = typed.text("name"), typed.text("pin")
    if not name and not pin:
        return
    try:
        add_packer(month.code, name, pin)
    except PinError as error:
        typed.errors["pin" if name else "name"] = str(error)


def people_form(request: HttpRequest, month: Month, typed: Typed) -> Form:
    """Return the form."""
    people = Packer.objects.filter(club=month.code)
    return Form(
        title="People at the benches",
        lede=f"Whoever packs has a PIN of 4 to 8 digits. After {MOST} wrong ones in a row it must be set anew here.",
        button="Save people",
        back=(reverse("benches", args=[month.pk]), "Back to the benches"),
        grid=people_grid(request, people, typed) if people else None,
        after=(
            Field(
                name="name",
                label="Name of somebody new",
                value=typed.text("name"),
                error=error(typed, "name"),
            ),
            Field(name="pin", label="Their PIN", kind="pin", error=error(typed, "pin")),
        ),
        failed="Nothing was saved",
    )


def people_grid(request: HttpRequest, people: QuerySet[Packer], typed: Typed) -> Grid:
    """Return a row for everybody."""
    rows = []
    for one in people:
        packs = typed.text(f"active-{one.pk}") == "yes" if request.method == "POST" else one.active
        pin = Field(
            name=f"pin-{one.pk}",
            label=f"New PIN of {one.name}",
            kind="pin",
            error=error(typed, f"pin-{one.pk}"),
        )
        ticked = Field(
            name=f"active-{one.pk}", label=f"{one.name} packs", kind="tick", value="yes" if packs else ""
        )
        locked = "Locked: set a new PIN" if one.failures >= MOST else ""
        rows.append(GridRow((one.name, pin, ticked), needs=locked))
    return Grid("Who signs in at the benches", (text("Name"), text("New PIN"), text("Packs")), tuple(rows))


def error(typed: Typed, field: str) -> str:
    """Return what is wrong with a field."""
    return typed.errors.get(field, "")
