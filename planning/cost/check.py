"""The checker of the cost step: the table against totals that were never split."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from kits.measures import round_money
from planning.cost.headings import Heading
from planning.cost.model import CostProblem, CostResult
from planning.cost.rows import ChargeKind
from planning.requirements import Kind, item

GOODS = (Heading.PAPER, Heading.EXTRAS, Heading.PACKAGING, Heading.SPOILAGE)


def cost_faults(problem: CostProblem, result: CostResult) -> tuple[str, ...]:
    """Return every sum in the table that is not the whole it was split from."""
    return tuple(
        f"{name}: {found} in the table, {whole} in the books"
        for name, found, whole in sums(problem, result)
        if found != whole
    )


def sums(problem: CostProblem, result: CostResult) -> Iterator[tuple[str, Decimal, Decimal]]:
    """Yield name, sum found in the table, and the whole it must make."""
    goods = sum((result.heading_total(heading) for heading in GOODS), Decimal(0))
    yield "goods used", goods, result.opening + result.bought - result.closing
    yield "goods on the shelf", sum((one.used for one in result.kept), Decimal(0)), goods
    yield "passed on by larger sheets", sum((one.passed for one in result.kept), Decimal(0)), Decimal(0)
    yield "postage", result.heading_total(Heading.POSTAGE), problem.shipping.postage
    beyond = sum((max(day.minutes - day.capacity, Decimal(0)) for day in problem.shipping.days), Decimal(0))
    paid = round_money(Fraction(beyond * problem.shipping.overtime_cost) / 60, problem.exponent)
    yield "overtime", result.heading_total(Heading.OVERTIME), paid
    freight = sum((order.freight + order.setup for order in problem.buying.orders), Decimal(0))
    yield "freight and set-up", result.heading_total(Heading.FREIGHT), freight
    lots = sum((one.landed for one in result.lots), Decimal(0))
    yield "landed lots", lots, materials_there(problem) + result.heading_total(Heading.FREIGHT)
    once = sum((one.once for one in problem.charges if one.kind is ChargeKind.DESIGN), Decimal(0))
    each = any(one.each for one in problem.charges if one.kind is ChargeKind.DESIGN)
    if not each:
        yield "design", result.heading_total(Heading.DESIGN), once
    for line in problem.buying.short:
        named = [one.units for one in result.short if one.material == line.need.material]
        yield f"{line.need.name}, short", Decimal(sum(named)), Decimal(line.short)
    yield "all columns", sum((column.total for column in result.columns), Decimal(0)), result.total
    headings = sum((result.heading_total(heading) for heading in Heading), Decimal(0))
    yield "all headings", headings, result.total
    for column in result.columns:
        yield column.name, sum((amount for _, amount in column.by_heading), Decimal(0)), column.total


def materials_there(problem: CostProblem) -> Decimal:
    """Add up what the goods of a month cost before freight: on the shelf, on order and ordered."""
    facts = {one.item: one for one in problem.facts}
    total = Decimal(0)
    for line in problem.buying.lines:
        fact = facts[item(Kind.MATERIAL, line.need.material)]
        total += round_money(line.need.on_hand * fact.value_each, problem.exponent) + line.goods
        total += sum(round_money(one.quantity * one.price, problem.exponent) for one in line.coming)
    return total
