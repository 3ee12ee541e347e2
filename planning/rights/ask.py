"""Every request is asked: may this person look at this page, or change what it is about?"""

from collections.abc import Callable
from typing import Any

from django.contrib.auth.backends import ModelBackend
from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.http.response import HttpResponseBase

from planning.rights.record import note
from planning.rights.table import Act, Area, Rights, Role

SAFE = ("GET", "HEAD", "OPTIONS")


class RoleBackend(ModelBackend):
    """Django's own users, each fetched together with their role."""

    def get_user(self, user_id: int) -> User | None:
        """Return somebody who may still sign in."""
        user = User.objects.select_related("person").filter(pk=user_id).first()
        return user if user and self.user_can_authenticate(user) else None


def rights_of(user: AbstractBaseUser | AnonymousUser) -> Rights:
    """Return what somebody may do: a superuser everything, and somebody without a role nothing."""
    if getattr(user, "is_superuser", False):
        return Rights(Role.OWNER)
    person = getattr(user, "person", None)
    return Rights(Role(person.role) if person else None)


def rights(request: HttpRequest) -> Rights:
    """Return what whoever asks may do."""
    return rights_of(request.user)


def require(request: HttpRequest, area: Area, act: Act = Act.LOOK) -> None:
    """Raise PermissionDenied unless whoever asks may do so."""
    asked = rights(request)
    if not asked.may(act, area):
        role = f"a {asked.role}" if asked.role else "somebody without a role"
        raise PermissionDenied(f"You are signed in as {role}, who may not {act} {area}.")


class RightsMiddleware:
    """Asks for every view that has an area, and keeps a record of what was changed."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer; where something was done by it, note that."""
        answer = self.get_response(request)
        # A page that did what it was asked to leads on to another one; one that refused, or only looked, shows itself.
        if request.method == "POST" and answer.status_code in (302, 303) and request.user.is_authenticated:
            note(request)
        return answer

    def process_view(
        self, request: HttpRequest, view: Callable[..., Any], args: list[object], kwargs: dict[str, object]
    ) -> None:
        """Refuse what somebody may not do, before any view runs."""
        area = getattr(view, "area", None)
        if area is not None and request.user.is_authenticated:
            require(request, area, Act.LOOK if request.method in SAFE or area is Area.OPEN else Act.CHANGE)


class May:
    """For templates: `may.look.cost`, `may.change.stock`."""

    def __init__(self, rights: Rights) -> None:
        self.look = {area.name.lower(): rights.may(Act.LOOK, area) for area in Area}
        self.change = {area.name.lower(): rights.may(Act.CHANGE, area) for area in Area}
