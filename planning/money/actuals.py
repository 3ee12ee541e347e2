"""After the month: what happened beside what was planned, and the rates that follow from it for the next."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from kits.measures import round_money
from planning.cost.rows import Actual, ActualKind
from planning.flow import Decided
from planning.month import Month
from planning.names import names_of
from planning.requirements import Kind, Requirement, item

MOST_PERCENT = Decimal(100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One thing as it was planned and as it was. Amounts are None where no money belongs to it."""

    kind: ActualKind
    item: str
    name: str
    planned: Decimal
    quantity: Decimal
    planned_amount: Decimal | None = None
    amount: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """A rate that the month used, and the one that what happened would have asked for. field: where the month keeps it."""

    table: str
    code: str
    field: str
    name: str
    used: Decimal
    learned: Decimal


def outcomes(month: Month, done: Decided) -> Iterator[Outcome]:
    """Yield everything that was noted, beside its plan."""
    called = names_of(month)
    services = {one.code: one.name for one in month.services}
    for one in month.actuals:
        planned, amount = planned_of(one, done)
        name = (
            services.get(one.item)
            or called.get(item(Kind.MATERIAL, one.item))
            or called.get(item(Kind.PIECE, one.item), one.item)
        )
        yield Outcome(
            kind=one.kind,
            item=one.item,
            name=name or one.kind.value.capitalize(),
            planned=planned,
            quantity=one.quantity,
            planned_amount=amount,
            amount=one.amount,
        )


def planned_of(one: Actual, done: Decided) -> tuple[Decimal, Decimal | None]:
    """Return the quantity and the amount that were planned for something that happened."""
    if one.kind is ActualKind.BOUGHT:
        lines = [line for line in done.buying.lines if line.need.material == one.item]
        goods = sum((line.goods for line in lines), Decimal(0))
        return Decimal(sum(line.quantity for line in lines)), goods
    if one.kind is ActualKind.SPOILED:
        return Decimal(sum(line.overs for line in wanted(one.item, done))), None
    if one.kind is ActualKind.CUTTING:
        return sum((ticket.minutes for ticket in done.cutting.tickets), Decimal(0)), None
    if one.kind is ActualKind.PACKING:
        return done.packing.minutes, None
    loads = [load for load in done.shipping.loads if load.service.code == one.item]
    return Decimal(sum(load.boxes for load in loads)), sum((load.postage for load in loads), Decimal(0))


def wanted(code: str, done: Decided) -> list[Requirement]:
    """Return the requirements of a material or a piece."""
    names = (item(Kind.MATERIAL, code), item(Kind.PIECE, code))
    return [line for line in done.requirements.lines if line.item in names]


# --- What the next month may use ---


def learned(month: Month, done: Decided) -> Iterator[Learned]:
    """Yield the rates that follow from what happened, where something was planned to compare it with."""
    for one in outcomes(month, done):
        if one.kind is ActualKind.SPOILED:
            yield from spoilage(one, month, done)
        elif one.kind in (ActualKind.CUTTING, ActualKind.PACKING) and one.planned and one.quantity:
            yield from minutes(one, month)


def spoilage(one: Outcome, month: Month, done: Decided) -> Iterator[Learned]:
    """Yield what percentage was spoiled of the good; of what has operations of its own, they tell it."""
    good = sum(line.good for line in wanted(one.item, done))
    rows = {row.code: ("materials", row) for row in month.materials} | {
        row.code: ("pre_cuts", row) for row in month.pre_cuts
    }
    if one.item not in rows or not good or any(row.item == one.item for row in month.spoilages):
        return
    table, row = rows[one.item]
    percent = min(round_money(Fraction(one.quantity) * 100 / good, 1), MOST_PERCENT)
    yield Learned(
        table=table,
        code=one.item,
        field="overs_percent",
        name=f"{row.name}, overs in percent",
        used=row.overs_percent,
        learned=percent,
    )


def minutes(one: Outcome, month: Month) -> Iterator[Learned]:
    """Yield minutes scaled as the whole was longer or shorter than planned."""
    factor = Fraction(one.quantity) / Fraction(one.planned)
    if one.kind is ActualKind.PACKING:
        rates = [
            ("club", "", "minutes_per_box", "Minutes to pack a box", month.club.minutes_per_box),
            ("club", "", "minutes_per_line", "Minutes for each line in it", month.club.minutes_per_line),
        ]
    else:
        rates = [
            ("guillotines", row.code, name, f"{row.name}, {name.replace('_', ' ')}", getattr(row, name))
            for row in month.guillotines
            for name in ("minutes_per_lift", "minutes_per_cut", "minutes_per_turn")
        ]
    for table, code, field, name, used in rates:
        if used:
            yield Learned(
                table=table,
                code=code,
                field=field,
                name=name,
                used=used,
                learned=round_money(Fraction(used) * factor, 3),
            )


def with_learned(month: Month, rates: Iterable[Learned]) -> Month:
    """Return a month that uses learned rates, where it has what they are of."""
    for one in rates:
        new: dict[str, Any] = {one.field: one.learned}
        if one.table == "club":
            month = replace(month, club=replace(month.club, **new))
        else:
            rows = tuple(
                replace(row, **new) if row.code == one.code else row for row in getattr(month, one.table)
            )
            table: dict[str, Any] = {one.table: rows}
            month = replace(month, **table)
    return month
