"""The sheets of what is not as it should be: what needs somebody, and the roster's exceptions one by one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from kits.measures import format_amount
from planning.documents.exceptions import RosterException, What
from planning.documents.pdf.words import day
from planning.documents.unprinted import unprinted_names
from planning.documents.workbook.buy import BUY
from planning.documents.workbook.cost import COST
from planning.documents.workbook.cut import CUT
from planning.documents.workbook.pack import PACK
from planning.documents.workbook.rules import RULES
from planning.documents.workbook.ship import SHIP
from planning.documents.workbook.table import Column, Look, Table
from planning.documents.workbook.words import sentence
from planning.flow import MonthPlan
from planning.gaps import gaps
from planning.month import Month

NEEDS_YOU, ROSTER = "Needs you", "Roster exceptions"

TO_LOOK_AT = (What.TWICE, What.CHARACTERS, What.LONG_LINE, What.NO_POSTCODE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Something to be done. count: of `unit`; when: the day it would come right; sheet: where to read more."""

    what: str
    which: str
    count: int | None = None
    unit: str = ""
    when: date | None = None
    words: str
    sheet: str


def needs_table(month: Month, plan: MonthPlan, exceptions: Sequence[RosterException]) -> Table[Need]:
    """Return a row for everything that is late, short, does not fit, cannot be sent, is not said, or costs too much."""
    rows = (
        *buying(plan),
        *cutting(plan),
        *packing(plan),
        *just_over(plan),
        *shipping(plan),
        *roster(exceptions),
        *unsaid(month),
        *margins(plan),
    )
    col = Column[Need]
    return Table(
        name=NEEDS_YOU,
        says="What is late, short, does not fit or cannot be sent, and the day on which it would come right.",
        empty="Nothing: every order is in time, every box fits and arrives as promised.",
        rows=rows,
        columns=(
            col("what", "What", lambda one: one.what, width=22, needs_you=lambda one: True),
            col("which", "Which", lambda one: one.which, width=38),
            col("count", "How many", lambda one: one.count, Look.COUNT, width=10),
            col("unit", "Unit", lambda one: one.unit, width=8),
            col("when", "Arrives", lambda one: one.when, Look.DAY, width=12),
            col("words", "What to know", lambda one: one.words, width=62),
            col("sheet", "See sheet", lambda one: one.sheet, Look.LINK, width=19),
        ),
    )


def buying(plan: MonthPlan) -> Iterator[Need]:
    """Yield late and short materials, and odd prices."""
    holding = {one.material: one.held for one in plan.cost.short}
    for line in plan.buying.lines:
        need = line.need
        if line.late and line.order_by:
            words = f"Needed by {day(need.need_by)}; had to be ordered by {day(line.order_by)}. Order today, ask for speed."
            yield Need(
                what="Late material",
                which=need.name,
                count=line.quantity,
                unit=need.unit,
                when=line.arrives,
                words=words,
                sheet=BUY,
            )
        if line.short:
            held = holding[need.material]
            words = (
                f"Needed by {day(need.need_by)}: {line.reason}; {held}. Find a supplier, or change the kit."
            )
            yield Need(
                what="Short material",
                which=need.name,
                count=line.short,
                unit=need.unit,
                words=words,
                sheet=BUY,
            )
        if line.due_late:
            words = f"Needed by {day(need.need_by)}; {line.waits}. Ask for speed; to order again, take the open order out."
            yield Need(
                what="Order due late",
                which=need.name,
                count=line.due_late,
                unit=need.unit,
                when=max(order.due for order in line.coming),
                words=words,
                sheet=BUY,
            )
    for rise in plan.buying.rises:
        yield Need(what="Odd price", which=rise.material, words=sentence(rise.words), sheet=BUY)


def cutting(plan: MonthPlan) -> Iterator[Need]:
    """Yield tickets that ask the machine to hold less than it is set for."""
    for number, ticket in enumerate(plan.cutting.tickets, 1):
        if ticket.narrow_words:
            words = f"{sentence(ticket.narrow_words)} Trained staff decide how these strips are cut."
            yield Need(
                what="Strip too narrow", which=f"Ticket {number}, {ticket.name}", words=words, sheet=CUT
            )


