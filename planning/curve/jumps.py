"""What is decided otherwise from one count to the next, in words with the names of materials and the counts."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from kits.measures import format_amount
from planning.buying import Purchase
from planning.curve.model import CurvePoint, Jump
from planning.flow import Decided
from planning.month import Month
from planning.names import names_of
from planning.requirements import Kind, item

Choices = Mapping[tuple[str, str], "Choice"]  # (what kind of decision, of what) -> what is decided

LATE = "boxes late or without a service"


@dataclass(frozen=True, slots=True)
class Choice:
    """What is decided. who: of whom or from what; price: of one, in words; least: quantity from which it counts."""

    who: str = ""
    price: str = ""
    least: int = 0


def choices_of(done: Decided, month: Month) -> Choices:
    """Return what is decided about each material, piece, supplier and service."""
    found: dict[tuple[str, str], Choice] = {}
    called, breaks = names_of(month), breaks_of(month)
    suppliers = {one.code: one.name for one in month.suppliers}
    for line in done.buying.lines:
        for each in line.bought:
            found["price", line.need.name] = ordered(each, suppliers, breaks[each.offer.code])
    for order in done.buying.orders:
        found["freight", order.supplier.name] = Choice("" if order.freight else "free")
    for name, sources in done.cutting.sources.items():
        papers = sorted(called.get(item(Kind.MATERIAL, one), one) for one in sources)
        found["sheet", called.get(name, name)] = Choice(" and ".join(papers))
    for load in done.shipping.loads:
        found["service", load.service.name] = Choice()
    if done.shipping.overtime:
        found["overtime", "overtime"] = Choice()
    if done.shipping.late or done.shipping.unsendable:
        found["late", LATE] = Choice()
    return found


def breaks_of(month: Month) -> defaultdict[str, list[int]]:
    """Return the quantities from which the prices of each offer count, rising."""
    found: defaultdict[str, list[int]] = defaultdict(list)
    for one in sorted(month.price_breaks, key=lambda row: row.from_quantity):
        found[one.offer].append(one.from_quantity)
    return found


def ordered(one: Purchase, suppliers: Mapping[str, str], breaks: Sequence[int]) -> Choice:
    """Return from whom an order is, and the price it reaches."""
    *_, (_, price) = one.bands
    reached = [least for least in breaks if least <= one.quantity]
    return Choice(
        suppliers.get(one.offer.supplier, one.offer.supplier), format_amount(price), max(reached, default=0)
    )


def jumps(looked: Sequence[tuple[CurvePoint, Choices]]) -> Iterator[Jump]:
    """Yield every decision that differs between two counts next to each other."""
    for (before, earlier), (point, later) in pairwise(looked):
        for key in sorted({*earlier, *later}):
            if words := changed(*key, earlier.get(key), later.get(key)):
                yield Jump(before=before.boxes, boxes=point.boxes, words=f"at {point.boxes:,} {words}")


def changed(kind: str, name: str, before: Choice | None, after: Choice | None) -> str:
    """Say what changed of one decision, nothing where it did not or where that is no decision."""
    if before == after:
        return ""
    if kind == "late":
        return "the crew is too short to bring every box in time" if after else "every box is in time again"
    if kind == "overtime":
        return "the crew works overtime" if after else "no overtime is needed any more"
    if kind == "service":
        return f"boxes begin to go by {name}" if after else f"no box goes by {name} any more"
    if before is None:
        return f"{name} has to be ordered from {after.who}" if after and kind == "price" else ""
    if after is None:
        return f"{name} need not be ordered any more" if kind == "price" else ""
    if kind == "freight":
        return f"the order from {name} {'is free of freight' if after.who else 'pays freight again'}"
    if kind == "sheet":
        return f"{name} is cut from {after.who}, not {before.who}"
    return repriced(name, before, after)


def repriced(name: str, before: Choice, after: Choice) -> str:
    """Say how the order of a material changed."""
    if before.who != after.who:
        return (
            f"{name} is cheaper from {after.who}, at {after.price}, than from {before.who}, at {before.price}"
        )
    if after.least > before.least:
        return f"the {after.least:,} break of {name} pays: {after.price} each, not {before.price}"
    return (
        f"the {before.least:,} break of {name} does not pay any more: {after.price} each, not {before.price}"
    )
