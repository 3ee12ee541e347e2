"""The rule of the roster step."""

from collections import Counter
from collections.abc import Iterator, Mapping

from planning.calendar import YearMonth
from planning.roster.model import (
    NOTHING_ASKED,
    BoxClass,
    Change,
    Contents,
    Due,
    LeftOut,
    Occasions,
    Part,
    Profile,
    Reason,
    RosterProblem,
    RosterResult,
    Zones,
)
from planning.roster.rows import Besides

Filled = Mapping[str, Contents]
"""What lies in each box that is due, by its code."""


def plan_roster(problem: RosterProblem) -> RosterResult:
    """Count the boxes of each class, and the people left out by reason."""
    boxes: Counter[tuple[Contents, Zones, str]] = Counter()
    left_out: Counter[Reason] = Counter()
    filled = dict(problem.filled)
    for profile in problem.profiles:
        for contents, count in contents_for(profile, problem.month, problem.occasions, filled):
            boxes[contents, profile.zones, profile.region] += count * profile.heads
        if (reason := why_no_kit(profile, problem.month)) is not None:
            left_out[reason] += profile.heads
    return RosterResult(
        classes=tuple(
            BoxClass(contents=contents, zones=zones, boxes=boxes[contents, zones, region], region=region)
            for contents, zones, region in sorted(boxes)
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


def contents_for(
    profile: Profile, month: YearMonth, occasions: Occasions, filled: Filled
) -> Iterator[tuple[Contents, int]]:
    """Yield the boxes of one person: contents and how many of them."""
    for due, count in boxes_for(profile, month, occasions):
        yield filled.get(due.code) or unruled(due), count


def unruled(due: Due) -> Contents:
    """Return what lies in a box where there are no rules."""
    own = [Change(item=item, count=count, why=Besides.ADD_ON) for item, count in due.items]
    own += [Change(item=item, count=count, why=Besides.REPLACEMENT) for item, count in due.replacements]
    return Contents(tier=due.tier, kit=due.part is not Part.GOODS, besides=tuple(own))


def boxes_for(
    profile: Profile, month: YearMonth, occasions: Occasions = NOTHING_ASKED
) -> Iterator[tuple[Due, int]]:
    """Yield the boxes that one person is due and how many of each.

    What is theirs once (a first box, an anniversary, a promotion, what they ordered or get replaced) is the first box's
    only. Someone without a box this month gets one-off goods in a parcel of their own.
    """
    kits = 0 if why_no_kit(profile, month) else profile.quantity
    if kits:
        yield main_box(profile, month, occasions), 1
    elif profile.items or profile.replacements:
        yield (
            Due(
                tier=profile.tier,
                part=Part.GOODS,
                country=profile.country,
                items=profile.items,
                replacements=profile.replacements,
            ),
            1,
        )
    if kits > 1:
        yield Due(tier=profile.tier, part=Part.FURTHER, country=profile.country), kits - 1
    for tier, count in profile.kits:
        yield Due(tier=tier, part=Part.FURTHER, country=profile.country), count


def main_box(profile: Profile, month: YearMonth, occasions: Occasions) -> Due:
    """Return the first of somebody's boxes."""
    number, years = number_of(profile, month), years_of(profile, month)
    return Due(
        tier=profile.tier,
        country=profile.country,
        number=number if number in occasions.numbers else 0,
        years=years if occasions.every_year or years in occasions.years else 0,
        promotions=tuple(sorted(profile.promotions)),
        items=profile.items,
        replacements=profile.replacements,
    )


def number_of(profile: Profile, month: YearMonth) -> int:
    """Return which month's box it is, from 1 on; 0 where nothing tells: of a founding member, say."""
    if profile.sent is not None:
        return profile.sent + 1
    if profile.joined is None:
        return 0
    skipped = sum(profile.joined <= skip < month for skip in profile.skips)
    return months_since(profile.joined, month) - skipped + 1


def years_of(profile: Profile, month: YearMonth) -> int:
    """Return the years since joining in the month of joining, else 0."""
    if profile.joined is None:
        return 0
    years, months = divmod(months_since(profile.joined, month), 12)
    return 0 if months else years


def months_since(first: YearMonth, month: YearMonth) -> int:
    """Return the months from one month to a later one."""
    return 12 * (month.year - first.year) + month.month - first.month
