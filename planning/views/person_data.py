"""What is kept of one subscriber: to look at, to hand over as a file, to erase."""

import json

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from planning.personal import ERASED, erase_person, held
from planning.views import gate
from planning.views.forms import Field, Form, Typed, show_form


def person_data(request: HttpRequest, month: int) -> HttpResponse:
    """Ask whom it is about; hand what is kept over as a file, or erase it once the reference is typed again."""
    row, typed = gate.month_or_404(request, month), Typed(request.POST or request.GET)
    reference = typed.text("reference")
    if request.method == "POST":
        kept = held(row.code, reference)
        if not kept:
            typed.errors["reference"] = f"Nobody of the club has the reference {reference!r}."
        elif request.POST.get("act") != "erase":
            return as_file(reference, kept)
        elif typed.text("again") != reference:
            typed.errors["again"] = "Type the reference once more: what is erased cannot be brought back."
        else:
            return erased(request, row.code, reference, month)
    return show_form(request, {"month": row, "step": "roster"}, form(month, typed))


def as_file(reference: str, kept: object) -> HttpResponse:
    """Return what is kept as a file of JSON."""
    text = json.dumps({"reference": reference, "kept": kept}, ensure_ascii=False, indent=2)
    headers = {"Content-Disposition": 'attachment; filename="person.json"'}
    return HttpResponse(text, content_type="application/json", headers=headers)


def erased(request: HttpRequest, club: str, reference: str, month: int) -> HttpResponse:
    """Erase somebody and say what that did."""
    months = erase_person(club, reference)
    if not months:
        messages.success(request, f"{reference} was erased before.")
    else:
        messages.success(
            request,
            f"{reference} is erased in {months} month{'s' if months > 1 else ''}. Slips, lists and other papers with "
            "addresses of these months are removed; plan a month again to have them without this person.",
        )
    return redirect("person_data", month=month)


def form(month: int, typed: Typed) -> Form:
    """Return what is asked."""
    asked = (
        ("reference", "Reference", "As on the roster, such as R-0417.", typed.sent.get("reference", "")),
        ("again", "Reference once more, to erase", f"Name and address become “{ERASED}”; counts stay.", ""),
    )
    return Form(
        title="What is kept of one subscriber",
        lede="Over all months of the club: roster, orders, boxes, packing, tracking.",
        button="Download what is kept",
        more=(("erase", "Erase this person"),),
        back=(reverse("roster", args=[month]), "Back to the roster"),
        failed="Nothing was done",
        fields=tuple(
            Field(name=name, label=label, hint=hint, value=value, error=typed.errors.get(name, ""))
            for name, label, hint, value in asked
        ),
    )
