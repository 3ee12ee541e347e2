"""A month's cost per kit and profit as distributions, what moves them, and what ordering more or fewer would do."""

from collections.abc import Iterator
from decimal import Decimal

from django.http import HttpRequest, HttpResponse

from kits.drawing import Style, svg
from planning.chances import ChancesResult, OrderPoint, Per, Scenario, Spread, TierChance, TierOrders
from planning.month import Club
from planning.run import Planned
from planning.views import gate, words
from planning.views.curves import Axis, Spot, curve
from planning.views.fans import Swung, tornado
from planning.views.parts import Drawing, Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

TICKS = 4


def chances(request: HttpRequest, month: int) -> HttpResponse:
    """Show the month's chances."""
    more = {"may_set": gate.may_change(request, "uncertain")}
    return step_page(request, month, "cost", page, "chances", more)


def page(planned: Planned) -> Page:
    """Return the page; where nothing is uncertain, what would have to be."""
    found, club = planned.plan.chances, planned.club
    if found is None:
        said = (
            "Nothing is uncertain: no tier's count, no rate and no price. Add rows to Not certain yet or Count outlook, or "
            "fill in Past months."
        )
        empty = Table("", (text("Figure"),), [], empty=said)
        return Page(figures=(), sections=(Section("Chances", tables=(empty,)),))
    return Page(
        figures=tuple(figures(found, club)),
        ended=words.sentence(
            f"{found.ended}; the mean profit is within {words.money(found.within, club)} {club.currency} of what ever more "
            "months would come to"
        ),
        sections=(
            Section("Cost per kit and the month's profit", tables=(spread_table(found, club),)),
            Section(
                "What matters most",
                tables=(swing_table(found, club),),
                drawings=(Drawing(swing_drawing(found, club), SWINGS),),
            ),
            *(
                order_section(one, tier, club)
                for one, tier in zip(found.orders, found.question.tiers, strict=True)
            ),
            Section(
                "Three of the months drawn, added up", tables=(scenario_table(found, club),), folded=True
            ),
            Section("What was taken to be uncertain", tables=(range_table(found, club),), folded=True),
        ),
    )


SWINGS = (
    "The month's mean profit with one thing at its 10 % (dark) and at its 90 % (light), all else as drawn. The upright line "
    "is the mean of all."
)


def figures(found: ChancesResult, club: Club) -> Iterator[Figure]:
    """Yield the key figures."""
    if found.cost_each is not None:
        yield figure(found.cost_each, f"{club.currency} a kit", club)
    yield figure(found.profit, f"{club.currency} profit of the month", club)
    yield Figure(f"{found.loss:.1f} %", "chance of a loss")


def figure(one: Spread, unit: str, club: Club) -> Figure:
    """Return a spread as a figure: its middle, and its ends."""
    low, middle, high = (words.money(each, club) for each in (one.low, one.middle, one.high))
    return Figure(
        middle,
        f"{unit}, from {low} to {high}",
        f"Not more than {low} with 10 %, {middle} with 50 % and {high} with 90 %; {words.money(one.mean, club)} on average.",
    )


def spread_table(found: ChancesResult, club: Club) -> Table:
    """Return cost per kit and profit at 10, 50 and 90 %."""
    rows = [("Cost of one kit", found.cost_each), ("Profit of the month", found.profit)]
    return Table(
        "Not passed with this chance",
        (text("Figure"), *(number(name, club.currency) for name in ("10 %", "50 %", "90 %", "Mean"))),
        [Line((name, *spread_cells(one, club))) for name, one in rows],
    )


def spread_cells(one: Spread | None, club: Club) -> tuple[str, ...]:
    """Return a spread's figures; none where no month sends a box."""
    if one is None:
        return ("–",) * 4
    return tuple(words.money(each, club) for each in (one.low, one.middle, one.high, one.mean))


# --- What matters most ---


def swing_drawing(found: ChancesResult, club: Club) -> str:
    """Draw how far each uncertainty swings the profit."""
    rows = [
        Swung(
            words.sentence(one.source).rstrip("."),
            float(one.at_low),
            float(one.at_high),
            (words.money(one.at_low, club), words.money(one.at_high, club)),
        )
        for one in found.swings
    ]
    said = "; ".join(f"{one.name}: {one.words[0]} to {one.words[1]}" for one in rows)
    return svg(tornado("Profit by one uncertainty at a time", rows, float(found.profit.mean), said), "swings")


def swing_table(found: ChancesResult, club: Club) -> Table:
    """Return the same as a table."""
    return Table(
        "Mean profit, one thing at a time",
        (
            text("Uncertain"),
            number("At its 10 %", club.currency),
            number("At its 90 %", club.currency),
            number("Swing", club.currency),
        ),
        [
            Line(
                (
                    words.sentence(one.source).rstrip("."),
                    *(words.money(each, club) for each in (one.at_low, one.at_high, one.span)),
                )
            )
            for one in found.swings
        ],
    )


# --- More or fewer ---


def order_section(one: TierOrders, tier: TierChance, club: Club) -> Section:
    """Return what making more or fewer kits of a tier would do."""
    return Section(
        f"More or fewer: {tier.name}",
        tables=(order_table(one, tier, club),),
        drawings=(Drawing(order_drawing(one, tier, club), order_words(one, tier)),),
    )


