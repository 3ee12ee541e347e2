"""The benches from the desk: what is packed, how each wave gets on, and releasing a plan to them."""

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.timezone import now

from kits.models import Month
from planning.at_bench.release import Takeover, plan_before, release, takeover
from planning.at_bench.released import Released
from planning.at_bench.waves import Ended, counts, first_open, wave_work
from planning.models import Plan
from planning.views import gate, words
from planning.views.bench import readable
from planning.views.forms import Field, Form, Typed, show_form
from planning.views.orders import around, person
from planning.views.parts import Figure, Line, Pages, Table, number, text, when

MOST_GRAMS = 1_000


def benches(request: HttpRequest, month: int) -> HttpResponse:
    """Show how packing gets on."""
    row = gate.month_or_404(request, month)
    one = readable(row)
    latest = row.plans.defer("answers").first()
    shown: dict[str, Any] = around(row, "benches") | {"released": one, "latest": latest}
    if one is not None:
        ended = counts(one.plan)
        shown["figures"] = figures(one, ended)
        shown["table"] = wave_table(one, gate.page_number(request, "waves"), ended)
    return render(request, "planning/benches.html", shown)


def figures(one: Released, ended: Ended) -> tuple[Figure, ...]:
    """Return how the plan gets on, and the wave it is at."""
    waves = one.planned.plan.waves
    done, pulled = (sum(each) for each in zip(*ended.values(), strict=True)) if ended else (0, 0)
    boxes = sum(wave.boxes for wave in waves)
    left = Figure(
        words.count(boxes - done - pulled), "boxes left", f"{boxes:,} - {done:,} packed - {pulled:,} pulled"
    )
    whole = (Figure(words.count(done), "boxes packed"), left)
    at = first_open(one, now().date(), ended)
    if not at:
        return whole
    pace = wave_work(one, at, now()).pace
    hourly = Figure(str(round(pace.hourly)) if pace.hourly else "–", f"boxes an hour, wave {at}")
    finish = Figure(f"{pace.finish:%H:%M} UTC" if pace.finish else "–", f"wave {at} done about")
    return *whole, hourly, finish


def wave_table(one: Released, page: int, ended: Ended) -> Table:
    """Return one page of the waves with what is done."""
    waves = one.planned.plan.waves
    pages = Pages("waves", page, len(waves))
    if page > pages.count:
        raise Http404
    shown = waves[pages.first - 1 : pages.last]
    lines = []
    for wave in shown:
        done, pulled = ended.get(wave.number, (0, 0))
        lines.append(
            Line(
                (
                    str(wave.number),
                    words.weekday(wave.day),
                    wave.service.name,
                    words.count(wave.boxes),
                    words.count(done),
                    words.count(pulled),
                    words.count(wave.boxes - done - pulled),
                )
            )
        )
    headings = (
        text("Wave"),
        when("Pack on"),
        text("Service"),
        *map(number, ("Boxes", "Packed", "Pulled", "Left")),
    )
    return Table(
        "Waves of the plan that is packed",
        headings,
        lines,
        empty="This plan has no waves: see the shipping page for what stands in the way.",
        pages=pages if pages.count > 1 else None,
    )


# --- Releasing ---


def bench_release(request: HttpRequest, month: int) -> HttpResponse:
    """Ask how boxes are weighed, say what becomes of boxes packed already, and release a plan."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    if plan is None or not plan.ready:
        messages.warning(request, "Plan this month first: only a plan is released to the benches.")
        return redirect("month", month=month)
    typed = Typed(request.POST if request.method == "POST" else {})
    problem = (
        "" if plan.listed.exists() else "The boxes of this version were cleared away: plan the month again."
    )
    if request.method == "POST" and not problem:
        scale = tenths(typed)
        if not typed.errors:
            weigh = typed.text("weigh") == "yes"
            release(row, plan, person(request), weigh=weigh, scale=scale)
            messages.success(request, f"Version {plan.version} is released to the benches.")
            return redirect("benches", month=month)
    return show_form(request, around(row, "benches"), release_form(request, row, plan, typed, problem))


def tenths(typed: Typed) -> int:
    """Return how far a weight may be off, in tenths of a gram."""
    grams = typed.amount("scale", Decimal(5))
    if grams > MOST_GRAMS or grams * 10 % 1:
        typed.errors["scale"] = f"Write grams from 0 to {MOST_GRAMS:,}, with at most one decimal."
        return 0
    return int(grams * 10)


def release_form(request: HttpRequest, month: Month, plan: Plan, typed: Typed, problem: str) -> Form:
    """Return the form."""
    weighs = typed.text("weigh") if request.method == "POST" else ""
    return Form(
        title=f"Release version {plan.version} to the benches",
        lede=f"{words.counted(plan.boxes, 'box', 'boxes')}. {kept_words(plan_before(month), plan)}",
        button=f"Release {words.counted(plan.boxes, 'box', 'boxes')}",
        back=(reverse("benches", args=[month.pk]), "Back to the benches"),
        fields=(
            Field(
                name="weigh",
                label="Weigh every box before it is closed",
                kind="tick",
                value=weighs,
                hint="Only where all goods have their weights: a box of unknown weight would never close.",
            ),
            Field(
                name="scale",
                label="How far a weight may be off, g",
                kind="number",
                value=typed.text("scale") or "5",
                hint="The scale, and goods besides paper. What paper may be heavier or lighter comes on top.",
                error=typed.errors.get("scale", ""),
            ),
        ),
        note="Benches go on with this version from their next scan on; a box in hand is scanned again.",
        failed="The plan was not released",
        problem=problem,
    )


def kept_words(before: Plan | None, plan: Plan) -> str:
    """Say what becomes of boxes that are packed."""
    if before is None:
        return "Nothing is packed yet."
    if before.pk == plan.pk:
        return "It is released already; what is packed stays packed."
    taken: Takeover = takeover(before, plan)
    kept, astray = len(taken.carried.pairs), len(taken.carried.astray)
    said = f"Of the boxes packed by version {before.version}, {kept:,} count in this one"
    return (
        f"{said}, and {astray:,} are for nobody any more: they stand under what changed."
        if astray
        else f"{said}."
    )
