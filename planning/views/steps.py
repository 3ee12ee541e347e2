"""The steps of a month in order, and what their pages do alike."""

from collections.abc import Callable, Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from planning import load
from planning.rights.ask import May, rights
from planning.rights.table import Area
from planning.run import Planned
from planning.views import gate
from planning.views.kept import kept
from planning.views.parts import Page

STEPS = {
    "roster": Area.ROSTER,
    "requirements": Area.FIGURES,
    "cutting": Area.CUTTING,
    "buying": Area.BUYING,
    "packing": Area.PACKING,
    "shipping": Area.SHIPPING,
    "cost": Area.COST,
    "balance": Area.FIGURES,
}


def allowed_steps(request: HttpRequest) -> list[str]:
    """Return the steps that whoever asks may look at."""
    return [step for step, area in STEPS.items() if rights(request).may_look(area)]


def told(request: HttpRequest) -> dict[str, object]:
    """Tell every template what whoever looks may do, and so which steps to lead to. A context processor."""
    return {"may": May(rights(request)), "steps": allowed_steps(request)} if hasattr(request, "user") else {}


def step_page(
    request: HttpRequest,
    month: int,
    step: str,
    page: Callable[[Planned], Page],
    template: str = "",
    more: Mapping[str, Any] | None = None,
) -> HttpResponse:
    """Show a step's page of the month's plan, or what it waits for. template: its own, where it is not the step's."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    shown: dict[str, Any] = {"month": row, "plan": plan, "step": step}
    shown["version"] = gate.version_asked(request, plan)
    if plan is not None:
        planned = load.planned(plan)
        shown |= {"planned": planned, "page": kept(page, planned)}
    return render(request, f"planning/{template or step}.html", {**shown, **(more or {})})
