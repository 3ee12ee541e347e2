"""Other programs that may ask this one: each with a token, what it may do, and an end to it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_variables
from django.views.decorators.http import require_POST

from planning.api.tokens import TOLD, Scope, new_client
from planning.models import ApiClient
from planning.views.forms import Field, Form, Typed, show_form
from planning.views.words import moment

LONGEST_NAME = 60


def programs(request: HttpRequest) -> HttpResponse:
    """List the programs that may ask."""
    clients = [
        (client, "; ".join(TOLD[Scope(scope)] for scope in client.scopes), seen(client))
        for client in ApiClient.objects.all()
    ]
    return render(request, "planning/programs.html", {"clients": clients})


def seen(client: ApiClient) -> str:
    """Say when a program asked last."""
    return moment(client.used_at) if client.used_at else "never"


@sensitive_variables("token")
def new_program(request: HttpRequest) -> HttpResponse:
    """Add a program, and show its token once."""
    typed = Typed(request.POST)
    if request.method == "POST":
        name, scopes = typed.text("name", LONGEST_NAME), ticked(typed)
        if not name or ApiClient.objects.filter(name__iexact=name).exists():
            typed.errors["name"] = f"{name} is taken. Write another name." if name else "Write a name."
        if not scopes:
            typed.errors[Scope.ROSTER.value] = "Tick at least one thing it may do."
        if not typed.errors:
            _, token = new_client(name, scopes, request.user.get_username())
            messages.success(request, f"Token of {name}: {token} It is shown this once.")
            return redirect("programs")
    return show_form(request, {}, form(typed))


def ticked(typed: Typed) -> list[Scope]:
    """Return what a program is to do."""
    return [scope for scope in Scope if typed.text(scope.value) == "yes"]


def form(typed: Typed) -> Form:
    """Return what is asked of a new program."""
    ticks = (
        Field(
            name=scope.value,
            label=f"It may {TOLD[scope]}",
            kind="tick",
            value=typed.sent.get(scope.value, ""),
            error=typed.errors.get(scope.value, ""),
        )
        for scope in Scope
    )
    name = Field(
        name="name",
        label="Name",
        value=typed.sent.get("name", ""),
        hint="Such as: the club's web shop. It stands beside what the program changes.",
        error=typed.errors.get("name", ""),
    )
    return Form(
        title="Add a program",
        lede="It shows a token with everything it asks. The token is shown once; whoever has it can do what is ticked.",
        button="Add this program",
        back=(reverse("programs"), "Back to programs"),
        failed="No program was added",
        fields=(name, *ticks),
    )


@require_POST
def end_program(request: HttpRequest, program: int) -> HttpResponse:
    """Let a program ask no more; its token is good for nothing from now on."""
    client = get_object_or_404(ApiClient, pk=program)
    ApiClient.objects.filter(pk=program).update(active=False)
    messages.success(request, f"{client.name} may ask no more.")
    return redirect("programs")
