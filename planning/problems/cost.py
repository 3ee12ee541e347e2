"""The cost step's question: the earlier answers, and what the shelf and open orders cost."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from kits.catalogue import Leftover, MaterialKind
from kits.measures import Currency, format_length, round_money
from planning.buying import BuyingResult
from planning.cost import ONE_OFF, CostProblem, Heading, MaterialFacts, TierBoxes
from planning.cutting import CuttingResult
from planning.month import Month
from planning.packing import PackingResult
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts, tier_of
from planning.requirements import Kind, RequirementsResult, item
from planning.roster import RosterResult
from planning.shipping import ShippingResult

HEADINGS = {MaterialKind.SHEET: Heading.PAPER, MaterialKind.PACKAGING: Heading.PACKAGING}


def cost_problem(
    month: Month,
    roster: RosterResult,
    needs: RequirementsResult,
    cutting: CuttingResult,
    buying: BuyingResult,
    packing: PackingResult,
    shipping: ShippingResult,
) -> CostProblem:
    """Ask what the month costs."""
    return CostProblem(
        tiers=tuple(tier_boxes(month, roster)),
        columns=tuple(sorted({(use.demand, column_of(use.demand)) for use in needs.uses})),
        facts=(*material_facts(month, buying), *made_facts(month)),
        requirements=needs,
        cutting=cutting,
        buying=buying,
        packing=packing,
        shipping=shipping,
        crew_cost_per_hour=month.club.crew_cost_per_hour,
        charges=month.charges,
        exponent=Currency(month.club.currency).exponent,
    )


def tier_boxes(month: Month, roster: RosterResult) -> Iterator[TierBoxes]:
    """Yield each tier with the kits it sends."""
    kits: Counter[str] = Counter()
    for one in roster.classes:
        kits[one.contents.tier] += one.boxes if one.contents.kit else 0
    for tier in month.tiers:
        yield TierBoxes(code=tier.code, name=tier.name, price=tier.price, boxes=kits[tier.code])


def column_of(demand: str) -> str:
    """Return the column of the cost table that pays for a demand: its tier, or one-off orders."""
    return tier_of(demand) or ONE_OFF


def material_facts(month: Month, buying: BuyingResult) -> Iterator[MaterialFacts]:
    """Yield heading, shelf value and cost on order of each material."""
    values = {line.item: line.value_each for line in month.stock}
    coming = {line.need.material: line.coming for line in buying.lines}
    exponent = Currency(month.club.currency).exponent
    for one in month.materials:
        cost = sum((order.quantity * order.price for order in coming[one.code]), Decimal(0))
        yield MaterialFacts(
            item=item(Kind.MATERIAL, one.code),
            name=one.name,
            heading=HEADINGS.get(one.kind, Heading.EXTRAS),
            value_each=values.get(one.code, Decimal(0)),
            due_in_cost=round_money(cost, exponent),
            last_price=last_price(month, one.code),
            written_off=one.leftover is Leftover.WRITTEN_OFF,
        )


def last_price(month: Month, material: str) -> Decimal | None:
    """Return what one cost when it was last ordered, else what the shelf says; None where neither tells."""
    orders = sorted((one for one in month.open_orders if one.material == material), key=lambda one: one.due)
    prices = [line.value_each for line in month.stock if line.item == material] + [
        one.price for one in orders
    ]
    return next((price for price in reversed(prices) if price), None)


def made_facts(month: Month) -> Iterator[MaterialFacts]:
    """Yield heading and shelf value of what the club cuts: pieces are paper, lengths are extras."""
    values = {line.item: line.value_each for line in month.stock}
    names = {one.code: one.name for one in month.materials}
    for one in all_pre_cuts(month):
        value = values.get(one.code, Decimal(0))
        yield MaterialFacts(
            item=item(Kind.PIECE, one.code), name=one.name, heading=Heading.PAPER, value_each=value
        )
    for code, length in sorted(
        {(line.item, line.length) for line in month.kit_lines if line.length is not None}
    ):
        name = f"{names[code]}, {format_length(length)}"
        yield MaterialFacts(
            item=item(Kind.LENGTH, length_code(code, length)), name=name, heading=Heading.EXTRAS
        )
