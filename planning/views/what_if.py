"""What if: a variant of the month beside it, kept by name, and made the plan by whoever decides so."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from kits.models import Month as MonthRow
from planning import choices, load
from planning.cost.rows import ChangeKind, VariantLine
from planning.curve import WhatIf, changed_month
from planning.curve import what_if as decided_otherwise
from planning.faults import faults
from planning.listing import count_roster
from planning.month import Month
from planning.rewriting import ChangedMeanwhileError, rewrite
from planning.run import MONTH_ERRORS, Planned
from planning.views import gate, words
from planning.views.parts import Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

NO_CHANGE = "Nothing differs."


def what_if(request: HttpRequest, month: int) -> HttpResponse:
    """Show a variant beside the month; a POST adds a change to it, forgets it, or makes it the plan."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    planned = load.planned(plan) if plan else None
    book = load.to_plan_by(row)
    name = request.GET.get("variant", "")
    if request.method == "POST" and planned is not None:
        return acted(request, row, book, name, planned)
    return shown(request, row, book, name)


def shown(
    request: HttpRequest,
    row: MonthRow,
    book: Month,
    name: str,
    problems: Sequence[str] = (),
    failed: str = "",
) -> HttpResponse:
    """Show the page."""
    lines = of_variant(book, name)
    more = {
        "names": tuple(dict.fromkeys(line.variant for line in book.variants)),
        "name": name if lines else "",
        "lines": lines,
        "changes": [(one.value, one.value) for one in ChangeKind],
        "codes": tuple(codes(book)),
        "typed": request.POST,
        "problems": problems,
        "failed": failed,
    }
    return step_page(
        request, row.pk, "cost", lambda planned: page(planned, row, book, name, lines), "what_if", more
    )


def of_variant(book: Month, name: str) -> tuple[VariantLine, ...]:
    """Return the changes of a variant."""
    return tuple(line for line in book.variants if line.variant == name)


def codes(book: Month) -> Iterator[tuple[str, str]]:
    """Yield every code a change may be about, with what it stands for."""
    yield from ((one.code, one.name) for one in book.tiers)
    yield from ((one.code, one.name) for one in book.materials)
    yield from ((one.code, one.name) for one in book.suppliers)
    yield from ((one.code, f"offer of {one.material}") for one in book.offers)


# --- What is done ---


def acted(request: HttpRequest, row: MonthRow, book: Month, name: str, planned: Planned) -> HttpResponse:
    """Add a change, forget the variant, or make it the plan."""
    act, seen = request.POST.get("act", ""), request.POST.get("seen", "")
    try:
        if act == "drop":
            kept = tuple(line for line in book.variants if line.variant != name)
            rewrite(row, book, replace(book, variants=kept), seen)
            return redirect("what_if", month=row.pk)
        if act == "adopt":
            return adopted(request, row, book, name, planned, seen)
        return added(request, row, book, seen)
    except ChangedMeanwhileError as error:
        return shown(request, row, book, name, [str(error)], "Nothing was changed")


def added(request: HttpRequest, row: MonthRow, book: Month, seen: str) -> HttpResponse:
    """Add a change to the variant that is named; a change of the same thing takes the place of the one before."""
    name = request.POST.get("name", "").strip()
    change = next((one for one in ChangeKind if one.value == request.POST.get("change")), ChangeKind.BOXES)
    item, value = (request.POST.get(one, "").replace(",", "").strip() for one in ("item", "value"))
    line = VariantLine(variant=name, change=change, item=item, value=value)
    others = tuple(
        one for one in book.variants if (one.variant, one.change, one.item) != (name, change, item)
    )
    after = replace(book, variants=(*others, line))
    problems = [str(fault) for fault in faults(after) if fault.table == "variants"]
    if problems:
        return shown(request, row, book, request.GET.get("variant", ""), problems, "The change was not added")
    rewrite(row, book, after, seen)
    return redirect(f"{reverse('what_if', args=[row.pk])}?variant={name}")


