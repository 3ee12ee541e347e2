"""Boxes into rows: one statement a chunk, with a row for each box and none for what it holds, which is its class's."""

import json
from collections.abc import Sequence
from dataclasses import asdict, astuple
from typing import Any

from planning.flow import MonthPlan
from planning.listing.count import CountedRoster
from planning.listing.places import size_of, stretches
from planning.listing.sql import Asks, large_statement, people, table_of
from planning.models import BoxClass, Listing, ListingLine, Plan

LIST = """
WITH
{starts},
{stretches},
listed AS (
    SELECT p.reference, l.box_class,
           ROW_NUMBER() OVER (ORDER BY p.position, l.number) + %(serial)s - 1 AS serial,
           ROW_NUMBER() OVER (PARTITION BY l.box_class ORDER BY p.position, l.number)
           + COALESCE(s.boxes, 0) - 1 AS place_in_class
    FROM ({people}) p
    JOIN planning_listingline l ON l.listing_id = %(plan)s AND l.key = p.key
    LEFT JOIN starts s ON s.box_class = l.box_class
)
INSERT INTO planning_box (plan_id, serial, box_class, wave, place, reference)
SELECT %(plan)s, b.serial, b.box_class,
       COALESCE((t.at + b.place_in_class - t.first) / %(wave_size)s + 1, 0),
       COALESCE((t.at + b.place_in_class - t.first) %% %(wave_size)s + 1, 0),
       b.reference
FROM listed b
LEFT JOIN stretches t ON t.box_class = b.box_class
     AND b.place_in_class >= t.first AND b.place_in_class < t.first + t.boxes
"""
"""A box beyond the stretches of its class is taken by no service: wave 0, place 0."""


def start_listing(row: Plan, plan: MonthPlan, counted: CountedRoster) -> None:
    """Save a plan's classes, and what the listing of its boxes goes by."""
    BoxClass.objects.bulk_create(
        BoxClass(
            plan=row,
            number=number,
            signature=plan.packing.of(one.contents).signature,
            destination=one.destination,
            boxes=one.boxes,
        )
        for number, one in enumerate(plan.roster.classes)
    )
    classes = {one: number for number, one in enumerate(plan.roster.classes)}
    lines = counted.lines(plan.roster, dict(plan.contents.filled))
    listing = Listing.objects.create(
        plan=row,
        stretches=json.dumps([astuple(one) for one in stretches(plan.waves, classes)]),
        wave_size=size_of(plan.waves),
        asks=asdict(counted.asks),
        chunks=[
            [chunk.first, chunk.end, chunk.serial, list(chunk.starts.items())]
            for chunk in counted.starts(lines)
        ],
    )
    ListingLine.objects.bulk_create(
        (
            ListingLine(listing=listing, key=each.key, number=each.number, box_class=each.box_class)
            for each in lines
        ),
        batch_size=2_000,
    )


def list_chunk(plan: Plan, chunk: Sequence[Any]) -> None:
    """List the boxes of one chunk of a plan's `Listing`."""
    listing = plan.listing
    first, end, serial, starts = chunk
    asks = Asks(**listing.asks)
    statement = LIST.format(
        people=people(asks, some=True),
        starts=table_of("starts", "box_class", "boxes"),
        stretches=table_of("stretches", "box_class", "first", "boxes", "at"),
    )
    values = asks.values | {
        "plan": plan.pk,
        "month": plan.month_id,
        "first": first,
        "end": end,
        "serial": serial,
        "starts": json.dumps(starts),
        "stretches": listing.stretches,
        "wave_size": listing.wave_size,
    }
    with large_statement() as cursor:
        cursor.execute(statement, values)
