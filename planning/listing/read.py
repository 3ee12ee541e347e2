"""Boxes and people read back as plain data, a stretch of rows at a time, so that no month is too large to go through."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, fields
from itertools import groupby, islice
from typing import Any

from django.db.models import QuerySet

from planning import models
from planning.documents.codes import box_code
from planning.documents.listing import Box
from planning.flow import MonthPlan
from planning.models import Plan
from planning.month import Club
from planning.problems import profile_of
from planning.roster import Reason, Subscriber
from planning.roster.boxes import why_no_kit

AT_ONCE = 5_000  # rows
COLUMNS = tuple(each.name for each in fields(Subscriber))


def boxes_of_waves(row: Plan, plan: MonthPlan, club: Club, first: int, last: int) -> dict[int, list[Box]]:
    """Return the boxes of some waves in packing order, wave by wave."""
    listed = row.listed.filter(wave__range=(first, last)).order_by("wave", "place")
    found = boxes_in(listed, row, plan, club)
    return {wave: list(boxes) for wave, boxes in groupby(found, key=lambda box: box.wave)}


def boxes_in(listed: QuerySet[models.Box], row: Plan, plan: MonthPlan, club: Club) -> Iterator[Box]:
    """Yield boxes as plain data, each with the subscriber it is for."""
    for some in batches(listed.values_list("serial", "box_class", "wave", "place", "reference")):
        whose = subscribers(row.month_id, [reference for *_, reference in some])
        for serial, box_class, wave, place, reference in some:
            yield Box(
                code=box_code(club.code, club.month, serial),
                serial=serial,
                subscriber=whose[reference],
                box_class=plan.roster.classes[box_class],
                wave=wave,
                place=place,
            )


def subscribers(month: int, references: Collection[str]) -> dict[str, Subscriber]:
    """Return some of a month's subscribers by their references."""
    kept = models.Subscriber.objects.filter(month=month, reference__in=set(references))
    return {one.reference: one for one in map(subscriber, kept.values_list(*COLUMNS))}


def subscriber(values: tuple[Any, ...]) -> Subscriber:
    """Return a subscriber from the values of their row."""
    return Subscriber(**dict(zip(COLUMNS, values, strict=True)))


def batches(rows: QuerySet[Any, tuple[Any, ...]]) -> Iterator[list[tuple[Any, ...]]]:
    """Yield rows some thousands at a time. Not in a transaction: on SQLite nobody else could write meanwhile."""
    found = rows.iterator(chunk_size=AT_ONCE)
    while some := list(islice(found, AT_ONCE)):
        yield some


@dataclass(frozen=True, slots=True)
class RosterRead:
    """A month's roster and a plan's boxes, read as they are asked for (see `planning.documents.exceptions.People`)."""

    row: Plan
    plan: MonthPlan
    club: Club
    tiers: frozenset[str]

    def everybody(self) -> Iterator[Subscriber]:
        """Yield everyone on the roster."""
        yield from self._people(models.Subscriber.objects.all())

    def addressed(self) -> Iterator[Subscriber]:
        """Yield everyone who gets a box, once each. The boxes of one person follow each other."""
        last = ""
        for some in batches(self.row.listed.order_by("serial").values_list("reference")):
            references = dict.fromkeys(reference for (reference,) in some)
            whose = subscribers(self.row.month_id, references)
            yield from (whose[reference] for reference in references if reference != last)
            last = some[-1][0]

    def boxes(self, waves: Collection[int]) -> Iterator[Box]:
        """Yield the boxes of some waves, in the order of the roster."""
        # a database takes no list of tens of thousands of waves, but a span of any length
        span = {"wave__range": (waves[0], waves[-1])} if isinstance(waves, range) else {"wave__in": waves}
        listed = self.row.listed.filter(**span).order_by("serial")
        yield from boxes_in(listed, self.row, self.plan, self.club)

    def left_out(self) -> Iterator[tuple[Subscriber, Reason]]:
        """Yield everyone whose subscription sends no box this month, and why."""
        for one in self.everybody():
            if (reason := why_no_kit(profile_of(one, (), (), self.tiers), self.club.month)) is not None:
                yield one, reason

    def _people(self, rows: QuerySet[models.Subscriber]) -> Iterator[Subscriber]:
        of_month = rows.filter(month=self.row.month_id).order_by("position").values_list(*COLUMNS)
        for some in batches(of_month):
            yield from map(subscriber, some)
