"""Who asks: a program shows its token with every request, and may do what its scopes say."""

import hashlib
import secrets
from collections.abc import Iterable
from datetime import timedelta
from enum import StrEnum

from django.db.models import Q
from django.db.models.functions import Now
from django.http import HttpRequest
from ninja.security import HttpBearer

from planning.api.trouble import Trouble
from planning.models import ApiClient

SEEN = timedelta(minutes=1)  # how exactly it is kept when a token was used last


class Scope(StrEnum):
    """What a program may do."""

    ROSTER = "roster"
    ORDERS = "orders"
    PLANS = "plans"
    STOCK = "stock"
    WAVES = "waves"
    TRACKING = "tracking"


TOLD = {
    Scope.ROSTER: "add and change subscribers, names and addresses too",
    Scope.ORDERS: "add one-off orders and things added to boxes",
    Scope.PLANS: "read what is planned, ordered and what it costs",
    Scope.STOCK: "read what is on the shelf",
    Scope.WAVES: "read waves and how many boxes each holds",
    Scope.TRACKING: "tell the tracking numbers of boxes",
}


class Bearer(HttpBearer):
    """Asks for a token with one scope."""

    def __init__(self, scope: Scope) -> None:
        super().__init__()
        self.scope = scope

    def authenticate(self, request: HttpRequest, token: str) -> ApiClient | None:
        """Return the program whose token this is, None where it is nobody's."""
        found = ApiClient.objects.filter(token=digest(token), active=True).first()
        if found is None:
            return None
        if self.scope not in found.scopes:
            raise Trouble(
                403, f"This token may not {TOLD[self.scope]}: it lacks the scope {self.scope.value!r}."
            )
        rarely = Q(used_at=None) | Q(used_at__lt=Now() - SEEN)
        ApiClient.objects.filter(rarely, pk=found.pk).update(used_at=Now())
        return found


def digest(token: str) -> str:
    """Return what is kept of a token. It is long and random, so a plain hash does."""
    return hashlib.sha256(token.encode()).hexdigest()


def new_client(name: str, scopes: Iterable[Scope], made_by: str) -> tuple[ApiClient, str]:
    """Keep a new program; return it and its token, which is kept nowhere."""
    token = secrets.token_urlsafe(32)
    kept = ApiClient.objects.create(
        name=name, token=digest(token), scopes=[scope.value for scope in scopes], made_by=made_by
    )
    return kept, token
