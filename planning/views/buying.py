"""The buying step: what to order, from whom, by when."""

from collections.abc import Collection
from datetime import date
from decimal import Decimal

from django.http import HttpRequest, HttpResponse

from kits.drawing import svg
from planning.buying import BuyLine, SupplierOrder
from planning.run import Planned
from planning.views import words
from planning.views.bought import larger_section, line_tables
from planning.views.drawings import Span, timeline
from planning.views.parts import Drawing, Figure, Line, Page, Section, Strip, Table, number, text, when
from planning.views.steps import step_page


def buying(request: HttpRequest, month: int) -> HttpResponse:
    """Show what to order."""
    return step_page(request, month, "buying", page)


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result, club = planned.plan.buying, planned.club
    saved = f"; price breaks save {words.money(result.saved, club)}" if result.saved else ""
    nothing = "Shelf and open orders cover the month."
    return Strip(
        figure=Figure(
            words.money(result.total, club),
            f"{club.currency} in {words.counted(len(result.orders), 'order')}{saved}",
        ),
        words=" ".join(f"{order.supplier.name} {words.money(order.total, club)}." for order in result.orders)
        or nothing,
        drawing=drawing(planned, small=True) if result.orders else "",
        deadline=deadline(planned),
        needs=tuple(needs(planned)),
    )


def deadline(planned: Planned) -> str:
    """Return the next day on which something must be ordered that is not late yet."""
    days = [order_by(line) for line in planned.plan.buying.lines if line.offer and not line.late]
    return f"Next order by {words.weekday(min(days))}" if days else ""


def needs(planned: Planned) -> list[str]:
    """Return what waits for somebody: goods nobody sells, orders that are late, and odd prices."""
    result, held = planned.plan.buying, {one.material: one.held for one in planned.plan.cost.short}
    short = [
        f"{line.need.name}: {line.short:,} short, {line.reason}; {held[line.need.material]}."
        for line in result.short
    ]
    late = [
        f"{line.need.name}: to be ordered by {words.day(line.order_by)}, now arrives {words.day(line.arrives)}, "
        f"needed {words.day(line.need.need_by)}."
        for line in result.lines
        if line.late
    ]
    waits = [f"{line.need.name}: {line.waits}." for line in result.lines if line.waits]
    return short + late + waits + [f"{rise.material}: {rise.words}." for rise in result.rises]


def blocks(planned: Planned, materials: Collection[str] | None = None) -> str:
    """Say that a step which uses these materials (all, if None) waits for ones nobody sells; else nothing."""
    short = [
        line for line in planned.plan.buying.short if materials is None or line.need.material in materials
    ]
    names = ", ".join(line.need.name for line in short)
    return f"Blocked by buying: {names} {'is' if len(short) == 1 else 'are'} short." if short else ""


def order_by(line: BuyLine) -> date:
    """Return the day a line must be ordered by."""
    return line.order_by or date.max


def page(planned: Planned) -> Page:
    """Return the step's own page."""
    result, club = planned.plan.buying, planned.club
    totals = [words.money(order.total, club) for order in result.orders]
    return Page(
        figures=(
            Figure(
                words.money(result.total, club),
                f"{club.currency} for all orders",
                words.added(totals, words.money(result.total, club)),
            ),
            Figure(
                words.money(result.saved, club),
                f"{club.currency} saved against ordering just enough",
                words.added(savings(planned), words.money(result.saved, club)),
            ),
            *together_figure(planned),
            *worth_figure(planned),
            Figure(
                words.count(len(result.late)),
                words.noun(len(result.late), "material comes late", "materials come late"),
                ", ".join(line.need.name for line in result.late),
            ),
        ),
        ended=words.sentence(result.ended),
        sections=(
            Section("Orders", tables=(order_table(planned),), drawings=(Drawing(drawing(planned)),)),
            *unmet_section(planned),
            Section("What to order, and why as many", tables=line_tables(planned)),
            *larger_section(planned),
            Section("Not ordered", tables=(rest_table(planned),)),
            Section("On order, but late", tables=(waiting_table(planned),)),
        ),
    )


def together_figure(planned: Planned) -> tuple[Figure, ...]:
    """Return what deciding all materials together saves, where it does."""
    result, club = planned.plan.buying, planned.club
    saved = words.money(result.saved_together, club)
    if not result.saved_together:
        return ()
    apart = f"{words.money(result.apart, club)} if each were bought by itself"
    figure = f"{apart} − {words.money(result.counted, club)} = {saved}"
    return (Figure(saved, f"{club.currency} saved by deciding all materials together", figure),)


