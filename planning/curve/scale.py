"""A roster made larger or smaller: as many boxes as asked for, in the same proportions."""

from kits.measures import split_count
from planning.calendar import YearMonth
from planning.roster import BoxClass, Profile, RosterProblem, RosterResult


def scaled_people(roster: RosterResult, month: YearMonth, boxes: int) -> RosterProblem:
    """Return people who get so many boxes in all, shared over the classes by largest remainder.

    Each box is then one person's, so every box of a class is like those the roster has, first boxes and one-off orders too.
    """
    counts = split_count(boxes, [one.boxes for one in roster.classes]) if roster.boxes else ()
    profiles = (
        profile_of(one, month, count) for one, count in zip(roster.classes, counts, strict=False) if count
    )
    return RosterProblem(month=month, profiles=tuple(profiles))


def profile_of(one: BoxClass, month: YearMonth, heads: int) -> Profile:
    """Return people who get one box each of a class."""
    return Profile(
        tier=one.contents.tier,
        quantity=1 if one.contents.kit else 0,
        joined=month if one.contents.first else None,
        zones=one.zones,
        items=one.contents.items,
        heads=heads,
    )
