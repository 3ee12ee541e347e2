"""The people who may sign in: who they are, what each may do, and a password for whoever forgot theirs."""

import secrets

from django.contrib import messages
from django.contrib.auth.models import User
from django.contrib.auth.validators import UnicodeUsernameValidator
from django.core.exceptions import ValidationError
from django.db import IntegrityError
from django.db.transaction import atomic
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_variables

from planning.models import Person
from planning.rights.ask import rights_of
from planning.rights.table import MAY, TASKS, Act, Area, Role
from planning.views.forms import Field, Form, Typed, show_form
from planning.views.parts import Cell, Column, Line, Table
from planning.views.words import moment

LONGEST_NAME = 60  # characters of a user name
ROLES = tuple((role.value, f"{role.capitalize()}: {TASKS[role]}") for role in Role)


def people(request: HttpRequest) -> HttpResponse:
    """List everybody who can sign in, and what each role may do."""
    users = User.objects.select_related("person").order_by("-is_active", "username")
    shown = {"table": people_table(list(users)), "roles": roles_table()}
    return render(request, "planning/people.html", shown)


def people_table(users: list[User]) -> Table:
    """Return the table of people."""
    columns = (Column("User name"), Column("Role"), Column("State"), Column("Last signed in"))
    return Table("People", columns, tuple(map(line, users)), empty="Nobody can sign in yet. Add somebody.")


def line(user: User) -> Line:
    """Return somebody as a row."""
    role = rights_of(user).role
    state = "May sign in" if user.is_active else "Closed"
    seen = moment(user.last_login) if user.last_login else "Never"
    named = Cell(user.username, href=reverse("person", args=[user.pk]))
    return Line((named, role.capitalize() if role else "None", state, seen))


def roles_table() -> Table:
    """Return what each role may do, area by area: the very table that every request is asked by."""
    columns = (Column("Area"), *(Column(role.capitalize()) for role in Role))
    said = {Act.CHANGE: "changes", Act.LOOK: "looks", None: "–"}
    rows = ((area.capitalize(), *(said[MAY[role].get(area)] for role in Role)) for area in Area)
    return Table("What each role may do", columns, tuple(map(Line, rows)), empty="")


def new_person(request: HttpRequest) -> HttpResponse:
    """Add somebody, and show the password to hand them."""
    typed = Typed(request.POST)
    if request.method == "POST":
        name = typed.text("name", LONGEST_NAME)
        role = typed.choice("role", tuple(Role))
        refuse_name(typed, name)
        if not typed.errors:
            return added(request, name, Role(role))
    return show_form(request, {}, person_form(typed))


def refuse_name(typed: Typed, name: str) -> None:
    """Note what is wrong with a user name."""
    try:
        UnicodeUsernameValidator()(name)
    except ValidationError:
        typed.errors["name"] = "Write a name of letters, digits and @ . + - _, without spaces."
    if User.objects.filter(username__iexact=name).exists():
        typed.errors["name"] = f"{name} is taken. Write another name."


@sensitive_variables("password")
def added(request: HttpRequest, name: str, role: Role) -> HttpResponse:
    """Keep a new person; somebody else who takes the name at the same moment wins or loses it whole."""
    password = secrets.token_urlsafe(12)
    try:
        with atomic():
            user = User.objects.create_user(name, password=password)
            Person.objects.create(user=user, role=role)
    except IntegrityError:
        messages.warning(request, f"{name} was taken a moment ago. Nobody was added.")
        return redirect("new_person")
    tell_password(request, name, password)
    return redirect("people")


def tell_password(request: HttpRequest, name: str, password: str) -> None:
    """Show a password once."""
    messages.success(
        request,
        f"Password for {name}: {password} It is shown this once. Hand it over, and ask for it to be changed under Account.",
    )


def person_form(typed: Typed) -> Form:
    """Return what is asked of a new person."""
    return Form(
        title="Add somebody",
        lede="They sign in with this name and a password that is shown once.",
        button="Add this person",
        back=(reverse("people"), "Back to people"),
        failed="Nobody was added",
        fields=(
            Field(
                name="name",
                label="User name",
                value=typed.sent.get("name", ""),
                hint="One word, such as cleo. It stands in the record of who did what.",
                error=typed.errors.get("name", ""),
            ),
            role_field(typed.sent.get("role", Role.VIEWER), typed.errors.get("role", "")),
        ),
    )


def role_field(value: str, error: str = "") -> Field:
    """Return the choice of a role."""
    return Field(name="role", label="Role", value=value, kind="choice", choices=ROLES, error=error)


def person(request: HttpRequest, person: int) -> HttpResponse:
    """Change what somebody may do, close or open their way in, or give them a new password."""
    user = get_object_or_404(User.objects.select_related("person"), pk=person)
    typed = Typed(request.POST)
    if request.method == "POST":
        act = request.POST.get("act", "")
        if act == "password":
            return new_password(request, user)
        role = typed.choice("role", tuple(Role))
        if not typed.errors and changed(user, Role(role), is_active=act not in ("close",)):
            messages.success(request, f"{user.username} is kept.")
            return redirect("people")
        if not typed.errors:
            typed.errors["role"] = "Somebody must stay owner. Make another person owner first."
    return show_form(request, {}, change_form(user, typed))


@atomic
def changed(user: User, role: Role, is_active: bool) -> bool:
    """Keep what somebody may do from now on; False, and nothing is kept, where no owner would be left."""
    owners = User.objects.select_for_update().filter(is_active=True).select_related(None)
    others = [one for one in owners.exclude(pk=user.pk) if rights_of(one).role is Role.OWNER]
    stays_owner = is_active and (role is Role.OWNER or user.is_superuser)
    if not stays_owner and not others:
        return False
    user.is_active = is_active
    user.save(update_fields=["is_active"])
    Person.objects.update_or_create(user=user, defaults={"role": role})
    return True


@sensitive_variables("password")
def new_password(request: HttpRequest, user: User) -> HttpResponse:
    """Give somebody a new password, which signs them out wherever they are."""
    password = secrets.token_urlsafe(12)
    user.set_password(password)
    user.save(update_fields=["password"])
    tell_password(request, user.username, password)
    return redirect("people")


def change_form(user: User, typed: Typed) -> Form:
    """Return what can be changed of somebody."""
    role = rights_of(user).role or Role.VIEWER
    closing = ("close", "Close their way in") if user.is_active else ("open", "Let them sign in again")
    return Form(
        title=f"What {user.username} may do",
        lede="A change holds from their next click on." if user.is_active else "They cannot sign in now.",
        button="Keep this role",
        more=(closing, ("password", "Give a new password")),
        back=(reverse("people"), "Back to people"),
        failed="Nothing was changed",
        fields=(role_field(typed.sent.get("role", role), typed.errors.get("role", "")),),
    )
