"""Short supply: who gets what there is too little of, and which boxes go without."""

import csv
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits import models as kits
from kits.drawing import Style, svg
from planning import choices, load
from planning.allocation import (
    AllocationProblem,
    AllocationResult,
    Rule,
    ShortMaterial,
    plan_allocation,
)
from planning.models import Plan
from planning.names import tier_name
from planning.run import Planned
from planning.views import gate, words
from planning.views.documents import inside
from planning.views.drawings import Part, Row, lying_bars
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Pages, Section, Table, number, text, when
from planning.views.steps import step_page

PAPER = "short-boxes.csv"
NAMED = 50  # boxes on a page


def short_supply(request: HttpRequest, month: int) -> HttpResponse:
    """Show who goes short; another rule may be tried, and kept."""
    row = gate.month_or_404(request, month)
    kept = Rule(row.short_goods)
    if request.method == "POST":
        return keep(request, row)
    plan = gate.readable_plan_or_none(request, row)
    rule = asked_rule(request.GET.get("rule", ""), kept)
    planned = load.planned(plan) if plan else None
    shown = by_rule(planned.plan.allocation, rule, row) if planned else None
    is_tried = shown is not None and planned is not None and shown != planned.plan.allocation
    more: dict[str, Any] = {
        "rules": tuple(Rule),
        "rule": rule,
        "kept_rule": kept,
        "is_short": bool(shown and shown.materials),
        "is_tried": is_tried,
    }
    named = None if is_tried or plan is None else names_table(plan, gate.page_number(request, "boxes"))
    return step_page(
        request, month, "buying", lambda planned: page(planned, shown, named), "short_supply", more
    )


def keep(request: HttpRequest, row: kits.Month) -> HttpResponse:
    """Keep a rule."""
    rule = asked_rule(request.POST.get("rule", ""), Rule(row.short_goods))
    choices.keep_rule(row, rule)
    messages.success(request, f"Kept: short goods go {said(rule)}. Plan the month again to name the boxes.")
    return redirect("short_supply", month=row.pk)


def said(rule: Rule) -> str:
    """Return a rule in words that go on from "goods go"."""
    return {Rule.TIER: "by tier", Rule.JOINED: "by joining date", Rule.EVEN: "evenly to all tiers"}[rule]


def asked_rule(name: str, kept: Rule) -> Rule:
    """Return the rule of a name, the one that is kept for any other text."""
    return next((rule for rule in Rule if rule.value == name), kept)


def by_rule(planned: AllocationResult, rule: Rule, row: kits.Month) -> AllocationResult:
    """Return who goes short by a rule: the plan's own boxes and goods, given out anew."""
    return plan_allocation(
        AllocationProblem(
            rule=rule,
            tiers=tuple(tier.code for tier in load.rows("tiers", row)),
            groups=planned.groups,
            short=tuple(
                ShortMaterial(material=one.material, name=one.name, available=one.available)
                for one in planned.materials
            ),
            substitutes=planned.substitutes,
        )
    )


# --- The page ---


def page(planned: Planned, shown: AllocationResult | None, named: Table | None) -> Page:
    """Return the page."""
    if shown is None or not shown.materials:
        nothing = Table("Short supply", (), (), empty="Nothing is short: every box holds what was planned.")
        return Page(figures=(), sections=(Section("Who goes short", tables=(nothing,)),))
    sections = [
        Section(
            "Boxes by tier",
            tables=(tier_table(planned, shown),),
            drawings=(drawing(planned, shown),),
        ),
        Section("What there is too little of", tables=(material_table(shown),)),
        Section("What may go in instead", tables=(substitute_table(planned, shown),)),
    ]
    if named is not None:
        sections.append(Section("Which boxes exactly", tables=(named,)))
    return Page(figures=tuple(figures(shown)), ended=words.sentence(shown.ended), sections=tuple(sections))


def figures(shown: AllocationResult) -> Iterator[Figure]:
    """Yield the key figures."""
    parts = (shown.whole, shown.changed, shown.lacking)
    yield Figure(
        words.count(shown.lacking),
        f"{words.noun(shown.lacking, 'box goes', 'boxes go')} without something",
        f"{words.added(parts, sum(parts))} boxes that should hold it: whole, with a substitute, and without.",
    )
    yield Figure(
        words.count(shown.changed), f"{words.noun(shown.changed, 'box holds', 'boxes hold')} a substitute"
    )
    yield Figure(
        words.count(shown.whole), f"{words.noun(shown.whole, 'box holds', 'boxes hold')} all that was planned"
    )


