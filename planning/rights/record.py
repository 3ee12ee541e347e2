"""The record of who did what. It holds the names of fields, never what was written into them."""

import re

from django.http import HttpRequest

from kits.models import Month
from planning.models.person import Change

NAMED_BY = ("number", "code", "entry", "item", "sheet", "version")  # what a page's address may ask for
NOT_FIELDS = {"csrfmiddlewaretoken", "key", "act", "next"}
MOST_FIELDS, LONGEST = 40, 60


def note(request: HttpRequest) -> None:
    """Keep that whoever asks has done what they asked for."""
    match = request.resolver_match
    if match is None or match.url_name in ("sign_in", "sign_out"):
        return
    Change.objects.create(
        who=request.user.get_username(),
        page=match.url_name or "",
        month=month_of(match.kwargs.get("month")),
        what=", ".join(said(request, match.kwargs)),
        fields=filled_in(request),
    )


def month_of(pk: int | None) -> str:
    """Return the club's code and month, which stay when its row is replaced."""
    row = Month.objects.only("code", "month").filter(pk=pk).first() if pk else None
    return f"{row.code} {row.month}" if row else ""


def said(request: HttpRequest, kwargs: dict[str, object]) -> list[str]:
    """Return what of the page it was about."""
    by_path = [f"{name} {value}" for name, value in kwargs.items() if name != "month"]
    return by_path + [f"{name} {request.GET[name][:LONGEST]}" for name in NAMED_BY if name in request.GET]


def filled_in(request: HttpRequest) -> list[str]:
    """Return the names of the fields that hold something; of the rows of a table each name once."""
    names = [name for name, value in (*request.POST.items(), *request.FILES.items()) if value]
    once = dict.fromkeys(re.sub(r"[^a-z_]+.*", "", name.lower())[:LONGEST] for name in names)
    return [name for name in once if name and name not in NOT_FIELDS][:MOST_FIELDS]
