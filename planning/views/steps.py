"""The steps of a month in order, and what their pages do alike."""

from collections.abc import Callable, Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from planning import load
from planning.faults import TITLES
from planning.rights.ask import May, rights
from planning.rights.table import Area, sheet_area
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


SHEETS = {
    "roster": ("subscribers", "orders", "tiers"),
    "requirements": ("kit_lines", "pre_cuts", "kit_papers", "rules"),
    "cutting": ("guillotines", "materials", "spoilages"),
    "buying": ("materials", "suppliers", "offers", "price_breaks", "stock", "open_orders"),
    "packing": ("kit_lines", "materials", "club"),
    "shipping": ("week", "days_off", "crew_days", "services", "zones", "transits", "rates"),
    "cost": ("tiers", "charges", "aims", "budget"),
}
"""Step -> the sheets of the month that it is worked out from, to change."""


def sheets_of(request: HttpRequest, step: str) -> list[tuple[str, str]]:
    """Return the sheets behind a step that whoever asks may look at: the table and its title."""
    may = rights(request).may_look
    return [(table, TITLES[table]) for table in SHEETS.get(step, ()) if may(sheet_area(table))]


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
    shown: dict[str, Any] = {"month": row, "plan": plan, "step": step, "sheets": sheets_of(request, step)}
    shown["version"] = gate.version_asked(request, plan)
    if plan is not None:
        planned = load.planned(plan)
        shown |= {"planned": planned, "page": kept(page, planned)}
    return render(request, f"planning/{template or step}.html", {**shown, **(more or {})})