def worth_figure(planned: Planned) -> tuple[Figure, ...]:
    """Return what units bought beyond what lacks are worth, where the club says that they are worth anything."""
    result, club = planned.plan.buying, planned.club
    if not result.worth:
        return ()
    parts = [words.money(line.worth, club) for line in result.lines if line.worth]
    worth = words.money(result.worth, club)
    return (
        Figure(
            worth, f"{club.currency} worth of leftovers, weighed against orders", words.added(parts, worth)
        ),
    )


def savings(planned: Planned) -> list[str]:
    """Return what each line saves against its smallest order, then what freight and leftovers add or take."""
    result = planned.plan.buying
    saved = [line.plain - line.cost for line in result.lines if line.bought and line.a_year is None]
    rest = result.saved - sum(saved, Decimal(0))
    return [words.money(amount, planned.club) for amount in (*saved, rest) if amount]


def unmet_section(planned: Planned) -> tuple[Section, ...]:
    """Return which needs cannot be met by their day, where there are any."""
    unmet = planned.plan.buying.unmet
    if not unmet:
        return ()
    table = Table(
        "All other needs can be met; these cannot, whatever is paid",
        (text("Material"), when("Needed by"), number("Lacking then"), when("All could be in by")),
        [
            Line(
                (
                    one.name,
                    words.day(one.need_by),
                    words.count(one.lacking),
                    words.day(one.by) or "nobody offers as many",
                )
            )
            for one in unmet
        ],
    )
    return (Section("Cannot be met in time", tables=(table,)),)


def drawing(planned: Planned, *, small: bool = False) -> str:
    """Draw each order from the day it must be placed to the day its goods are needed."""
    spans = [span(order) for order in planned.plan.buying.orders]
    said = "; ".join(
        f"{one.name}: order by {words.day(one.first)}, needed {words.day(one.last)}" for one in spans
    )
    title = "From order-by date to need, by supplier"
    return svg(timeline(title, spans, planned.club.planned_on, said or "no orders", small=small), "buying")


def span(order: SupplierOrder) -> Span:
    """Return an order as a stretch of days."""
    needed = min(line.need.need_by for line in order.lines)
    return Span(order.supplier.name, order.order_by, max(needed, order.order_by), order.late)


def order_table(planned: Planned) -> Table:
    """Return one line for each supplier's order."""
    club, result = planned.club, planned.plan.buying
    return Table(
        "One order for each supplier",
        (
            text("Supplier"),
            when("Order by"),
            number("Lines"),
            number("Goods", club.currency),
            number("Set-up", club.currency),
            number("Freight", club.currency),
            number("Total", club.currency),
        ),
        [
            Line(
                (
                    order.supplier.name,
                    words.weekday(order.order_by),
                    f"{len(order.lines):,}",
                    words.money(order.goods, club),
                    words.money(order.setup, club),
                    words.money(order.freight, club),
                    words.money(order.total, club),
                ),
                needs="Late" if order.late else "",
            )
            for order in result.orders
        ],
        foot=("All", "", "", "", "", "", words.money(result.total, club)),
        empty="Nothing is ordered: shelf and open orders cover the month.",
    )


def rest_table(planned: Planned) -> Table:
    """Return the materials nothing is ordered of."""
    rest = [line for line in planned.plan.buying.lines if not line.net]
    return Table(
        "Covered, or not used",
        (text("Material"), number("Needed"), number("To hand"), number("Left over"), text("Why")),
        [
            Line(
                (
                    line.need.name,
                    words.count(line.need.total),
                    words.count(line.need.there + line.on_order),
                    words.count(line.left_over),
                    words.sentence(line.reason),
                ),
                needs="Late" if line.late_day else "",
            )
            for line in rest
        ],
        empty="Everything in the catalogue is ordered this month.",
    )


def waiting_table(planned: Planned) -> Table:
    """Return the open orders the month waits for, and what ordering again would bring."""
    return Table(
        "What is on order is not bought twice: to order again, take the open order out of the month file",
        (
            text("Material"),
            when("Needed by"),
            number("On order, late"),
            when("All in by"),
            text("What to know"),
        ),
        [
            Line(
                (
                    line.need.name,
                    words.day(line.need.need_by),
                    words.count(line.due_late),
                    words.day(line.late_day),
                    words.sentence(line.waits),
                ),
                needs="Late",
            )
            for line in planned.plan.buying.lines
            if line.due_late
        ],
        empty="Every open order that is needed comes in time.",
    )
