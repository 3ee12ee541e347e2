"""The plan as a table for a terminal: plain text, made from the plan alone."""

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from math import ceil

from kits.measures import Currency, format_amount
from planning.flow import MonthPlan
from planning.run import Planned
from planning.views.words import counted, noun

STEP, FIGURE = 14, 14  # columns
UNPRINTED = re.compile(r"\r\n|[\x00-\x1f\x7f-\x9f\u2028\u2029]")


def summary(planned: Planned) -> str:
    """Return what a person wants to know of a plan at a glance: the steps, what is late or short, the deadlines."""
    club, stamp = planned.club, planned.stamp
    waiting, wide = needs(planned), width(planned)
    parts = [
        # a kit without a name of its own is called by its month
        [", ".join(dict.fromkeys((club.kit_name, club.month.title, club.name))), stamp.text],
        [line(step, figure, words) for step, figure, words in steps(planned)],
        [f"{row[0]:<{wide}}  {row[1]:>9}  {row[2]:>9}  {row[3]:>9}" for row in cost_rows(planned)],
        *([["Not in the cost:", *left_out(planned)]] if planned.plan.cost.short else []),
        ["Needs you:", *(f"  - {need}" for need in waiting)] if waiting else ["Nothing is late or short."],
        ["Deadlines:", *(f"  {day}  {what}" for day, what in deadlines(planned))],
    ]
    return "\n\n".join("\n".join(map(one_line, part)) for part in parts) + "\n"


def line(step: str, figure: str, words: str) -> str:
    """Return one step as a line."""
    return f"{step:<{STEP}}{figure:>{FIGURE}}  {words}"


def one_line(text: str) -> str:
    """Return a text without line breaks or anything else that a terminal would obey."""
    return UNPRINTED.sub(" ", text)


def steps(planned: Planned) -> Iterator[tuple[str, str, str]]:
    """Yield each step with its key figure and a few words."""
    plan, club = planned.plan, planned.club
    boxes, out = plan.roster.boxes, sum(one.heads for one in plan.roster.left_out)
    items, sheets, cut = (
        len(plan.requirements.lines),
        plan.cutting.sheets,
        # of a roll no more is cut than is wanted; the rest stays on it
        sum(one.made for one in plan.cutting.tickets) + sum(one.job.wanted for one in plan.cutting.lengths),
    )
    late = sum(load.boxes for load in plan.shipping.late)
    stuck = sum(one.boxes for one in plan.shipping.unsendable)
    heaviest = max((spec.heaviest for spec in plan.packing.boxes), default=0)
    lines = len(plan.balance.materials) + len(plan.balance.areas) + len(plan.balance.pieces)
    people = counted(plan.roster.heads, "person", "people")
    yield (
        "Roster",
        f"{boxes:,}",
        f"{noun(boxes, 'box', 'boxes')} for {people}, {out:,} {noun(out, 'gets', 'get')} none",
    )
    yield "Requirements", f"{items:,}", f"{noun(items, 'item')}, from boxes down to sheets"
    pieces = counted(cut, "piece or length", "pieces and lengths")
    yield "Cutting", f"{sheets:,}", f"{noun(sheets, 'sheet')}, into {pieces}; {plan.cutting.ended}"
    orders = counted(len(plan.buying.orders), "order")
    yield "Buying", money(plan.buying.total, planned), f"{club.currency} in {orders}"
    waves = noun(len(plan.waves), "wave")
    yield "Packing", f"{len(plan.waves):,}", f"{waves}; the heaviest box weighs at most {ceil(heaviest):,} g"
    sent = plan.shipping.boxes - late
    yield "Shipping", f"{sent:,}", f"{noun(sent, 'box', 'boxes')} in time, {late:,} late, {stuck:,} not sent"
    yield "Cost", money(plan.cost.total, planned), f"{club.currency} the month"
    yield "Balance", f"{lines:,}", f"{noun(lines, 'line')}, all in balance"


def cost_rows(planned: Planned) -> Iterator[tuple[str, str, str, str]]:
    """Yield one row for each tier: name, kits, cost and margin of one kit."""
    yield f"One kit, {planned.club.currency}", "Kits", "Cost", "Margin"
    for column in planned.plan.cost.columns:
        if column.each is not None and column.margin is not None:
            yield (
                one_line(column.name),
                f"{column.boxes:,}",
                money(column.each, planned),
                money(column.margin, planned),
            )


def width(planned: Planned) -> int:
    """Return how wide the names of the cost rows are."""
    return max(len(row[0]) for row in cost_rows(planned))


def left_out(planned: Planned) -> Iterator[str]:
    """Yield the goods that are short, so that nobody takes the cost for the whole."""
    for one in planned.plan.cost.short:
        yield f"  - {one.name}: {one.left_out}"


def needs(planned: Planned) -> list[str]:
    """Return what waits for somebody."""
    plan = planned.plan
    return [
        *buying_needs(plan),
        *(
            f"Ticket {number}, {one.name}: {one.narrow_words}"
            for number, one in enumerate(plan.cutting.tickets, 1)
            if one.narrow_words
        ),
        *plan.contents.needs,
        *plan.packing.faults,
        *plan.packing.just_over,
        *(
            f"{one.boxes:,} x {one.box_class.name}: late, arrives {one.arrives:%-d %b %Y}"
            for one in plan.shipping.late
        ),
        *(f"{one.boxes:,} x {one.box_class.name}: not sent, {one.words}" for one in plan.shipping.unsendable),
        *planned.gaps,
    ]


def buying_needs(plan: MonthPlan) -> Iterator[str]:
    """Yield what is short, what comes late, and which prices are odd."""
    held = {one.material: one.held for one in plan.cost.short}
    for one in plan.buying.short:
        yield f"{one.need.name}: {one.short:,} short, {one.reason}; {held[one.need.material]}"
    for one in plan.buying.lines:
        if one.late:
            yield (
                f"{one.need.name}: should have been ordered by {one.order_by:%-d %b %Y}, "
                f"now arrives {one.arrives:%-d %b %Y}"
            )
        if one.waits:
            yield f"{one.need.name}: {one.waits}"
    yield from (f"{rise.material}: {rise.words}" for rise in plan.buying.rises)


def deadlines(planned: Planned) -> Sequence[tuple[str, str]]:
    """Return the days on which something must have happened, in their order."""
    plan = planned.plan
    days = [
        (order.order_by, f"order from {order.supplier.name}{', late' if order.late else ''}")
        for order in plan.buying.orders
    ]
    if plan.waves:
        days.append((min(wave.day for wave in plan.waves), "first wave is packed"))
        days.append((max(wave.collected for wave in plan.waves), "last collection"))
    days.append((planned.promised, "end of the promised week: every box has arrived"))
    return [(f"{day:%a %-d %b %Y}".ljust(16), what) for day, what in sorted(days)]


def money(amount: Decimal, planned: Planned) -> str:
    """Return an amount in the club's money."""
    return format_amount(amount, Currency(planned.club.currency).exponent)
