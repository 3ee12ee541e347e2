"""The bench's screen, and what it sends: acts as JSON, each of which counts once however often it comes."""

import json
from datetime import timedelta
from typing import Annotated, Literal
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe
from pydantic import AfterValidator, BaseModel, Field

from kits.models import Month
from planning.at_bench.acts import Answered, Sent, do_acts
from planning.at_bench.people import SignedIn, here
from planning.at_bench.released import Released, released
from planning.at_bench.shown import screen
from planning.load import EarlierPlanError
from planning.models import Packer
from planning.packed import Act
from planning.views import gate

SESSION = "bench"
MOST_ACTS, MOST_BYTES = 200, 200_000  # in one batch
NOT_SIGNED_IN, NOT_RELEASED, UNREADABLE = 401, 409, 400


def printable(text: str) -> str:
    """Leave out control characters, which no scanner means and no database keeps."""
    return "".join(letter for letter in text if letter >= " ")


Text = Annotated[str, Field(max_length=200), AfterValidator(printable)]


class SentAct(BaseModel):
    """An act as the screen sends it. packer: who did it; ago: milliseconds since."""

    id: UUID
    plan: int
    packer: int
    act: Literal["take", "add", "out", "right", "close", "undo", "leave", "damaged", "missing"]
    code: Annotated[str, Field(max_length=5_000)] = ""
    serial: Annotated[int, Field(ge=0, le=10**9)] = 0
    version: Annotated[int, Field(ge=1, le=10**6)] | None = None
    item: Text = ""
    count: Annotated[int, Field(ge=1, le=10_000)] = 1
    tenths: Annotated[int, Field(ge=0, le=10**7)] | None = None
    note: Text = ""
    ago: Annotated[int, Field(ge=0, le=10**9)] = 0


class Batch(BaseModel):
    """What the screen sends at once."""

    acts: Annotated[list[SentAct], Field(max_length=MOST_ACTS)]


@require_safe
def bench(request: HttpRequest, month: int) -> HttpResponse:
    """Show the screen of a bench to whoever is signed in at it."""
    row = gate.month_or_404(request, month)
    one, plan = at_bench(request, row), readable(row)
    if one is None or plan is None:
        return redirect("bench_sign_in", month=month)
    items = {code: {"item": item, "name": name} for code, (item, name) in plan.items().items()}
    shown = {"month": row, "plan": plan.plan, "packer": one.packer, "bench": one.bench}
    return render(request, "planning/bench.html", shown | {"items": json.dumps(items)})


@require_POST
def bench_acts(request: HttpRequest, month: int) -> HttpResponse:
    """Let acts count, and say how the bench stands."""
    row = gate.month_or_404(request, month)
    one, plan = at_bench(request, row), readable(row)
    if one is None:
        return refusal(NOT_SIGNED_IN, "Nobody is signed in at this bench any more. Sign in with your PIN.")
    if plan is None:
        return refusal(NOT_RELEASED, "No plan is released to the benches.")
    try:
        batch = read_batch(request)
    except ValueError:
        return refusal(UNREADABLE, "This cannot be read. Load the page again.")
    answers = do_acts(plan, one.bench, acts_of(request, one, batch))
    one.bench.refresh_from_db()
    return JsonResponse({"answers": list(map(answer_shown, answers)), **screen(plan, one.bench, now())})


def refusal(status: int, why: str) -> JsonResponse:
    """Say why nothing of a batch was looked at."""
    return JsonResponse({"why": why}, status=status)


def read_batch(request: HttpRequest) -> Batch:
    """Return what was sent. Raises ValueError."""
    if int(request.headers.get("Content-Length") or 0) > MOST_BYTES:
        raise ValueError
    return Batch.model_validate_json(request.body)


def acts_of(request: HttpRequest, one: SignedIn, batch: Batch) -> list[Sent]:
    """Return acts with the names of whoever did them, and was signed in at this tablet then; else of who is now."""
    signed_in = request.session[SESSION]["packers"]
    kept = Packer.objects.filter(club=one.packer.club, pk__in=signed_in).values_list("pk", "name")
    names = dict(kept)
    return [to_sent(act, names.get(act.packer, one.packer.name)) for act in batch.acts]


def to_sent(one: SentAct, who: str) -> Sent:
    """Return an act as the program takes it."""
    values = one.model_dump(exclude={"packer", "ago", "act"})
    return Sent(**values, who=who, act=Act(one.act), ago=timedelta(milliseconds=one.ago))


def answer_shown(one: Answered) -> dict[str, object]:
    """Return an answer as plain values."""
    answer = one.answer
    return {
        "id": str(one.id),
        "done": answer.done,
        "said": answer.said,
        "stops": answer.stops,
        "asks": one.asks,
    }


# --- Who is at it ---


def at_bench(request: HttpRequest, month: Month) -> SignedIn | None:
    """Return who is signed in at this tablet for a month's club."""
    kept = request.session.get(SESSION, {})
    if kept.get("club") != month.code or not kept.get("packer"):
        return None
    return here(month.code, kept["packer"], kept["bench"], kept["key"])


def readable(month: Month) -> Released | None:
    """Return what is packed, None where nothing is released or this program cannot read it any more."""
    try:
        return released(month)
    except EarlierPlanError:
        return None
