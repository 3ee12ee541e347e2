"""The sheets of the packing days: loads by day and service, the crew's minutes, the waves."""

from decimal import Decimal

from planning.calendar import Weekday
from planning.documents.workbook.table import Column, Look, Table
from planning.documents.workbook.words import sentence
from planning.flow import MonthPlan
from planning.month import Month
from planning.shipping import DayLoad, Load, Wave

SHIP, DAYS, WAVES = "Ship", "Crew days", "Waves"

MINUTES = "Boxes x the minutes each of the Pack sheet."
COLLECTED = "The service's first collection from the packing day on."
ARRIVES = "The collection day, and the service's working days to the zone."
OVERTIME = "Work beyond the crew's own minutes; its cost is on the cost sheet."
DUE = "Work that can be in time only if it is done by this day, in all."
POSTAGE = "Boxes x postage each, by the box's weight at most and the carrier's own rule for volume."


def ship_table(month: Month, plan: MonthPlan) -> Table[Load]:
    """Return a row for every load: boxes of one class packed on a day for one service."""
    money = month.club.currency
    minutes = {spec.contents: spec.minutes for spec in plan.packing.boxes}

    def each(load: Load) -> Decimal:
        return minutes[load.box_class.contents]

    col = Column[Load]
    return Table(
        name=SHIP,
        says=f"Which boxes leave on which day, and how. {sentence(plan.shipping.ended)} {early(month, plan)}",
        empty="Nothing to send this month.",
        rows=plan.shipping.loads,
        columns=(
            col("day", "Packed on", lambda load: load.day, Look.WEEKDAY, width=17),
            col("service", "Service", lambda load: load.service.name, width=20),
            col("contents", "Box", lambda load: load.box_class.contents.name, width=30),
            col("to", "To zone", lambda load: load.box_class.destination, width=14),
            col("boxes", "Boxes", lambda load: load.boxes, Look.COUNT, total=True),
            col(
                "minutes",
                "Minutes",
                lambda load: load.boxes * each(load),
                Look.HUNDREDTHS,
                lambda load: f"={{boxes}}*{each(load):f}",
                width=10,
                total=True,
                note=MINUTES,
            ),
            col(
                "collected", "Collected", lambda load: load.collected, Look.WEEKDAY, width=17, note=COLLECTED
            ),
            col(
                "arrives",
                "Arrives",
                lambda load: load.arrives,
                Look.WEEKDAY,
                width=17,
                needs_you=lambda load: load.late,
                note=ARRIVES,
            ),
            col(
                "state",
                "In time?",
                lambda load: "late" if load.late else "in time",
                needs_you=lambda load: load.late,
                width=9,
            ),
            col("each", f"Postage each ({money})", lambda load: load.postage_each, Look.MONEY, width=12),
            col(
                "postage",
                f"Postage ({money})",
                lambda load: load.postage,
                Look.MONEY,
                "={boxes}*{each}",
                width=11,
                total=True,
                note=POSTAGE,
            ),
        ),
    )


def early(month: Month, plan: MonthPlan) -> str:
    """Say how many boxes arrive before the promised week begins, which keeps the promise."""
    boxes = plan.shipping.arriving_before(month.club.promised.day(Weekday.MON))
    return f"Boxes that arrive before the promised week begins: {boxes:,}; in time."


def days_table(month: Month, plan: MonthPlan) -> Table[DayLoad]:
    """Return a row for every day the crew is at work, to the last packing day."""
    col = Column[DayLoad]
    return Table(
        name=DAYS,
        says=f"The crew's minutes against the work of each day. {blame(plan)}".strip(),
        empty="No packing days this month.",
        rows=plan.shipping.days,
        columns=(
            col("day", "Day", lambda one: one.day, Look.WEEKDAY, width=18),
            col(
                "boxes",
                "Boxes",
                lambda one: one.boxes,
                Look.COUNT,
                "=SUMIFS({Ship.boxes},{Ship.day},{day})",
                width=10,
                total=True,
            ),
            col(
                "minutes",
                "Work (minutes)",
                lambda one: one.minutes,
                Look.HUNDREDTHS,
                "=SUMIFS({Ship.minutes},{Ship.day},{day})",
                width=15,
                total=True,
            ),
            col("crew", "Crew (minutes)", lambda one: one.capacity, Look.COUNT, width=15, total=True),
            col(
                "free",
                "Free (minutes)",
                lambda one: one.capacity - one.minutes,
                Look.HUNDREDTHS,
                "={crew}-{minutes}",
                width=15,
                total=True,
            ),
            col(
                "over",
                "Overtime (minutes)",
                lambda one: one.overtime,
                Look.HUNDREDTHS,
                "=MAX(0,{minutes}-{crew})",
                width=15,
                total=True,
                note=OVERTIME,
            ),
            col("due", "Due by then (minutes)", lambda one: one.due, Look.HUNDREDTHS, width=15, note=DUE),
            col("had", "Crew by then (minutes)", lambda one: one.had, Look.COUNT, width=15),
            col(
                "short",
                "Short (minutes)",
                lambda one: one.short,
                Look.HUNDREDTHS,
                "=MAX(0,{due}-{had})",
                width=12,
                needs_you=lambda one: bool(one.short),
            ),
            col("used", "Used", used, Look.SHARE, "=IF({crew}=0,0,{minutes}/{crew})"),
            col(
                "rate",
                f"Crew, an hour ({month.club.currency})",
                lambda one: month.club.crew_cost_per_hour,
                Look.PRICE,
                width=12,
            ),
            col("overtime", "Overtime (minutes)", lambda one: one.overtime, Look.HUNDREDTHS, width=12),
            col(
                "overtime_rate",
                f"Overtime, an hour ({month.club.currency})",
                lambda one: month.club.overtime_cost_per_hour,
                Look.PRICE,
                width=12,
            ),
        ),
    )


def blame(plan: MonthPlan) -> str:
    """Say what is to blame for late boxes, and what one more hour or day would buy."""
    said = [f"{one.boxes:,} late by the {one.cause}: {one.words}." for one in plan.shipping.blame]
    said += [
        f"{one.what}: {one.fewer:,} fewer late, {one.saves:,.2f} saved{'' if one.proved else ', at least'}."
        for one in plan.shipping.gains
    ]
    return " ".join(said)


def used(one: DayLoad) -> Decimal:
    """Return the share of the crew's minutes that is used."""
    return one.minutes / one.capacity if one.capacity else Decimal(0)


def waves_table(month: Month, plan: MonthPlan) -> Table[Wave]:
    """Return a row for every wave."""
    col = Column[Wave]
    return Table(
        name=WAVES,
        says=f"Boxes laid out and packed together, a {month.club.wave_fills} of at most {month.club.wave_size:,}: one "
        "day, one service.",
        empty="No waves this month.",
        rows=plan.waves,
        columns=(
            col("wave", "Wave", lambda wave: wave.number, Look.COUNT),
            col("day", "Packed on", lambda wave: wave.day, Look.WEEKDAY, width=17),
            col("service", "Service", lambda wave: wave.service.name, width=22),
            col("collected", "Collected", lambda wave: wave.collected, Look.WEEKDAY, width=17),
            col("boxes", "Boxes", lambda wave: wave.boxes, Look.COUNT, total=True),
            col("parts", "Which boxes", parts, width=60),
        ),
    )


def parts(wave: Wave) -> str:
    """List what a wave holds."""
    return "; ".join(f"{part.boxes:,} {part.box_class.name}" for part in wave.parts)
