"""The rule of the roster step."""

from collections import Counter
from collections.abc import Iterator

from planning.calendar import YearMonth
from planning.roster.model import (
    BoxClass,
    Contents,
    LeftOut,
    Profile,
    Reason,
    RosterProblem,
    RosterResult,
    Zones,
)


def plan_roster(problem: RosterProblem) -> RosterResult:
    """Count the boxes of each class, and the people left out by reason."""
    boxes: Counter[tuple[Contents, Zones]] = Counter()
    left_out: Counter[Reason] = Counter()
    for profile in problem.profiles:
        for contents, count in boxes_for(profile, problem.month):
            boxes[contents, profile.zones] += count * profile.heads
        if (reason := why_no_kit(profile, problem.month)) is not None:
            left_out[reason] += profile.heads
    return RosterResult(
        classes=tuple(
            BoxClass(contents=contents, zones=zones, boxes=boxes[contents, zones])
            for contents, zones in sorted(boxes)
        ),
        left_out=tuple(
            LeftOut(reason=reason, heads=left_out[reason]) for reason in Reason if left_out[reason]
        ),
        heads=sum(profile.heads for profile in problem.profiles),
    )


def why_no_kit(profile: Profile, month: YearMonth) -> Reason | None:
    """Return why the subscription sends no box this month, or None when it does."""
    if not profile.active:
        return Reason.INACTIVE
    if profile.joined is not None and profile.joined > month:
        return Reason.JOINS_LATER
    if month in profile.skips:
        return Reason.SKIPS
    return Reason.NO_QUANTITY if profile.quantity == 0 else None


def boxes_for(profile: Profile, month: YearMonth) -> Iterator[tuple[Contents, int]]:
    """Yield the boxes of one person: contents and how many of them.

    The welcome extra and one-off goods go into the first box only. Someone without a box this month gets one-off
    goods in a parcel of their own.
    """
    kits = 0 if why_no_kit(profile, month) else profile.quantity
    first = kits > 0 and is_first_box(profile, month)
    if kits:
        yield Contents(tier=profile.tier, first=first, items=profile.items), 1
    elif profile.items:
        yield Contents(tier=profile.tier, kit=False, items=profile.items), 1
    if kits > 1:
        yield Contents(tier=profile.tier), kits - 1
    for tier, count in profile.kits:
        yield Contents(tier=tier), count


def is_first_box(profile: Profile, month: YearMonth) -> bool:
    """Tell whether every month since joining was skipped, so that this month's box is the first one."""
    if profile.joined is None:
        return False
    since = months_between(profile.joined, month)
    return all(earlier in profile.skips for earlier in since)


def months_between(first: YearMonth, end: YearMonth) -> Iterator[YearMonth]:
    """Yield the months from `first` up to, and without, `end`."""
    while first < end:
        yield first
        first = YearMonth(first.year + first.month // 12, first.month % 12 + 1)
