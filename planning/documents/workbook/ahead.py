"""The sheets that look ahead: boxes of coming months with their chart, and the month's cost and profit as distributions."""

from dataclasses import dataclass
from typing import Any

from planning.calendar import YearMonth
from planning.chances import ChancesResult, OrderPoint, Spread, Swing
from planning.documents.workbook.table import Chart, Column, Look, Table
from planning.documents.workbook.words import sentence
from planning.flow import MonthPlan
from planning.forecast import Method, MonthAhead
from planning.forecast.model import month_of, serial
from planning.month import Month

MONTHS, METHODS, CHANCES, SWINGS, ORDERS = (
    "Months ahead",
    "Forecast methods",
    "Chances",
    "What matters most",
    "More or fewer",
)


def ahead_tables(month: Month, plan: MonthPlan) -> tuple[Table[Any], ...]:
    """Return the sheets that look ahead; none where there is nothing to say."""
    forecast = (months_table(plan), methods_table(plan)) if plan.forecast else ()
    found = plan.chances
    chances = (
        (chances_table(month, found), swings_table(month, found), orders_table(month, found)) if found else ()
    )
    return (*forecast, *chances)


@dataclass(frozen=True, slots=True)
class Counted:
    """A month: the boxes it sent, or what is forecast of it."""

    month: YearMonth
    boxes: int | None = None
    ahead: MonthAhead | None = None


def counted(plan: MonthPlan) -> tuple[Counted, ...]:
    """Return the past and the months ahead."""
    found = plan.forecast
    if found is None:
        return ()
    first = serial(found.months[0].month) - len(found.boxes)
    past = (Counted(month_of(first + at), boxes) for at, boxes in enumerate(found.boxes))
    return (*past, *(Counted(one.month, ahead=one) for one in found.months))


def months_table(plan: MonthPlan) -> Table[Counted]:
    """Return a row for every month of the past and each of those ahead."""
    found = plan.forecast
    said = f"{sentence(found.why)} {' '.join(map(sentence, found.notes))}" if found else ""
    col = Column[Counted]

    def percent(at: int) -> Any:
        return lambda row: row.ahead.boxes(at) if row.ahead else None

    return Table(
        name=MONTHS,
        says=f"Boxes sent, and how many the months ahead may send. {said}".strip(),
        empty="Nothing is told of the past.",
        rows=counted(plan),
        columns=(
            col("month", "Month", lambda row: row.month.title, width=16),
            col("boxes", "Sent (boxes)", lambda row: row.boxes, Look.COUNT),
            col("low", "10 %", percent(10), Look.COUNT, note="Not passed with a chance of 10 %."),
            col("middle", "50 %", percent(50), Look.COUNT),
            col("high", "90 %", percent(90), Look.COUNT),
            col("mean", "Mean", lambda row: row.ahead.mean if row.ahead else None, Look.TENTHS),
            col("joins", "Join", lambda row: row.ahead.joins if row.ahead else None, Look.TENTHS),
            col("leaves", "Leave", lambda row: row.ahead.leaves if row.ahead else None, Look.TENTHS),
            col(
                "announced",
                "Announced",
                lambda row: row.ahead.announced if row.ahead else None,
                Look.COUNT,
                width=11,
            ),
            col(
                "by_hand",
                "Set by hand",
                lambda row: row.ahead.override.why if row.ahead and row.ahead.override else "",
                width=44,
            ),
        ),
        chart=Chart("Boxes month by month", "month", ("boxes", "low", "middle", "high"), is_line=True),
    )


def methods_table(plan: MonthPlan) -> Table[Method]:
    """Return a row for every way to forecast, with how it did."""
    found = plan.forecast
    col = Column[Method]
    return Table(
        name=METHODS,
        says="Every method tried on the last year's months, told only what was known before each; naive says as many as "
        "last month.",
        empty="No method was tried.",
        rows=found.methods if found else (),
        columns=(
            col("name", "Method", lambda row: row.name, width=52),
            col(
                "followed",
                "Followed",
                lambda row: "yes" if found and row.key == found.method else "",
                width=10,
            ),
            col("tries", "Tries", lambda row: row.tries, Look.COUNT),
            col("error", "Off on average (boxes)", lambda row: row.error, Look.HUNDREDTHS, width=14),
            col("share", "Of naive (%)", lambda row: row.share, Look.HUNDREDTHS, width=11),
            col("held", "Within 10 to 90 % (%)", lambda row: row.held, Look.HUNDREDTHS, width=14),
        ),
    )


