"""Where there are few copies of each piece: plans filled piece by piece, whose sheets become patterns."""

from collections.abc import Iterator

from planning.cutting.patterns.column import column
from planning.cutting.patterns.filled import Way, as_item
from planning.cutting.patterns.known import Known, Uses
from planning.cutting.patterns.pricing import Pricing
from planning.cutting.patterns.ruin import Blank, Packing, pack

MOST_COPIES = 400  # in all, up to which filling a plan piece by piece is worth while


def few_copies(known: Known) -> bool:
    """Whether the problem is a small one of that kind."""
    return sum(known.demands) <= MOST_COPIES and not any(pricing.is_ruled for pricing in known.pricings)


def plan_few(known: Known, swaps: int) -> Iterator[None]:
    """Search by taking pieces out and putting them back; pause wherever the best plan has become better."""
    copies = [piece for piece, count in enumerate(known.demands) for _ in range(count)]
    packing = Packing([_blank(known, pricing) for pricing in known.pricings], copies, known.areas)
    step = float(known.step / known.dear) or min(known.prices)
    for sheets in pack(packing, swaps, step, float(known.target / known.dear) - step / 2):
        plan: Uses = []
        for sheet in sheets:
            pricing = known.pricings[sheet.blank]
            item = as_item(sheet.root, pricing.sheet.spacing)
            if item:
                plan.append((column(pricing.number, item, pricing.numbers), 1))
        known.add(one for one, _ in plan)
        if known.offer(plan):
            yield


def _blank(known: Known, pricing: Pricing) -> Blank:
    sheet = pricing.sheet
    ways: list[tuple[Way, ...]] = [()] * len(known.pieces)
    for piece in sheet.pieces:
        ways[pricing.numbers[piece.name]] = tuple(
            Way(lying, lying.width + sheet.spacing, lying.height + sheet.spacing)
            for lying in pricing.scaled.lying
            if lying.name == piece.name
        )
    return Blank(
        sheet.usable_width + sheet.spacing,
        sheet.usable_height + sheet.spacing,
        known.prices[pricing.number],
        known.available[pricing.number],
        tuple(ways),
    )
