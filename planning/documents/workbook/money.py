"""The sheets around the cost: lots, the shelf, other costs, the budget, the days money goes out, the curve."""

from collections import defaultdict
from datetime import date
from decimal import Decimal
from typing import Any

from kits.measures import Currency
from planning.cost import KeptGoods, LandedLot
from planning.cost.rows import Charge
from planning.curve import CurvePoint, CurveResult
from planning.documents.workbook.table import Chart, Column, Look, Table
from planning.flow import MonthPlan
from planning.money import Variance, budget_side, plan_side, variances
from planning.month import Month

LOTS, SHELF, CHARGES, BUDGET, CASH, CURVE = (
    "Lots",
    "Shelf",
    "Other costs",
    "Against the budget",
    "Cash out",
    "Cost by count",
)
Payment = tuple[date, str, Decimal]


def lots_table(month: Month, plan: MonthPlan) -> Table[LandedLot]:
    """Return a row for every lot of every material."""
    money, col = month.club.currency, Column[LandedLot]
    return Table(
        name=LOTS,
        says=f"What each lot of each material cost on the shelf, in {money}: price, set-up and its share of the freight.",
        empty="No goods are there and none are bought.",
        rows=plan.cost.lots,
        columns=(
            col("material", "Material", lambda one: one.name, width=34),
            col("lot", "Lot", lambda one: one.lot, width=34),
            col("units", "Units", lambda one: one.units, Look.COUNT, width=10),
            col("goods", f"Goods ({money})", lambda one: one.goods, Look.MONEY, width=12, total=True),
            col("setup", f"Set-up ({money})", lambda one: one.setup, Look.MONEY, width=12, total=True),
            col("freight", f"Freight ({money})", lambda one: one.freight, Look.MONEY, width=12, total=True),
            col(
                "landed",
                f"On the shelf ({money})",
                lambda one: one.landed,
                Look.MONEY,
                "={goods}+{setup}+{freight}",
                width=13,
                total=True,
            ),
            col(
                "each",
                f"One ({money})",
                lambda one: one.each,
                Look.PRICE,
                lambda one: "=ROUND({landed}/{units},4)" if one.units else "",
                width=10,
            ),
        ),
    )


def shelf_table(month: Month, plan: MonthPlan) -> Table[KeptGoods]:
    """Return a row for every material and every piece from the shelf: what it cost in all and what of it is kept."""
    money, col = month.club.currency, Column[KeptGoods]
    return Table(
        name=SHELF,
        says=f"What the goods of the month cost before freight, in {money}, and what of them is kept for later months.",
        empty="No goods are there and none are bought.",
        rows=plan.cost.kept,
        columns=(
            col("what", "Goods", lambda one: one.name, width=36),
            col("units", "Units", lambda one: one.units, Look.COUNT, width=10),
            col("cost", f"Cost of all ({money})", lambda one: one.cost, Look.MONEY, width=14, total=True),
            col(
                "passed",
                f"From larger sheets ({money})",
                lambda one: one.passed,
                Look.MONEY,
                width=14,
                total=True,
            ),
            col("left", "Kept (units)", lambda one: one.left, Look.COUNT, width=10),
            col("value", f"Kept ({money})", lambda one: one.value, Look.MONEY, width=14, total=True),
            col(
                "used",
                f"Used ({money})",
                lambda one: one.used,
                Look.MONEY,
                "={cost}+{passed}-{value}",
                width=14,
                total=True,
            ),
        ),
    )


def charges_table(month: Month) -> Table[Charge]:
    """Return the month's other costs as they are told."""
    money, col = month.club.currency, Column[Charge]
    names = {one.code: one.name for one in month.tiers}
    return Table(
        name=CHARGES,
        says="What a month costs besides goods, work and postage; the Entries sheet has what each comes to.",
        empty="No other costs: write them on the sheet Other costs of the month file.",
        rows=month.charges,
        columns=(
            col("kind", "Kind", lambda one: one.kind.value, width=20),
            col("name", "Name", lambda one: one.name, width=36),
            col(
                "tiers", "Tiers", lambda one: ", ".join(names[code] for code in one.tiers) or "all", width=20
            ),
            col("percent", "Rate (%)", lambda one: one.percent, Look.HUNDREDTHS, width=10),
            col("each", f"Each ({money})", lambda one: one.each, Look.PRICE, width=12),
            col("once", f"Once ({money})", lambda one: one.once, Look.MONEY, width=12),
        ),
    )


