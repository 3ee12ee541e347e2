"""The boxes of a month one by one: whose each is, what it holds, in which wave it is packed.

Decisions are made on classes; only here do names meet them. Who is in which class follows from the rule that
counted the classes, never from a second one.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count

from planning.documents.codes import box_code
from planning.flow import MonthPlan
from planning.month import Month
from planning.problems import occasions_of, profiles
from planning.roster import BoxClass, Subscriber, contents_for
from planning.shipping import Wave

Members = Mapping[BoxClass, Sequence["Owner"]]
Placed = tuple[int, int, BoxClass, "Owner"]  # wave and place, class, whose


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose a box is, and its serial number in the month."""

    serial: int
    subscriber: Subscriber


@dataclass(frozen=True, slots=True)
class Box:
    """One box. code: what is printed on it and scanned; serial: its number in the order of the roster, from 1.

    wave, place: where it is packed, from 1; wave 0 when no service takes it, and then it has no place.
    """

    code: str
    serial: int
    subscriber: Subscriber
    box_class: BoxClass
    wave: int
    place: int


def list_boxes(month: Month, plan: MonthPlan) -> tuple[Box, ...]:
    """Return every box of every subscriber once, wave by wave in packing order, those that are not sent last."""
    members = members_by_class(month, plan)
    club = month.club
    return tuple(
        Box(
            code=box_code(club.code, club.month, owner.serial),
            serial=owner.serial,
            subscriber=owner.subscriber,
            box_class=box_class,
            wave=wave,
            place=place,
        )
        for wave, place, box_class, owner in (*places(plan.waves, members), *not_sent(plan.waves, members))
    )


def members_by_class(month: Month, plan: MonthPlan) -> Members:
    """Return whose boxes each class counts, in the order of the roster."""
    classes = {(one.contents, one.zones, one.region): one for one in plan.roster.classes}
    members: defaultdict[BoxClass, list[Owner]] = defaultdict(list)
    serials, occasions, filled = count(1), occasions_of(month), dict(plan.contents.filled)
    for subscriber, profile in profiles(month):
        for contents, boxes in contents_for(profile, month.club.month, occasions, filled):
            alike = members[classes[contents, profile.zones, profile.region]]
            alike += (Owner(next(serials), subscriber) for _ in range(boxes))
    return members


def places(waves: Sequence[Wave], members: Members) -> Iterator[Placed]:
    """Yield the boxes of the waves, place by place."""
    for wave in waves:
        place = count(1)
        for part in wave.parts:
            for owner in members[part.box_class][part.first : part.first + part.boxes]:
                yield wave.number, next(place), part.box_class, owner


def not_sent(waves: Sequence[Wave], members: Members) -> Iterator[Placed]:
    """Yield the boxes beyond those the waves hold."""
    sent: Counter[BoxClass] = Counter()
    for wave in waves:
        for part in wave.parts:
            sent[part.box_class] += part.boxes
    for box_class, owners in members.items():
        for owner in owners[sent[box_class] :]:
            yield 0, 0, box_class, owner
