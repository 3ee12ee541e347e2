"""The first sheet: the month in figures, step by step, each taken from the sheet that explains it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from kits.measures import format_amount
from planning.documents.exceptions import RosterException, What
from planning.documents.pdf.words import day
from planning.documents.stamp import Stamp
from planning.documents.workbook.books import AREA_BALANCE, BALANCE, PIECES_BALANCE
from planning.documents.workbook.buy import BUY, ORDERS
from planning.documents.workbook.cost import COST
from planning.documents.workbook.cut import CUT
from planning.documents.workbook.needs import NEEDS_YOU, ROSTER
from planning.documents.workbook.pack import PACK
from planning.documents.workbook.ship import SHIP, WAVES
from planning.documents.workbook.table import Column, Look, Table, Value
from planning.documents.workbook.words import sentence
from planning.flow import MonthPlan
from planning.month import Month
from planning.problems import promised_day

SUMMARY = "Summary"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure of the month. says: what there is to know about it; sheet: where it comes from."""

    step: str = ""
    what: str
    value: Value
    look: Look = Look.COUNT
    formula: str = ""
    unit: str = ""
    says: str = ""
    needs_you: bool = False
    sheet: str


def summary_table(
    month: Month, plan: MonthPlan, stamp: Stamp, needs: int, exceptions: Sequence[RosterException]
) -> Table[Figure]:
    """Return the month in figures; needs: how many rows the sheet of what needs somebody has."""
    club = month.club
    figures = (
        attention(needs),
        *roster(plan, sum(one.what is What.LEFT_OUT for one in exceptions)),
        *cutting(plan),
        *buying(plan, club.currency),
        *packing(plan),
        *shipping(month, plan),
        *cost(plan, club.currency),
        balance(),
    )
    col = Column[Figure]
    return Table(
        name=SUMMARY,
        says=f"{club.name}: {club.kit_name}, {club.month.title}. {stamp.text}.",
        empty="",
        frozen=2,
        rows=figures,
        columns=(
            col("step", "Step", lambda one: one.step, width=11),
            col("what", "What", lambda one: one.what, width=25),
            col(
                "value",
                "Figure",
                lambda one: one.value,
                lambda one: one.look,
                lambda one: one.formula,
                width=16,
                needs_you=lambda one: one.needs_you,
            ),
            col("unit", "Unit", lambda one: one.unit, width=11),
            col("says", "What to know", lambda one: one.says, width=58),
            col("sheet", "See sheet", lambda one: one.sheet, Look.LINK, width=19),
        ),
    )


def attention(needs: int) -> Figure:
    """Return how much needs somebody."""
    return Figure(
        step="To do",
        what="Things that need you",
        value=needs,
        formula="=COUNTA({Needs you.which})",
        says="Late, short, misfitting or unsendable." if needs else "Nothing is late or short.",
        needs_you=needs > 0,
        sheet=NEEDS_YOU,
    )


def roster(plan: MonthPlan, listed: int) -> Iterator[Figure]:
    """Yield who is on the roster and who gets boxes. listed: of those left out; a large month's sheet has not all."""
    out = plan.roster.left_out
    heads = sum(one.heads for one in out)
    counted = f'=COUNTIFS({{Roster exceptions.what}},"{What.LEFT_OUT}")'
    yield Figure(step="Roster", what="On the roster", value=plan.roster.heads, unit="people", sheet=ROSTER)
    yield Figure(
        what="Left out this month",
        value=heads,
        formula=counted if listed == heads else "",
        unit="people",
        says="; ".join(f"{one.heads:,} {one.reason}" for one in out),
        sheet=ROSTER,
    )
    yield Figure(
        what="Boxes this month",
        value=plan.roster.boxes,
        formula="={Pack.boxes.total}",
        unit="boxes",
        says=f"{len(plan.roster.classes):,} classes of equal contents and destination",
        sheet=PACK,
    )


def cutting(plan: MonthPlan) -> Iterator[Figure]:
    """Yield what the knife has to do."""
    yield Figure(
        step="Cutting",
        what="Sheets to cut",
        value=plan.cutting.sheets,
        formula="={Cut.sheets.total}",
        unit="sheets",
        says=sentence(plan.cutting.ended) if plan.cutting.tickets else "",
        sheet=CUT,
    )
    yield Figure(
        what="At the guillotine",
        value=plan.cutting.minutes,
        look=Look.TENTHS,
        formula="={Cut.minutes.total}",
        unit="minutes",
        sheet=CUT,
    )


def buying(plan: MonthPlan, money: str) -> Iterator[Figure]:
    """Yield what to order."""
    orders = plan.buying.orders
    yield Figure(
        step="Buying",
        what="Orders to place",
        value=len(orders),
        formula="=COUNT({Orders.order})",
        unit="orders",
        says=sentence(plan.buying.ended),
        sheet=ORDERS,
    )
    first = min((order.order_by for order in orders), default=None)
    if first is not None:
        yield Figure(
            what="First order by",
            value=first,
            look=Look.WEEKDAY,
            formula="=MIN({Orders.order_by})",
            says=", ".join(order.supplier.name for order in orders if order.order_by == first),
            needs_you=any(order.late for order in orders),
            sheet=ORDERS,
        )
    yield Figure(
        what="All orders",
        value=plan.buying.total,
        look=Look.MONEY,
        formula="={Orders.total.total}",
        unit=money,
        says=saved_words(plan, money),
        sheet=ORDERS,
    )
    yield Figure(
        what="Late materials",
        value=len(plan.buying.late),
        formula='=COUNTIFS({Buy.state},"*late")',
        unit="materials",
        says=", ".join(line.need.name for line in plan.buying.late),
        needs_you=bool(plan.buying.late),
        sheet=BUY,
    )
    yield Figure(
        what="Short materials",
        value=len(plan.buying.short),
        formula='=COUNTIFS({Buy.state},"short*")',
        unit="materials",
        says=", ".join(line.need.name for line in plan.buying.short),
        needs_you=bool(plan.buying.short),
        sheet=BUY,
    )


