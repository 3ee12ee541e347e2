"""After the month: what happened beside what was planned, and the rates it teaches."""

from decimal import Decimal

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits import models as kits
from planning import load
from planning.money import Learned, Outcome, learned, outcomes, with_learned
from planning.month import Month
from planning.rewriting import ChangedMeanwhileError, rewrite
from planning.run import Planned
from planning.views import gate, words
from planning.views.parts import Line, Page, Section, Table, number, text
from planning.views.steps import step_page


def after_month(request: HttpRequest, month: int) -> HttpResponse:
    """Show what happened beside the plan; a POST takes the learned rates into a later month's rows."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    planned = load.planned(plan) if plan else None
    book = load.without_people(row)
    rates = tuple(learned(book, planned.plan)) if planned else ()
    if request.method == "POST" and rates:
        return taken(request, row, rates)
    more = {"rates": len(rates), "later": later_months(row)}
    return step_page(request, month, "cost", lambda planned: page(planned, book, rates), "after_month", more)


def later_months(row: kits.Month) -> list[kits.Month]:
    """Return the later months of the club."""
    return list(kits.Month.objects.filter(code=row.code, month__gt=row.month).order_by("month"))


def taken(request: HttpRequest, row: kits.Month, rates: tuple[Learned, ...]) -> HttpResponse:
    """Use the rates in the month that was chosen, unless it was changed meanwhile."""
    pk, _, seen = request.POST.get("to", "").partition("-")
    later = next((one for one in later_months(row) if str(one.pk) == pk), None)
    if later is None:
        messages.warning(request, "Choose a later month.")
        return redirect("after_month", month=row.pk)
    book = load.without_people(later)
    try:
        changed = rewrite(later, book, with_learned(book, rates), seen)
    except ChangedMeanwhileError as error:
        messages.warning(request, str(error))
        return redirect("after_month", month=row.pk)
    said = "uses the learned rates now. Plan it again." if changed else "uses these rates already."
    messages.success(request, f"{later.month} {said}")
    return redirect("after_month", month=row.pk)


def page(planned: Planned, book: Month, rates: tuple[Learned, ...]) -> Page:
    """Return the page."""
    found = tuple(outcomes(book, planned.plan))
    return Page(
        figures=(),
        sections=(
            Section("Beside the plan", tables=(outcome_table(found, planned),)),
            Section("Rates for the next month", tables=(rate_table(rates),)),
        ),
    )


def outcome_table(found: tuple[Outcome, ...], planned: Planned) -> Table:
    """Return everything that was noted."""
    club = planned.club

    def amount(money: Decimal | None) -> str:
        return "–" if money is None else words.money(money, club)

    return Table(
        "Planned, and what it was",
        (
            text("What"),
            text("Of"),
            number("Planned"),
            number("Was"),
            number("Planned", club.currency),
            number("Paid", club.currency),
            number("More paid", club.currency),
        ),
        [
            Line(
                (
                    words.sentence(one.kind.value),
                    one.name,
                    f"{one.planned.normalize():,f}",
                    f"{one.quantity.normalize():,f}",
                    amount(one.planned_amount),
                    amount(one.amount),
                    amount(
                        None
                        if one.amount is None or one.planned_amount is None
                        else one.amount - one.planned_amount
                    ),
                )
            )
            for one in found
        ],
        empty="Nothing was noted yet. After the month write what was bought, spoiled, worked and posted on the sheet What "
        "happened.",
    )


def rate_table(rates: tuple[Learned, ...]) -> Table:
    """Return what the month teaches."""
    return Table(
        "Used, and learned",
        (text("Rate"), number("Used"), number("Learned")),
        [Line((one.name, f"{one.used.normalize():,f}", f"{one.learned.normalize():,f}")) for one in rates],
        empty="No rate follows from what was noted.",
    )
