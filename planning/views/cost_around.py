"""What stands around a month's cost: the budget and the month before, the days money goes out, the lots of its goods."""

from collections import defaultdict
from datetime import date
from decimal import Decimal

from kits.drawing import svg
from kits.measures import Currency
from kits.models import Month
from planning import load
from planning.models import Plan
from planning.money import Side, plan_side, variances
from planning.run import Planned
from planning.views import words
from planning.views.drawings import Bar, upright_bars
from planning.views.parts import Drawing, Line, Section, Table, number, text, when


def earlier(row: Month) -> Plan | None:
    """Return the latest plan of the club's month before this one that has one this program can read."""
    plans = Plan.objects.filter(month__code=row.code, month__month__lt=row.month)
    latest = plans.order_by("-month__month", "-version").first()
    try:
        if latest is not None:
            load.planned(latest)
    except load.EarlierPlanError:
        return None
    return latest


def against(planned: Planned, name: str, side: Side) -> Section:
    """Return how the month differs from another, and what the difference is made of."""
    club = planned.club
    found = tuple(variances(plan_side(planned.plan.cost), side, Currency(club.currency).exponent))
    total = [
        sum((getattr(one, field) for one in found), Decimal(0))
        for field in ("now", "then", "difference", "quantity", "mix", "price")
    ]
    table = Table(
        "Quantity: more kits; mix: other tiers; price: kits that cost more. The three sum to the difference",
        (
            text("Heading"),
            number("Now", club.currency),
            number(name[0].upper() + name[1:], club.currency),
            number("Difference", club.currency),
            number("Quantity", club.currency),
            number("Mix", club.currency),
            number("Price", club.currency),
        ),
        [
            Line(
                (
                    str(one.heading),
                    *(
                        words.money(amount, club)
                        for amount in (one.now, one.then, one.difference, one.quantity, one.mix, one.price)
                    ),
                )
            )
            for one in found
        ],
        foot=("All", *(words.money(amount, club) for amount in total)),
    )
    return Section(f"Against {name}", tables=(table,))


def payments(planned: Planned) -> dict[date, Decimal]:
    """Return what is paid on which day: orders on their order-by day, postage on the day of collection."""
    paid: defaultdict[date, Decimal] = defaultdict(Decimal)
    for order in planned.plan.buying.orders:
        paid[order.order_by] += order.goods + order.setup + order.freight
    for load_ in planned.plan.shipping.loads:
        paid[load_.collected] += load_.postage
    return dict(sorted(paid.items()))


def cash_table(planned: Planned) -> Table:
    """Return the payments with their running sum."""
    club, sum_so_far, lines = planned.club, Decimal(0), []
    for day, amount in payments(planned).items():
        sum_so_far += amount
        lines.append(Line((words.weekday(day), words.money(amount, club), words.money(sum_so_far, club))))
    return Table(
        "Orders on the day they must be sent, postage on the day of collection; wages and monthly costs are not in it",
        (when("Day"), number("Out", club.currency), number("So far", club.currency)),
        lines,
        empty="Nothing is ordered and nothing sent.",
    )


def cash_drawing(planned: Planned) -> Drawing:
    """Draw the payments day by day."""
    paid = payments(planned)
    bars = [Bar(f"{day:%-d %b}", float(amount)) for day, amount in paid.items()]
    said = "; ".join(f"{day:%-d %b}: {amount:,.2f}" for day, amount in paid.items())
    caption = f"Money out by day, in {planned.club.currency}"
    return Drawing(svg(upright_bars(caption, bars, said or "nothing"), "cash"), f"{caption}.")


def lot_table(planned: Planned) -> Table:
    """Return every lot of every material."""
    club = planned.club
    return Table(
        "Price, set-up and the share of the freight; units of one material are then used at one cost",
        (
            text("Material"),
            text("Lot"),
            number("Units"),
            number("Goods", club.currency),
            number("Set-up", club.currency),
            number("Freight", club.currency),
            number("On the shelf each", club.currency),
        ),
        [
            Line(
                (
                    one.name,
                    words.sentence(one.lot),
                    words.count(one.units),
                    words.money(one.goods, club),
                    words.money(one.setup, club),
                    words.money(one.freight, club),
                    "–" if one.each is None else words.price(one.each, club),
                )
            )
            for one in planned.plan.cost.lots
        ],
        empty="No goods are there and none are bought.",
    )
