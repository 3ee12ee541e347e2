"""What if: the month with something changed, decided anew beside what it is, and nothing else touched.

Both are decided the same way, by the steps of the flow without their searches (`plan.py` says what that leaves out), so what
differs between them comes from the change alone.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal

from kits.measures import round_money
from planning.contents import ContentsResult
from planning.cost import Heading
from planning.cost.rows import ChangeKind, VariantLine
from planning.curve.scale import scaled_roster
from planning.cutting import CuttingResult
from planning.flow import Decided, decide, filled
from planning.month import Month
from planning.roster import RosterProblem, RosterResult, plan_roster

MOST_PLACES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A figure before and after. money: it is an amount."""

    what: str
    before: Decimal
    after: Decimal
    money: bool = True

    @property
    def difference(self) -> Decimal:
        """By how much it rises."""
        return self.after - self.before


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """A variant: its name, the month it makes, how many boxes it sends, and every figure that differs."""

    name: str
    month: Month
    boxes: int
    changed: tuple[Changed, ...]
    decided: Decided


def what_if(
    name: str, lines: Iterable[VariantLine], month: Month, people: RosterProblem, known: CuttingResult
) -> WhatIf:
    """Decide a month as it is and with the changes of a variant, and tell what differs."""
    lines = tuple(lines)
    other = changed_month(month, lines)
    before = decide(month, *boxes_of(month, people), known=known)
    after = decide(other, *boxes_of(other, people, lines), known=known)
    return WhatIf(
        name=name,
        month=other,
        boxes=after.roster.boxes,
        changed=tuple(one for one in figures(before, after) if one.before != one.after),
        decided=after,
    )


# --- The change ---


def boxes_of(
    month: Month, people: RosterProblem, lines: Iterable[VariantLine] = ()
) -> tuple[ContentsResult, RosterResult]:
    """Return what goes into the boxes, and as many of them as a variant says; the last line about it counts."""
    counts = [int(line.value) for line in lines if line.change is ChangeKind.BOXES]
    contents, people = filled(month, people)
    roster = plan_roster(people)
    return contents, scaled_roster(roster, counts[-1]) if counts else roster


def changed_month(month: Month, lines: Iterable[VariantLine]) -> Month:
    """Return the month's rows with every change made, one after the other; the count of boxes is no row."""
    for line in lines:
        month = with_change(month, line)
    return month


def with_change(month: Month, line: VariantLine) -> Month:
    """Return the month's rows with one change made."""
    match line.change:
        case ChangeKind.PRICE:
            tiers = (
                replace(one, price=Decimal(line.value)) if one.code == line.item else one
                for one in month.tiers
            )
            return replace(month, tiers=tuple(tiers))
        case ChangeKind.OFFER:
            return repriced(month, line.item, Decimal(line.value))
        case ChangeKind.SUPPLIER:
            offers = (one for one in month.offers if one.material != line.item or one.supplier == line.value)
            return without_stray_breaks(replace(month, offers=tuple(offers)))
        case ChangeKind.MATERIAL:
            return instead(month, line.item, line.value)
        case ChangeKind.DAYS:
            starts = month.club.packing_starts + timedelta(days=int(line.value))
            return replace(month, club=replace(month.club, packing_starts=starts))
        case ChangeKind.CREW:
            return with_crew(month, int(line.value))
        case ChangeKind.BOXES:
            return month


def repriced(month: Month, offer: str, price: Decimal) -> Month:
    """Return the month with another first price of an offer; its further prices move in proportion."""
    own = [one for one in month.price_breaks if one.offer == offer]
    first = min(own, key=lambda one: one.from_quantity, default=None)
    if first is None:
        return month

    def of(each: Decimal) -> Decimal:
        return round_money(each * price / first.price, MOST_PLACES) if first.price else price

    rows = (replace(one, price=of(one.price)) if one.offer == offer else one for one in month.price_breaks)
    return replace(month, price_breaks=tuple(rows))


def without_stray_breaks(month: Month) -> Month:
    """Return the month without prices of offers that are gone."""
    offers = {one.code for one in month.offers}
    return replace(month, price_breaks=tuple(one for one in month.price_breaks if one.offer in offers))


