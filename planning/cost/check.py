"""The checker of the cost step: the table against totals that were never split."""

from collections.abc import Iterator
from decimal import Decimal

from planning.cost.model import CostProblem, CostResult, Heading

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
    yield "postage", result.heading_total(Heading.POSTAGE), problem.shipping.postage
    freight = sum((order.freight + order.setup for order in problem.buying.orders), Decimal(0))
    yield "freight and set-up", result.heading_total(Heading.FREIGHT), freight
    for line in problem.buying.short:
        named = [one.units for one in result.short if one.material == line.need.material]
        yield f"{line.need.name}, short", Decimal(sum(named)), Decimal(line.short)
    yield "all columns", sum((column.total for column in result.columns), Decimal(0)), result.total
    headings = sum((result.heading_total(heading) for heading in Heading), Decimal(0))
    yield "all headings", headings, result.total
    for column in result.columns:
        yield column.name, sum((amount for _, amount in column.by_heading), Decimal(0)), column.total
