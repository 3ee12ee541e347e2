"""Exactly which boxes short supply touches: whose each is, what it goes without, and what lies in it instead.

The allocation step counts boxes by group, of one month of joining; here the boxes of a group meet their numbers.
"""

import csv
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from io import StringIO

from planning.allocation import Boxes
from planning.calendar import YearMonth
from planning.documents.exceptions import People, harmless
from planning.documents.listing import Box
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.problems.allocation import group_code

HEADS = (
    "Box",
    "Subscriber",
    "Name",
    "Tier",
    "Joined",
    "Wave",
    "Without",
    "Instead",
    "Plan",
    "Version",
    "Made at",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortBox:
    """One box and one thing it should hold and does not. without: its name; instead: what lies in it, or nothing."""

    box: Box
    without: str
    instead: str = ""


def short_boxes(plan: MonthPlan, people: People) -> Iterator[ShortBox]:
    """Yield every box that is touched, in the order of the roster, once for each thing.

    Within a group whoever joined first is served first, then by the roster. Only boxes of groups that do not all fare alike
    are held in memory.
    """
    result = plan.allocation
    runs: defaultdict[str, list[Boxes]] = defaultdict(list)
    for one in result.affected:
        runs[one.group].append(one)
    if not runs:
        return
    sizes = {one.code: one.boxes for one in result.groups}
    alike = {code for code, own in runs.items() if own[0].count == sizes[code]}
    names = {one.material: one.name for one in result.materials}
    names |= {one.instead: one.name for one in result.substitutes}
    waves = range(len(plan.waves) + 1)
    places = places_in(runs.keys() - alike, people.boxes(waves))
    for box in people.boxes(waves):
        group = group_of(box)
        yield from touched(box, places.get(box.serial, 1), runs.get(group, ()), names)


def group_of(box: Box) -> str:
    """Return the code of a box's group."""
    joined = box.subscriber.joined
    return group_code(box.box_class.contents, YearMonth.of(joined) if joined else None)


def places_in(groups: Collection[str], boxes: Iterable[Box]) -> dict[int, int]:
    """Return the place of each box within its group, by serial number; of some groups only."""
    members: defaultdict[str, list[tuple[date, int]]] = defaultdict(list)
    for box in boxes if groups else ():
        if (group := group_of(box)) in groups:
            members[group].append((box.subscriber.joined or date.min, box.serial))
    return {serial: place for own in members.values() for place, (_, serial) in enumerate(sorted(own), 1)}


def touched(box: Box, place: int, runs: Iterable[Boxes], names: Mapping[str, str]) -> Iterator[ShortBox]:
    """Yield what one box goes without. place: its number in its group."""
    for run in runs:
        if run.first <= place <= run.last:
            for got in run.got:
                instead = names[got.instead] if got.instead else ""
                yield ShortBox(box=box, without=names[got.material], instead=instead)


def short_boxes_csv(boxes: Iterable[ShortBox], stamp: Stamp) -> bytes:
    """Return the boxes as comma-separated values (RFC 4180): UTF-8 with its mark, so that spreadsheets see it."""
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEADS)
    plan = (stamp.plan_id, str(stamp.version), stamp.made_at.isoformat())
    for one in boxes:
        who = one.box.subscriber
        joined = who.joined.isoformat() if who.joined else ""
        wave = str(one.box.wave or "")
        row = (one.box.code, who.reference, who.name, who.tier, joined, wave, one.without, one.instead, *plan)
        writer.writerow(map(harmless, row))
    return text.getvalue().encode("utf-8-sig")