def instead(month: Month, material: str, other: str) -> Month:
    """Return the month with another material wherever the kit takes one."""
    papers = (replace(one, material=other) if one.material == material else one for one in month.kit_papers)
    lines = (replace(one, item=other) if one.item == material else one for one in month.kit_lines)
    cuts = (
        replace(
            one, cut_from=tuple(dict.fromkeys(other if code == material else code for code in one.cut_from))
        )
        for one in month.pre_cuts
    )
    return replace(month, kit_papers=tuple(papers), kit_lines=tuple(lines), pre_cuts=tuple(cuts))


def with_crew(month: Month, percent: int) -> Month:
    """Return the month with a crew of so many percent of its minutes, rounded down."""
    week = (replace(one, minutes=one.minutes * percent // 100) for one in month.week)
    days = (replace(one, minutes=one.minutes * percent // 100) for one in month.crew_days)
    return replace(month, week=tuple(week), crew_days=tuple(days))


# --- What differs ---


def figures(before: Decided, after: Decided) -> Iterator[Changed]:
    """Yield the figures of two plans beside each other, the ones asked for first above."""
    yield count("Boxes", before.roster.boxes, after.roster.boxes)
    yield Changed(what="Cost of the month", before=before.cost.total, after=after.cost.total)
    yield Changed(what="Price of all kits", before=income(before), after=income(after))
    yield Changed(
        what="What is left", before=income(before) - before.cost.total, after=income(after) - after.cost.total
    )
    for tier in dict.fromkeys(column.code for column in (*before.cost.columns, *after.cost.columns)):
        yield from of_tier(tier, before, after)
    for heading in Heading:
        yield Changed(
            what=str(heading),
            before=before.cost.heading_total(heading),
            after=after.cost.heading_total(heading),
        )
    yield count("Boxes late or without a service", late(before), late(after))
    yield count("Materials short", len(before.buying.short), len(after.buying.short))
    yield count("Packing minutes", int(before.packing.minutes), int(after.packing.minutes))
    yield from of_suppliers(before, after)
    yield from of_materials(before, after)


def count(what: str, before: int, after: int) -> Changed:
    """Return a figure that is no money."""
    return Changed(what=what, before=Decimal(before), after=Decimal(after), money=False)


def income(done: Decided) -> Decimal:
    """Return what the kits of a plan bring in."""
    return sum((column.price * column.boxes for column in done.cost.columns), Decimal(0))


def late(done: Decided) -> int:
    """Return how many boxes are late or have no service."""
    return sum(load.boxes for load in done.shipping.late) + sum(one.boxes for one in done.shipping.unsendable)


def of_tier(tier: str, before: Decided, after: Decided) -> Iterator[Changed]:
    """Yield cost and margin of one kit of a tier, where both plans send some."""
    pair = [next((one for one in done.cost.columns if one.code == tier), None) for done in (before, after)]
    first, second = pair
    if first is None or second is None or first.each is None or second.each is None:
        return
    yield Changed(what=f"Cost of one kit, {first.name}", before=first.each, after=second.each)
    yield Changed(
        what=f"Margin of one kit, {first.name}",
        before=first.margin or Decimal(0),
        after=second.margin or Decimal(0),
    )


def of_suppliers(before: Decided, after: Decided) -> Iterator[Changed]:
    """Yield the order to each supplier, freight included."""
    sides = [
        {one.supplier.name: one.goods + one.setup + one.freight for one in done.buying.orders}
        for done in (before, after)
    ]
    for name in sorted({*sides[0], *sides[1]}):
        zero = Decimal(0)
        yield Changed(
            what=f"Order to {name}", before=sides[0].get(name, zero), after=sides[1].get(name, zero)
        )


def of_materials(before: Decided, after: Decided) -> Iterator[Changed]:
    """Yield the units to order of each material."""
    sides = [{one.need.name: one.quantity for one in done.buying.lines} for done in (before, after)]
    for name in sorted({*sides[0], *sides[1]}):
        yield count(f"{name}, units to order", sides[0].get(name, 0), sides[1].get(name, 0))