def order_words(one: TierOrders, tier: TierChance) -> str:
    """Say what the newsvendor's choice is, and the best of those tried."""
    return (
        f"One kit more pays for itself up to a chance of {100 * one.ratio:.1f} % of being enough, which "
        f"{one.newsvendor:,.1f} boxes reach (the newsvendor's choice). Of those tried, with spoilage and damage, "
        f"{one.best.kits:,} bring most; {tier.kits:,} are planned, of which at most {one.spoiled:,} are spoiled with 95 %."
    )


def order_drawing(one: TierOrders, tier: TierChance, club: Club) -> str:
    """Draw the mean profit against kits made."""
    points = [(float(each.kits), float(each.profit.mean)) for each in one.points]
    kits, profits = zip(*points, strict=True)
    planned = next(each for each in one.points if each.kits == tier.kits)
    spots = [Spot(f"most: {one.best.kits:,}", float(one.best.kits), float(one.best.profit.mean), Style.NOTE)]
    if planned.kits != one.best.kits:
        spots.append(
            Spot(
                f"planned: {planned.kits:,}",
                float(planned.kits),
                float(planned.profit.mean),
                Style.CORNER,
                above=float(planned.profit.mean) < (min(profits) + max(profits)) / 2,
            )
        )
    x = axis_of(min(kits), max(kits), 0)
    y = axis_of(min(profits), max(profits), 0)
    said = "; ".join(f"{each.kits:,}: {words.money(each.profit.mean, club)}" for each in one.points)
    return svg(curve(f"Mean profit by kits of {tier.name}", points, spots, x, y, said), f"orders-{one.code}")


def axis_of(low: float, high: float, places: int) -> Axis:
    """Return an axis between two values, with room where they are the same."""
    high = high if high > low else low + 1
    marks = [low + (high - low) * at / (TICKS - 1) for at in range(TICKS)]
    return Axis(low, high, [f"{mark:,.{places}f}" for mark in marks])


def order_table(one: TierOrders, tier: TierChance, club: Club) -> Table:
    """Return a line for some of the quantities tried, those that are named among them."""
    named = {one.best.kits, tier.kits}
    shown = [each for at, each in enumerate(one.points) if at % 2 == 0 or each.kits in named]
    return Table(
        f"Kits of {tier.name} to make",
        (
            number("Kits"),
            number("Mean profit", club.currency),
            number("10 %", club.currency),
            number("90 %", club.currency),
            number("Loss"),
            number("Short"),
            number("Left over"),
        ),
        [order_line(each, one, tier, club) for each in shown],
    )


def order_line(each: OrderPoint, one: TierOrders, tier: TierChance, club: Club) -> Line:
    """Return one quantity as a line."""
    marks = ["most"] * (each.kits == one.best.kits) + ["planned"] * (each.kits == tier.kits)
    return Line(
        (
            words.count(each.kits) + (f" ({', '.join(marks)})" if marks else ""),
            words.money(each.profit.mean, club),
            words.money(each.profit.low, club),
            words.money(each.profit.high, club),
            f"{each.loss:.1f} %",
            f"{each.short:,.1f}",
            f"{each.left:,.1f}",
        )
    )


# --- Behind the figures ---


def scenario_table(found: ChancesResult, club: Club) -> Table:
    """Return three drawn months, each with what became of its kits and what it came to."""
    return Table(
        "Months that so many percent of all do not surpass in profit",
        (
            text("Month drawn"),
            text("Kits"),
            number("Income", club.currency),
            number("Cost", club.currency),
            number("Profit", club.currency),
        ),
        [
            Line(
                (
                    f"{one.percent} %",
                    kit_words(one),
                    *(words.money(each, club) for each in (one.income, one.cost, one.profit)),
                )
            )
            for one in found.shown
        ],
    )


def kit_words(one: Scenario) -> str:
    """Say what became of the kits of a drawn month."""
    tiers = (
        f"{tier.code}: {tier.wanted:,} wanted, {tier.kits:,} made − {tier.spoiled:,} spoiled = {tier.sent:,} sent + "
        f"{tier.again:,} sent again of {tier.damaged:,} damaged + {tier.left:,} left"
        for tier in one.tiers
    )
    return f"{'; '.join(tiers)}; surcharge {one.surcharge.normalize():f} %"


def range_table(found: ChancesResult, club: Club) -> Table:
    """Return every rate, and every line of cost with its range."""
    asked = found.question
    rates = (
        ("Kits spoiled beyond the overs", asked.spoiled, "%"),
        ("Boxes damaged", asked.damaged, "%"),
        ("Carrier surcharge", asked.surcharge, "%"),
    )
    paid = {Per.KIT: "for each kit", Per.BOX: "for each box", Per.MONTH: "once"}
    lines = ((line.name, line.amount, f"{club.currency} {paid[line.per]}") for line in asked.lines)
    goods = (
        Line(
            (
                f"Goods of {tier.name}",
                plain(step.each),
                plain(step.each),
                plain(step.each),
                f"{club.currency} a kit",
            )
        )
        for tier in asked.tiers
        for step in (tier.goods_step(tier.kits),)
    )
    return Table(
        "From surely not less to surely not more",
        (text("What"), number("Low"), number("Likely"), number("High"), text("Of what")),
        [
            *(
                Line((name, plain(one.low), plain(one.likely), plain(one.high), unit))
                for name, one, unit in (*rates, *lines)
            ),
            *goods,
        ],
    )


def plain(amount: Decimal) -> str:
    """Return an amount or a rate as finely as it is known."""
    return f"{amount.normalize():,f}"