def budget_table(month: Month, plan: MonthPlan) -> Table[Variance]:
    """Return a row for every heading: this month, the budget, and what the difference is made of."""
    money, col = month.club.currency, Column[Variance]
    side = budget_side(month.aims, month.budget)
    found = variances(plan_side(plan.cost), side, Currency(money).exponent) if month.budget else ()
    return Table(
        name=BUDGET,
        says="Quantity: more kits; mix: other tiers; price: kits that cost more. The three sum to the difference.",
        empty="No budget: write it on the sheet Budget of the month file.",
        rows=tuple(found),
        columns=(
            col("heading", "Heading", lambda one: one.heading, width=22),
            col("now", f"Now ({money})", lambda one: one.now, Look.MONEY, width=13, total=True),
            col("then", f"Budget ({money})", lambda one: one.then, Look.MONEY, width=13, total=True),
            col(
                "difference",
                f"Difference ({money})",
                lambda one: one.difference,
                Look.MONEY,
                "={now}-{then}",
                width=13,
                total=True,
            ),
            col(
                "quantity", f"Quantity ({money})", lambda one: one.quantity, Look.MONEY, width=13, total=True
            ),
            col("mix", f"Mix ({money})", lambda one: one.mix, Look.MONEY, width=13, total=True),
            col(
                "price",
                f"Price ({money})",
                lambda one: one.price,
                Look.MONEY,
                "={difference}-{quantity}-{mix}",
                width=13,
                total=True,
            ),
        ),
        chart=Chart("Now and the budget, by heading", "heading", ("now", "then")),
    )


def payments(plan: MonthPlan) -> tuple[Payment, ...]:
    """Return what is paid on which day and for what: orders on their order-by day, postage on the day of collection."""
    paid: defaultdict[tuple[date, str], Decimal] = defaultdict(Decimal)
    for order in plan.buying.orders:
        paid[order.order_by, f"order to {order.supplier.name}"] += order.goods + order.setup + order.freight
    for load in plan.shipping.loads:
        paid[load.collected, f"postage, {load.service.name}"] += load.postage
    return tuple((day, what, amount) for (day, what), amount in sorted(paid.items()))


def cash_table(month: Month, plan: MonthPlan) -> Table[Payment]:
    """Return a row for every payment, by day."""
    money, col = month.club.currency, Column[Payment]
    return Table(
        name=CASH,
        says="Orders on the day they must be sent, postage on the day of collection; wages and monthly costs are not in it.",
        empty="Nothing is ordered and nothing sent.",
        rows=payments(plan),
        columns=(
            col("day", "Day", lambda one: one[0], Look.WEEKDAY, width=16),
            col("what", "For", lambda one: one[1], width=44),
            col("amount", f"Out ({money})", lambda one: one[2], Look.MONEY, width=13, total=True),
        ),
        chart=Chart("Cash out", "day", ("amount",)),
    )


def curve_table(month: Month, curve: CurveResult) -> Table[CurvePoint]:
    """Return a row for every count that was looked at."""
    money, cents, col = month.club.currency, Currency(month.club.currency).exponent, Column[CurvePoint]
    return Table(
        name=CURVE,
        says="The month planned anew at other counts; sheets are cut by this plan's patterns, and no search is made again. "
        + jump_words(curve),
        empty="No count was looked at.",
        rows=curve.points,
        columns=(
            col("boxes", "Boxes", lambda one: one.boxes, Look.COUNT, width=10),
            col("total", f"The month ({money})", lambda one: one.total, Look.MONEY, width=14),
            col(
                "each",
                f"One box ({money})",
                lambda one: one.each,
                Look.MONEY,
                f"=ROUND({{total}}/{{boxes}},{cents})",
                width=12,
            ),
            col("income", f"Price of all ({money})", lambda one: one.income, Look.MONEY, width=14),
            col(
                "profit", f"Left ({money})", lambda one: one.profit, Look.MONEY, "={income}-{total}", width=14
            ),
            col("late", "Late (boxes)", lambda one: one.late, Look.COUNT, width=10),
        ),
        chart=Chart("Cost of one box by count", "boxes", ("each",), is_line=True),
    )


def jump_words(curve: CurveResult) -> str:
    """Say where the curve breaks even."""
    if curve.break_even is None:
        return "No count here breaks even."
    return f"From {curve.break_even:,} boxes on no count that was looked at loses money."


def money_tables(month: Month, plan: MonthPlan, curve: CurveResult | None) -> tuple[Table[Any], ...]:
    """Return the sheets that follow the cost."""
    return (
        lots_table(month, plan),
        shelf_table(month, plan),
        charges_table(month),
        budget_table(month, plan),
        cash_table(month, plan),
        *([curve_table(month, curve)] if curve and curve.points else []),
    )
