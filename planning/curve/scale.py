"""A roster made larger or smaller: as many boxes as asked for, in the same proportions."""

from dataclasses import replace

from kits.measures import split_count
from planning.roster import RosterResult


def scaled_roster(roster: RosterResult, boxes: int) -> RosterResult:
    """Return so many boxes in all, shared over the classes by largest remainder, and each of them one person's.

    Every box of a class is like those the roster has, whatever rules and orders put into it.
    """
    counts = split_count(boxes, [one.boxes for one in roster.classes]) if roster.boxes else ()
    classes = tuple(
        replace(one, boxes=count) for one, count in zip(roster.classes, counts, strict=False) if count
    )
    return RosterResult(classes=classes, left_out=(), heads=sum(one.boxes for one in classes))
