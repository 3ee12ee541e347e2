"""One's own account: a new password."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters

from planning.rights.ask import rights
from planning.rights.table import TASKS
from planning.views.forms import Field, Form, show_form


@sensitive_post_parameters("old", "new")
def account(request: HttpRequest) -> HttpResponse:
    """Say what one may do, and let one change one's password, which ends every other sign-in of one's own."""
    errors = faults(request) if request.method == "POST" else {}
    if request.method != "POST" or errors:
        return show_form(request, {}, form(request, errors))
    user = own(request)
    user.set_password(request.POST["new"])
    user.save(update_fields=["password"])
    update_session_auth_hash(request, user)
    messages.success(request, "Your password is changed. Wherever else you were signed in, you are no more.")
    return redirect("account")


def own(request: HttpRequest) -> User:
    """Return the user of whoever asks."""
    return User.objects.get(username=request.user.get_username())


def faults(request: HttpRequest) -> dict[str, str]:
    """Return what is wrong with what was typed, by field."""
    user = own(request)
    if not user.check_password(request.POST.get("old", "")):
        return {"old": "This is not your password now."}
    try:
        validate_password(request.POST.get("new", ""), user)
    except ValidationError as error:
        return {"new": " ".join(error.messages)}
    return {}


def form(request: HttpRequest, errors: dict[str, str]) -> Form:
    """Return the form, empty: passwords are never sent back."""
    role = rights(request).role
    asked = (
        ("old", "Your password now", ""),
        ("new", "New password", "At least 12 characters; a few words do."),
    )
    return Form(
        title=f"Your account, {request.user.get_username()}",
        lede=f"You are {role}. {TASKS[role]}" if role else "You have no role yet. Ask the owner for one.",
        button="Change my password",
        back=(reverse("months"), "All months"),
        failed="Your password was not changed",
        fields=tuple(
            Field(name=name, label=label, kind="password", hint=hint, error=errors.get(name, ""))
            for name, label, hint in asked
        ),
    )