def saved_words(plan: MonthPlan, money: str) -> str:
    """Say what the price breaks save."""
    return (
        f"Price breaks save {plan.buying.saved:,} {money} against ordering just enough."
        if plan.buying.saved
        else ""
    )


def packing(plan: MonthPlan) -> Iterator[Figure]:
    """Yield the work at the bench."""
    yield Figure(
        step="Packing",
        what="Kinds of boxes",
        value=len(plan.packing.boxes),
        formula="=COUNT({Pack.kind})",
        unit="kinds",
        sheet=PACK,
    )
    bad = sum(spec.boxes for spec in plan.packing.boxes if spec.faults)
    yield Figure(
        what="Boxes that do not fit",
        value=bad,
        formula='=SUMIFS({Pack.boxes},{Pack.fits},"does not fit")',
        unit="boxes",
        needs_you=bad > 0,
        sheet=PACK,
    )
    yield Figure(
        what="At the bench",
        value=plan.packing.minutes,
        look=Look.TENTHS,
        formula="={Pack.minutes.total}",
        unit="minutes",
        sheet=PACK,
    )


def shipping(month: Month, plan: MonthPlan) -> Iterator[Figure]:
    """Yield how the boxes travel."""
    late, kept = sum(load.boxes for load in plan.shipping.late), plan.roster.boxes - plan.shipping.boxes
    yield Figure(
        step="Shipping",
        what="Promised week ends",
        value=promised_day(month),
        look=Look.WEEKDAY,
        says=f"Last carrier working day of week {month.club.promised}",
        sheet=SHIP,
    )
    yield Figure(
        what="Boxes sent",
        value=plan.shipping.boxes,
        formula="={Ship.boxes.total}",
        unit="boxes",
        says=sentence(plan.shipping.ended),
        sheet=SHIP,
    )
    yield Figure(
        what="Late boxes",
        value=late,
        formula='=SUMIFS({Ship.boxes},{Ship.state},"late")',
        unit="boxes",
        says=f"The last arrives {day(max(load.arrives for load in plan.shipping.late))}" if late else "",
        needs_you=late > 0,
        sheet=SHIP,
    )
    yield Figure(
        what="Boxes not sent",
        value=kept,
        formula="={Pack.boxes.total}-{Ship.boxes.total}",
        unit="boxes",
        says=" ".join(sorted({sentence(one.why) for one in plan.shipping.unsendable})),
        needs_you=kept > 0,
        sheet=ROSTER,
    )
    yield Figure(
        what="Waves", value=len(plan.waves), formula="=COUNT({Waves.wave})", unit="waves", sheet=WAVES
    )
    yield Figure(
        what="Postage",
        value=plan.shipping.postage,
        look=Look.MONEY,
        formula="={Ship.postage.total}",
        unit=month.club.currency,
        sheet=SHIP,
    )


def cost(plan: MonthPlan, money: str) -> Iterator[Figure]:
    """Yield what the month costs, and what is left of the price."""
    income = sum((column.price * column.boxes for column in plan.cost.columns), Decimal(0))
    shelf = plan.cost
    yield Figure(
        step="Cost",
        what="Cost of the month",
        value=shelf.total,
        look=Look.MONEY,
        formula="={Cost.total.total}",
        unit=money,
        says=f"Goods: {shelf.opening:,} on the shelf before + {shelf.bought:,} bought - {shelf.closing:,} kept for later",
        sheet=COST,
    )
    yield Figure(
        what="Short, so not in the cost",
        value=len(shelf.short),
        formula='=COUNTIFS({Buy.state},"short*")',
        unit="materials",
        says="; ".join(f"{one.name}: {one.left_out}; {one.held}" for one in shelf.short),
        needs_you=bool(shelf.short),
        sheet=COST,
    )
    yield Figure(
        what="Price of all kits",
        value=income,
        look=Look.MONEY,
        formula="={Cost.income.total}",
        unit=money,
        says="Kits x price of one, by tier; goods ordered once are not priced here",
        sheet=COST,
    )
    yield Figure(
        what="Price less cost",
        value=income - shelf.total,
        look=Look.MONEY,
        formula="={Cost.income.total}-{Cost.total.total}",
        unit=money,
        needs_you=income < shelf.total,
        sheet=COST,
    )
    for column in shelf.columns:
        if column.each is not None and column.margin is not None:
            price, margin = (format_amount(each, column.exponent) for each in (column.price, column.margin))
            yield Figure(
                what=f"Cost of one {column.code} kit",
                value=column.each,
                look=Look.MONEY,
                formula=f"={{Cost.each.{shelf.columns.index(column)}}}",
                unit=money,
                says=f"{column.name}; price {price}, margin {margin}",
                needs_you=column.margin < 0,
                sheet=COST,
            )


def balance() -> Figure:
    """Return whether everything is accounted for."""
    sheets = (BALANCE, PIECES_BALANCE, AREA_BALANCE)
    fails = "+".join(f"COUNTIFS({{{sheet}.balances}},FALSE)" for sheet in sheets)
    return Figure(
        step="Balance",
        what="Everything balances",
        value=True,
        look=Look.CHECK,
        formula=f"={fails}=0",
        says="Every material, piece and area: what comes in is what goes out",
        sheet=BALANCE,
    )
