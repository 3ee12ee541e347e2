"""The plan as a table for a terminal: plain text, made from the plan alone."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from math import ceil

from kits.measures import Currency, format_amount
from planning.run import Planned

STEP, FIGURE = 14, 14  # columns


def summary(planned: Planned) -> str:
    """Return what a person wants to know of a plan at a glance: the steps, what is late or short, the deadlines."""
    club, stamp = planned.club, planned.stamp
    parts = [
        [f"{club.kit_name}, {club.month.title}, {club.name}", stamp.text],
        [line(step, figure, words) for step, figure, words in steps(planned)],
        [f"{row[0]:<{width(planned)}}  {row[1]:>9}  {row[2]:>9}  {row[3]:>9}" for row in cost_rows(planned)],
        ["Needs you:", *(f"  - {need}" for need in needs(planned))]
        if needs(planned)
        else ["Nothing is late or short."],
        ["Deadlines:", *(f"  {day}  {what}" for day, what in deadlines(planned))],
    ]
    return "\n\n".join("\n".join(part) for part in parts) + "\n"


def line(step: str, figure: str, words: str) -> str:
    """Return one step as a line."""
    return f"{step:<{STEP}}{figure:>{FIGURE}}  {words}"


def steps(planned: Planned) -> Iterator[tuple[str, str, str]]:
    """Yield each step with its key figure and a few words."""
    plan, club = planned.plan, planned.club
    out = sum(one.heads for one in plan.roster.left_out)
    cut = sum(one.made for one in plan.cutting.tickets) + sum(one.made for one in plan.cutting.lengths)
    late = sum(load.boxes for load in plan.shipping.late)
    stuck = sum(one.boxes for one in plan.shipping.unsendable)
    heaviest = max((spec.heaviest for spec in plan.packing.boxes), default=0)
    lines = len(plan.balance.materials) + len(plan.balance.areas) + len(plan.balance.pieces)
    yield "Roster", f"{plan.roster.boxes:,}", f"boxes for {plan.roster.heads:,} people, {out:,} get none"
    yield "Requirements", f"{len(plan.requirements.lines):,}", "items, from boxes down to sheets"
    yield (
        "Cutting",
        f"{plan.cutting.sheets:,}",
        f"sheets, into {cut:,} pieces and lengths; {plan.cutting.ended}",
    )
    yield (
        "Buying",
        money(plan.buying.total, planned),
        f"{club.currency} in {len(plan.buying.orders):,} orders",
    )
    yield "Packing", f"{len(plan.waves):,}", f"waves; the heaviest box weighs at most {ceil(heaviest):,} g"
    yield "Shipping", f"{plan.shipping.boxes - late:,}", f"boxes in time, {late:,} late, {stuck:,} not sent"
    yield "Cost", money(plan.cost.total, planned), f"{club.currency} the month"
    yield "Balance", f"{lines:,}", "lines, all in balance"


def cost_rows(planned: Planned) -> Iterator[tuple[str, str, str, str]]:
    """Yield one row for each tier: name, kits, cost and margin of one kit."""
    yield f"One kit, {planned.club.currency}", "Kits", "Cost", "Margin"
    for column in planned.plan.cost.columns:
        if column.each is not None and column.margin is not None:
            yield column.name, f"{column.boxes:,}", money(column.each, planned), money(column.margin, planned)


def width(planned: Planned) -> int:
    """Return how wide the names of the cost rows are."""
    return max(len(row[0]) for row in cost_rows(planned))


def needs(planned: Planned) -> list[str]:
    """Return what waits for somebody."""
    plan = planned.plan
    return [
        *(f"{one.need.name}: {one.short:,} short, {one.reason}" for one in plan.buying.short),
        *(
            f"{one.need.name}: should have been ordered by {one.order_by:%-d %b %Y}, now arrives {one.arrives:%-d %b %Y}"
            for one in plan.buying.late
        ),
        *plan.packing.faults,
        *(
            f"{one.boxes:,} x {one.box_class.name}: late, arrives {one.arrives:%-d %b %Y}"
            for one in plan.shipping.late
        ),
        *(f"{one.boxes:,} x {one.box_class.name}: not sent, {one.why}" for one in plan.shipping.unsendable),
        *planned.gaps,
    ]


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
    days.append((planned.promised, "promised: every box has arrived"))
    return [(f"{day:%a %-d %b %Y}".ljust(16), what) for day, what in sorted(days)]


def money(amount: Decimal, planned: Planned) -> str:
    """Return an amount in the club's money."""
    return format_amount(amount, Currency(planned.club.currency).exponent)