def adopted(
    request: HttpRequest, row: MonthRow, book: Month, name: str, planned: Planned, seen: str
) -> HttpResponse:
    """Make a variant the month's rows; a count of boxes becomes what the goods are to suffice for."""
    lines = of_variant(book, name)
    after = changed_month(book, lines)
    if problems := new_faults(book, after):
        return shown(request, row, book, name, problems, "The variant was not made the plan")
    rewrite(row, book, after, seen)
    if any(line.change is ChangeKind.BOXES for line in lines):
        row.refresh_from_db()
        choices.keep_quantities(row, kits_of(row, planned, book, lines))
    messages.success(request, f"The month now is as in the variant {name}. Plan it again.")
    return redirect("month", month=row.pk)


def kits_of(
    row: MonthRow, planned: Planned, book: Month, lines: Iterable[VariantLine]
) -> dict[str, int | None]:
    """Return the kits of each tier that a variant's count comes to."""
    found = tried("", lines, row, book, planned)
    return {one.code: one.boxes for one in found.decided.cost.columns if one.boxes}


def new_faults(before: Month, after: Month) -> list[str]:
    """Return what a change makes wrong with a month that was right, in words."""
    known = {str(fault) for fault in faults(before)}
    return [str(fault) for fault in faults(after) if str(fault) not in known]


# --- What is shown ---


def tried(name: str, lines: Iterable[VariantLine], row: MonthRow, book: Month, planned: Planned) -> WhatIf:
    """Decide the variant."""
    people = count_roster(row.pk, book).problem
    return decided_otherwise(name, lines, book, people, planned.plan.cutting)


def page(planned: Planned, row: MonthRow, book: Month, name: str, lines: tuple[VariantLine, ...]) -> Page:
    """Return the page."""
    if not lines:
        empty = Table("Side by side", (), (), empty="Name a variant above and change something.")
        return Page(figures=(), sections=(Section("Side by side", tables=(empty,)),))
    sections = [Section("What the variant changes", tables=(line_table(lines),))]
    if problems := new_faults(book, changed_month(book, lines)):
        return refused(sections, problems)
    try:
        found = tried(name, lines, row, book, planned)
    except MONTH_ERRORS as error:
        return refused(sections, [str(error)])
    return Page(
        figures=tuple(figures(found, planned)),
        ended="The month as it is and with the change, both planned without the long searches; the plan is untouched.",
        sections=(
            Section("Side by side", tables=(changed_table(found, planned),)),
            *sections,
        ),
    )


def refused(sections: Sequence[Section], problems: Sequence[str]) -> Page:
    """Return the page of a variant that cannot be planned."""
    table = Table("Why it cannot be planned", (text("What is wrong"),), [Line((one,)) for one in problems])
    return Page(figures=(), sections=(Section("It cannot be planned like this", tables=(table,)), *sections))


def figures(found: WhatIf, planned: Planned) -> list[Figure]:
    """Return the difference it makes."""
    names = ("Cost of the month", "What is left")
    return [
        Figure(
            f"{'+' if one.difference > 0 else '−'}{words.money(abs(one.difference), planned.club)}",
            f"{planned.club.currency}, {one.what[0].lower()}{one.what[1:]}",
            f"{words.money(one.after, planned.club)} − {words.money(one.before, planned.club)}",
        )
        for one in found.changed
        if one.what in names
    ]


def changed_table(found: WhatIf, planned: Planned) -> Table:
    """Return every figure that differs."""
    club = planned.club

    def shown_as(amount: Decimal, money: bool) -> str:
        return words.money(amount, club) if money else words.count(int(amount))

    return Table(
        "Every figure that differs",
        (text("Figure"), number("As it is"), number("Variant"), number("Difference")),
        [
            Line(
                (
                    one.what,
                    shown_as(one.before, one.money),
                    shown_as(one.after, one.money),
                    shown_as(one.difference, one.money),
                )
            )
            for one in found.changed
        ],
        empty=NO_CHANGE,
    )


def line_table(lines: Iterable[VariantLine]) -> Table:
    """Return the changes."""
    return Table(
        "Its changes, one after the other",
        (text("Change"), text("Of"), text("To")),
        [Line((words.sentence(line.change.value), line.item or "–", line.value)) for line in lines],
    )