def packing(plan: MonthPlan) -> Iterator[Need]:
    """Yield rules that need a look, and boxes whose contents do not fit."""
    sheet = RULES if plan.contents.applied else PACK
    for said in plan.contents.needs:
        yield Need(what="Rules of boxes", which="What goes into a box", words=sentence(said), sheet=sheet)
    for spec in plan.packing.boxes:
        for fault in spec.faults:
            yield Need(
                what="Does not fit",
                which=spec.contents.name,
                count=spec.boxes,
                unit="boxes",
                words=sentence(fault),
                sheet=PACK,
            )


def just_over(plan: MonthPlan) -> Iterator[Need]:
    """Yield parcels just over a carrier's limit, with what would bring them under."""
    for spec in plan.packing.boxes:
        for parcel in spec.parcels:
            for one in parcel.just_over:
                yield Need(
                    what="Just over a limit",
                    which=spec.contents.name,
                    count=spec.boxes,
                    unit="boxes",
                    words=sentence(one.words),
                    sheet=PACK,
                )


def shipping(plan: MonthPlan) -> Iterator[Need]:
    """Yield boxes that miss the promise, and those that cannot be sent."""
    for load in plan.shipping.late:
        words = f"Packed on {day(load.day)}, by {load.service.name} collected on {day(load.collected)}."
        yield Need(
            what="Late boxes",
            which=load.box_class.name,
            count=load.boxes,
            unit="boxes",
            when=load.arrives,
            words=words,
            sheet=SHIP,
        )
    for one in plan.shipping.unsendable:
        words = sentence(one.words)
        yield Need(
            what="Boxes not sent",
            which=one.box_class.name,
            count=one.boxes,
            unit="boxes",
            words=words,
            sheet=ROSTER,
        )


def roster(exceptions: Sequence[RosterException]) -> Iterator[Need]:
    """Yield addresses that need a look, by kind."""
    for what in TO_LOOK_AT:
        people = [one.subscriber.reference for one in exceptions if one.what is what]
        if people:
            which = ", ".join(people[:5]) + (" ..." if len(people) > 5 else "")
            words = f"Addresses to look at before the slips are printed: {what}."
            yield Need(
                what="Address", which=which, count=len(people), unit="people", words=words, sheet=ROSTER
            )


def unsaid(month: Month) -> Iterator[Need]:
    """Yield the figures that are missing and were counted as nothing, and the names that cannot be printed."""
    for gap in gaps(month):
        yield Need(
            what=gap.what, which=gap.which, count=gap.count, unit="materials", words=gap.words, sheet=PACK
        )
    for gap in unprinted_names(month):
        yield Need(what=gap.what, which=gap.which, count=gap.count, unit="names", words=gap.words, sheet=PACK)


def margins(plan: MonthPlan) -> Iterator[Need]:
    """Yield tiers that cost more than their price."""
    for column in plan.cost.columns:
        if column.each is not None and column.each > column.price:
            cost, price = (format_amount(each, column.exponent) for each in (column.each, column.price))
            words = f"One kit costs {cost}, its price is {price}."
            yield Need(
                what="Costs more than its price",
                which=column.name,
                count=column.boxes,
                unit="kits",
                words=words,
                sheet=COST,
            )


def roster_table(exceptions: Sequence[RosterException]) -> Table[RosterException]:
    """Return a row for every roster exception."""
    col = Column[RosterException]
    return Table(
        name=ROSTER,
        says="Everyone for whom this month goes otherwise than usual, or whose address needs a look. If they are very "
        "many, the file of roster exceptions has the rest.",
        empty="Nobody: everyone on the roster gets a box in time, and every address can be printed.",
        frozen=3,
        rows=tuple(exceptions),
        columns=(
            col(
                "what",
                "What",
                lambda one: one.what,
                width=22,
                needs_you=lambda one: one.what is not What.LEFT_OUT,
            ),
            col("reference", "Subscriber", lambda one: one.subscriber.reference, width=13),
            col("name", "Name", lambda one: one.subscriber.name, width=28),
            col("country", "Country", lambda one: one.subscriber.country, width=10),
            col("arrives", "Arrives", lambda one: one.arrives, Look.WEEKDAY, width=17),
            col("why", "Why", lambda one: one.why, width=60),
        ),
    )