def chances_table(month: Month, found: ChancesResult) -> Table[tuple[str, Spread]]:
    """Return cost of one kit and profit of the month."""
    money = month.club.currency
    col = Column[tuple[str, Spread]]
    each = [("Cost of one kit", found.cost_each)] if found.cost_each else []
    return Table(
        name=CHANCES,
        says=f"Not passed with this chance, in {money}. Chance of a loss: {found.loss:.2f} %. {sentence(found.ended)}",
        empty="No box is sent.",
        rows=(*each, ("Profit of the month", found.profit)),
        columns=(
            col("what", "Figure", lambda row: row[0], width=24),
            col("low", f"10 % ({money})", lambda row: row[1].low, Look.MONEY, width=13),
            col("middle", f"50 % ({money})", lambda row: row[1].middle, Look.MONEY, width=13),
            col("high", f"90 % ({money})", lambda row: row[1].high, Look.MONEY, width=13),
            col("mean", f"Mean ({money})", lambda row: row[1].mean, Look.MONEY, width=13),
        ),
    )


def swings_table(month: Month, found: ChancesResult) -> Table[Swing]:
    """Return a row for each uncertainty, the one that matters most at the top."""
    money = month.club.currency
    col = Column[Swing]
    return Table(
        name=SWINGS,
        says="The month's mean profit with one thing at its 10 % and at its 90 %, everything else as drawn.",
        empty="Nothing is uncertain.",
        rows=found.swings,
        columns=(
            col("source", "Uncertain", lambda row: sentence(row.source).rstrip("."), width=40),
            col("low", f"At its 10 % ({money})", lambda row: row.at_low, Look.MONEY, width=14),
            col("high", f"At its 90 % ({money})", lambda row: row.at_high, Look.MONEY, width=14),
            col(
                "swing", f"Swing ({money})", lambda row: row.span, Look.MONEY, "=ABS({high}-{low})", width=12
            ),
        ),
        chart=Chart("How far each uncertainty swings the profit", "source", ("swing",)),
    )


Tried = tuple[str, OrderPoint, str]


def orders_table(month: Month, found: ChancesResult) -> Table[Tried]:
    """Return a row for every number of kits tried, tier by tier."""
    money = month.club.currency
    col = Column[Tried]
    rows = (
        (
            tier.name,
            point,
            ", ".join(["most"] * (point == one.best) + ["planned"] * (point.kits == tier.kits)),
        )
        for one, tier in zip(found.orders, found.question.tiers, strict=True)
        for point in one.points
    )
    choice = "; ".join(
        f"{one.code} {one.newsvendor:,.1f} boxes at {100 * one.ratio:.1f} %" for one in found.orders
    )
    return Table(
        name=ORDERS,
        says=f"What making more or fewer kits of a tier would bring. The newsvendor's choice: {choice}.",
        empty="No tier sends kits.",
        rows=tuple(rows),
        columns=(
            col("tier", "Tier", lambda row: row[0], width=30),
            col("kits", "Kits", lambda row: row[1].kits, Look.COUNT),
            col("mean", f"Mean profit ({money})", lambda row: row[1].profit.mean, Look.MONEY, width=14),
            col("low", f"10 % ({money})", lambda row: row[1].profit.low, Look.MONEY, width=13),
            col("high", f"90 % ({money})", lambda row: row[1].profit.high, Look.MONEY, width=13),
            col("loss", "Chance of a loss (%)", lambda row: row[1].loss, Look.HUNDREDTHS, width=11),
            col("short", "Short (boxes)", lambda row: row[1].short, Look.TENTHS),
            col("left", "Left over (kits)", lambda row: row[1].left, Look.TENTHS),
            col("mark", "Which", lambda row: row[2], width=14),
        ),
    )
