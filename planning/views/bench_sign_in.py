"""Signing in at a bench with a name and a PIN, on a tablet that is signed in like any browser; and out again."""

from uuid import uuid4

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from kits.models import Month
from planning.at_bench.people import PinError, SignedIn, leave_bench, sign_in
from planning.models import Packer
from planning.views import gate
from planning.views.bench import SESSION, readable
from planning.views.forms import Field, Form, Typed, show_form
from planning.views.orders import around


@sensitive_post_parameters("pin")
def bench_sign_in(request: HttpRequest, month: int) -> HttpResponse:
    """Ask who packs at which bench, and lead to the bench's screen."""
    row = gate.month_or_404(request, month)
    typed = Typed(request.POST if request.method == "POST" else {})
    problem = ""
    if request.method == "POST":
        try:
            keep(request, row, let_in(request, row, typed))
            return redirect("bench", month=month)
        except PinError as error:
            problem = str(error)
    return show_form(request, around(row, "benches"), sign_in_form(request, row, typed, problem))


def let_in(request: HttpRequest, month: Month, typed: Typed) -> SignedIn:
    """Try what was typed. Raises PinError."""
    if readable(month) is None:
        raise PinError("No plan is released to the benches yet. Release one at the desk.")
    key = request.session.get(SESSION, {}).get("key") or uuid4().hex
    chosen = typed.text("packer")
    packer = int(chosen) if chosen.isascii() and chosen.isdigit() and len(chosen) < 10 else 0
    return sign_in(month.code, packer, typed.text("pin"), typed.text("bench"), key)


def keep(request: HttpRequest, month: Month, one: SignedIn) -> None:
    """Keep who is at this tablet. packers: whose acts may still wait in its browser."""
    before = request.session.get(SESSION, {})
    packers = sorted({*before.get("packers", []), one.packer.pk})
    request.session[SESSION] = {
        "club": month.code,
        "packer": one.packer.pk,
        "bench": one.bench.pk,
        "name": one.bench.name,
        "key": one.bench.key,
        "packers": packers,
    }


def sign_in_form(request: HttpRequest, month: Month, typed: Typed, problem: str) -> Form:
    """Return the form, with the bench that the tablet was last."""
    people = Packer.objects.filter(club=month.code, active=True).values_list("pk", "name")
    kept = request.session.get(SESSION, {})
    chosen = typed.text("packer") or str(kept.get("packer") or "")
    return Form(
        title="Sign in at the bench",
        lede="Whoever packs signs in with a PIN, so that every box says who closed it.",
        button="Begin",
        back=(reverse("benches", args=[month.pk]), "Back to the benches"),
        fields=(
            Field(
                name="packer",
                label="Your name",
                kind="choice",
                value=chosen,
                choices=(("", "Choose"), *((str(pk), name) for pk, name in people)),
                hint="" if people else "Nobody has a PIN yet: add people at the desk first.",
            ),
            Field(name="pin", label="PIN", kind="pin"),
            Field(
                name="bench",
                label="This bench",
                value=typed.text("bench") or kept.get("name", ""),
                hint="Such as “Bench 1”. Every tablet has a bench of its own.",
            ),
        ),
        failed="You are not signed in at the bench",
        problem=problem,
    )


@require_POST
def bench_sign_out(request: HttpRequest, month: int) -> HttpResponse:
    """Let somebody go, and the bench be free for another tablet."""
    gate.month_or_404(request, month)
    kept = request.session.get(SESSION, {})
    if kept.get("bench"):
        leave_bench(kept["bench"], kept["key"])
        request.session[SESSION] = kept | {"packer": None}
    return redirect("bench_sign_in", month=month)