def by_tier(shown: AllocationResult) -> dict[str, Counter[str]]:
    """Count the boxes of each tier that are whole, changed and lacking."""
    tiers = {one.code: one.tier for one in shown.groups}
    counts: dict[str, Counter[str]] = {one.tier: Counter() for one in shown.groups}
    for one in shown.boxes:
        fate = "lacking" if one.lacks else "changed" if one.got else "whole"
        counts[tiers[one.group]][fate] += one.count
    return counts


def drawing(planned: Planned, shown: AllocationResult) -> Drawing:
    """Draw each tier's boxes."""
    rows = [
        Row(
            tier_name(tier, planned.names),
            (
                Part(f"{counts['whole']:,} whole", counts["whole"], Style.PIECE),
                Part(f"{counts['changed']:,} substitute", counts["changed"], Style.PHOTO),
                Part(f"{counts['lacking']:,} without", counts["lacking"], Style.NOTE),
            ),
        )
        for tier, counts in by_tier(shown).items()
    ]
    told = "; ".join(f"{row.name}: {', '.join(part.name for part in row.parts)}" for row in rows)
    return Drawing(
        svg(lying_bars("Boxes whole, with a substitute and without, by tier", rows, told), "short")
    )


def tier_table(planned: Planned, shown: AllocationResult) -> Table:
    """Return a line for each tier."""
    fates = ("whole", "changed", "lacking")
    counts = by_tier(shown)
    return Table(
        "Boxes that should hold something short",
        (text("Tier"), number("Whole"), number("Substitute"), number("Without")),
        [
            Line(
                (tier_name(tier, planned.names), *(words.count(own[fate]) for fate in fates)),
                needs="Without" if own["lacking"] else "",
            )
            for tier, own in counts.items()
        ],
        foot=("All", *(words.count(sum(own[fate] for own in counts.values())) for fate in fates)),
    )


def material_table(shown: AllocationResult) -> Table:
    """Return a line for each short material."""
    return Table(
        "Units wanted and there, and the boxes that get it",
        (
            text("Item"),
            number("Wanted"),
            number("There"),
            number("Boxes with it"),
            number("Boxes with a substitute"),
            number("Boxes without"),
            number("Units unused"),
        ),
        [
            Line(
                (
                    one.name,
                    words.count(one.wanted),
                    words.count(one.available),
                    words.count(one.served),
                    words.count(sum(count for _, count in one.instead)),
                    words.count(one.without),
                    words.count(one.unused),
                ),
                needs="Short" if one.without else "",
            )
            for one in shown.materials
        ],
    )


def substitute_table(planned: Planned, shown: AllocationResult) -> Table:
    """Return a line for each substitute with what changes."""
    names = {one.material: one.name for one in shown.materials}
    given = {(one.material, code): count for one in shown.materials for code, count in one.instead}
    return Table(
        "Substitutes, tried in this order",
        (
            text("Instead of"),
            text("Substitute"),
            number("Units for one"),
            number("Free"),
            number("Boxes"),
            text("What changes"),
        ),
        [
            Line(
                (
                    Cell(names[one.material]),
                    one.name,
                    words.count(one.per),
                    words.count(one.available),
                    words.count(given.get((one.material, one.instead), 0)),
                    words.sentence("; ".join(change.rstrip(".") for change in one.changes) or "nothing told"),
                )
            )
            for one in shown.substitutes
        ],
        empty="No substitute is listed for any of it. Add it to the sheet Substitutes of the month file.",
    )


# --- The boxes by name ---


def names_table(plan: Plan, asked: int) -> Table | None:
    """Return one page of the boxes by name, as the plan's own paper lists them; None where there is no such paper."""
    paper = plan.papers.filter(name=PAPER).first()
    if paper is None:
        return None
    path = inside(settings.ARTEFACTS_DIR, paper.path)
    if not path.is_file():
        return Table(
            "Boxes", (), (), empty="Their list is no longer where it was written. Plan the month again."
        )
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))[1:]
    pages = Pages("boxes", asked, len(rows), NAMED)
    pages = replace(pages, number=min(pages.number, pages.count))
    return Table(
        "Each box and what it goes without; the same list is among the papers",
        (
            text("Box"),
            text("Subscriber"),
            text("Name"),
            when("Joined"),
            text("Without"),
            text("Instead"),
        ),
        [name_line(row) for row in rows[pages.first - 1 : pages.last]],
        pages=pages if pages.count > 1 else None,
    )


def name_line(row: Sequence[str]) -> Line:
    """Return one box as a line."""
    code, reference, name, _tier, joined, _wave, without, instead, *_ = row
    since = words.day(date.fromisoformat(joined)) if joined else "founding member"
    return Line((code, reference, name, since, without, instead or "nothing"))
