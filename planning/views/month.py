"""The month page: the flow from top to bottom, and the button that plans it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from kits.models import Material, Month, Recipe
from planning import jobs, load
from planning.models import LIVE, Job, Plan, State, Subscriber
from planning.run import Planned, id_of
from planning.views import (
    balance,
    buying,
    cost,
    cutting,
    gate,
    orders,
    packing,
    recipes,
    requirements,
    roster,
    shipping,
    words,
)
from planning.views.kept import kept
from planning.views.parts import Strip
from planning.views.steps import allowed_steps

STRIPS: dict[str, Callable[[Planned], Strip]] = {
    "roster": roster.strip,
    "requirements": requirements.strip,
    "cutting": cutting.strip,
    "buying": buying.strip,
    "packing": packing.strip,
    "shipping": shipping.strip,
    "cost": cost.strip,
    "balance": balance.strip,
}


def month(request: HttpRequest, month: int) -> HttpResponse:
    """Show a month as its flow."""
    row = gate.month_or_404(request, month)
    made = gate.readable_plan_or_none(request, row)
    shown: dict[str, Any] = {
        "month": row,
        "plan": made,
        "version": gate.version_asked(request, made),
    }
    shown["job"] = job_to_show(row, made)
    shown["recipes"] = recipes.strip(row)
    shown |= planned_month(row, made, allowed_steps(request)) if made else held(row)
    shown["orders"] = orders.strip(row, shown.get("planned"))
    shown["needs"] = shown.get("needs", 0) + len(shown["recipes"].needs) + len(shown["orders"].needs)
    return render(request, "planning/month.html", shown)


def planned_month(row: Month, made: Plan, steps: Sequence[str]) -> dict[str, Any]:
    """Return what the page shows of a plan."""
    planned = load.planned(made)
    strips = [(step, kept(STRIPS[step], planned)) for step in steps]
    papers = made.papers.aggregate(size=Sum("size"))["size"]
    return {
        "planned": planned,
        "strips": strips,
        "needs": sum(len(strip.needs) for _, strip in strips),
        "latest": row.plans.defer("answers").first(),
        "is_stale": made.plan_id != id_of(row.code, row.month, row.fingerprint),
        "papers": made.papers.count(),
        "papers_size": papers or 0,
    }


@dataclass(frozen=True, slots=True)
class Holding:
    """How many of something the month's book holds."""

    figure: str
    what: str


def held(row: Month) -> dict[str, Any]:
    """Return what the page says of a month that has no plan yet."""
    counts = (
        (Subscriber, "person on the roster", "people on the roster"),
        (Recipe, "recipe", "recipes"),
        (Material, "material", "materials"),
    )
    found = [(model.objects.filter(month=row).count(), one, many) for model, one, many in counts]
    return {
        "held": [Holding(words.count(number), words.noun(number, one, many)) for number, one, many in found]
    }


def job_to_show(row: Month, made: Plan | None) -> Job | None:
    """Return the job that runs, or the one that failed since the plan was made."""
    latest = row.jobs.filter(kind="plan").first()
    if latest is None or latest.state in LIVE:
        return latest
    is_newer = made is None or made.job_id is None or latest.pk > made.job_id
    return latest if latest.state == State.FAILED and is_newer else None


@require_POST
def plan(request: HttpRequest, month: int) -> HttpResponse:
    """Ask for the month to be planned, and show the job."""
    row = gate.month_or_404(request, month)
    return redirect("job", job=jobs.enqueue("plan", row, request.user).pk)  # type: ignore[arg-type]
