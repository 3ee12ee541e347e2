"""The checker of the listing: counts the rows again, from the end, and shares nothing with the statement that made them."""

from collections import Counter
from datetime import date

from django.db.models import Count, Max, Min

from planning.flow import MonthPlan
from planning.models import Box, Plan

Counts = dict[tuple[int, int], int]
Days = Counter[tuple[tuple[date, str] | None, int]]


def listing_faults(row: Plan, plan: MonthPlan) -> list[str]:
    """Return what is wrong with a plan's boxes, none where each of them is listed once and stands where it was planned."""
    faults = []
    boxes = Box.objects.filter(plan=row)
    span = boxes.aggregate(first=Min("serial"), last=Max("serial"), number=Count("serial"))
    if span["number"] != plan.roster.boxes or (
        span["number"] and (span["first"], span["last"]) != (1, span["number"])
    ):
        faults.append(f"{span['number']:,} boxes are listed of {plan.roster.boxes:,}")
    rows = counted(row)
    if rows != wanted(plan):
        faults.append("a wave holds other boxes than planned")
    if by_day(rows, plan) != leaving(plan):
        faults.append("other boxes are packed on a day than leave on it")
    waves = (
        boxes.exclude(wave=0)
        .values_list("wave")
        .annotate(Min("place"), Max("place"), Count("place", distinct=True))
    )
    amiss = [wave for wave, first, last, places in waves if (first, last) != (1, places)]
    if amiss:
        faults.append(f"the places of wave {amiss[0]} do not follow one another")
    return faults


def counted(row: Plan) -> Counts:
    """Count the rows by wave and class."""
    rows = Box.objects.filter(plan=row).values_list("wave", "box_class").annotate(Count("serial"))
    return {(wave, box_class): number for wave, box_class, number in rows}


def by_day(rows: Counts, plan: MonthPlan) -> Days:
    """Count the rows that stand in a wave by its day and service, and by class."""
    when = {wave.number: (wave.day, wave.service.code) for wave in plan.waves}
    days = Days()
    for (wave, box_class), number in rows.items():
        if wave:
            days[when.get(wave), box_class] += number
    return days


def leaving(plan: MonthPlan) -> Days:
    """Count what the schedule sends, which knows nothing of waves."""
    numbers = {one: number for number, one in enumerate(plan.roster.classes)}
    days = Days()
    for load in plan.shipping.loads:
        days[(load.day, load.service.code), numbers[load.box_class]] += load.boxes
    return days


def wanted(plan: MonthPlan) -> Counts:
    """Count the plan's boxes by wave and class; what is in no wave is in wave 0."""
    numbers = {one: number for number, one in enumerate(plan.roster.classes)}
    counts: Counter[tuple[int, int]] = Counter()
    left = Counter({one: one.boxes for one in plan.roster.classes})
    for wave in plan.waves:
        for part in wave.parts:
            counts[wave.number, numbers[part.box_class]] += part.boxes
            left[part.box_class] -= part.boxes
    return dict(counts) | {(0, numbers[one]): boxes for one, boxes in left.items() if boxes}
