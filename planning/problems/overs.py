"""The overs step's question: what the operations spoil, and what to have while the count of boxes is not known.

The tiers of the Count outlook sheet are uncertain, and where the month is forecast all others that somebody took of late;
the rest of the boxes are as many as the roster says. What a box takes of a material is what this month's plan takes for it,
whole and in pieces cut from it, with overs in percent.
"""

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import Leftover, Material, Terms
from planning.buying import BuyingResult, BuyLine
from planning.cutting import CuttingResult
from planning.forecast import ForecastResult
from planning.month import Month
from planning.names import names_of
from planning.overs import (
    Count,
    OversProblem,
    Part,
    PriceStep,
    QuantilePoint,
    Quantiles,
    Run,
    Stocked,
    Triangle,
)
from planning.overs.rows import Outlook
from planning.problems.forecast import tier_counts
from planning.problems.requirements import operations_of
from planning.problems.takes import kits_by_tier, takes_by_tier
from planning.problems.terms import terms_of
from planning.requirements import Kind, RequirementsResult, item

PERCENT = 100
FINE = Decimal("0.000001")  # units a box takes are told to this


def overs_problem(
    month: Month,
    needs: RequirementsResult,
    cutting: CuttingResult,
    buying: BuyingResult,
    forecast: ForecastResult | None = None,
) -> OversProblem:
    """Ask what is spoiled, how many kits of each uncertain tier to be ready for, and how much of each material."""
    asked = Asked(month, needs, cutting, buying, forecast)
    return OversProblem(
        runs=tuple(runs(month, needs)), stocked=(*asked.kits(), *asked.materials()) if asked.counts else ()
    )


def runs(month: Month, needs: RequirementsResult) -> Iterator[Run]:
    """Yield every item with operations, and the good count the month wants of it."""
    called = names_of(month)
    for code, operations in operations_of(month).items():
        for name in (item(Kind.MATERIAL, code), item(Kind.PIECE, code)):
            line = needs.of(name)
            if line is not None:
                yield Run(code=name, name=called[name], good=line.good, operations=operations)


class Asked:
    """The month's answers, looked up for what is uncertain."""

    def __init__(
        self,
        month: Month,
        needs: RequirementsResult,
        cutting: CuttingResult,
        buying: BuyingResult,
        forecast: ForecastResult | None = None,
    ) -> None:
        self.month = month
        expected = tier_counts(month, forecast)
        typed = {row.tier: count_of(row, month) or expected.get(row.tier) for row in month.outlooks}
        counts = {**expected, **typed}
        self.counts = {one.code: count for one in month.tiers if (count := counts.get(one.code))}
        self.short_cost = {one.code: one.price for one in month.tiers} | {
            row.tier: row.short_cost for row in month.outlooks
        }
        self.boxes = kits_by_tier(needs)
        self.lines = {line.need.material: line for line in buying.lines}
        self.takes = takes_by_tier(needs, cutting)
        self.chosen = {row.item: row.quantity for row in month.choices}
        self.terms: defaultdict[str, list[Terms]] = defaultdict(list)
        for terms in terms_of(month):
            self.terms[terms.offer.material].append(terms)

    def each(self, tier: str, material: str) -> Decimal:
        """Return what one box of a tier takes of a material, overs in percent included."""
        line = self.lines[material].need
        good = line.in_boxes + line.in_cutting
        overs = Fraction(line.total, good) if good else Fraction(1)
        boxes = self.boxes[tier]
        units = self.takes[tier][material] * overs / boxes if boxes else Fraction(0)
        return (Decimal(units.numerator) / Decimal(units.denominator)).quantize(FINE)

    def kits(self) -> Iterator[Stocked]:
        """Yield each uncertain tier as a whole kit: all its materials at their prices."""
        names = {tier.code: tier.name for tier in self.month.tiers}
        for tier, count in self.counts.items():
            prices = [(self.each(tier, one.code), one) for one in self.month.materials]
            price = sum((units * self.price(one) for units, one in prices), Decimal(0))
            worth = sum((units * self.worth(one) for units, one in prices), Decimal(0))
            yield Stocked(
                code=item(Kind.KIT, tier),
                name=names[tier],
                parts=(Part(count=count),),
                short=self.short_cost[tier],
                prices=(PriceStep(from_quantity=1, price=price.quantize(FINE)),),
                worth=min(worth, price).quantize(FINE),
                chosen=self.chosen.get(tier),
            )

    def materials(self) -> Iterator[Stocked]:
        """Yield each material that boxes of an uncertain tier take."""
        for one in self.month.materials:
            parts = tuple(
                Part(count=count, each=each)
                for tier, count in self.counts.items()
                if (each := self.each(tier, one.code)) > 0
            )
            if parts:
                yield self.stocked(one, parts)

    def stocked(self, one: Material, parts: tuple[Part, ...]) -> Stocked:
        """Return a material with what is wanted of it, its best offer and what is there already."""
        line = self.lines[one.code]
        terms = self.offer_of(line)
        steps = (
            [PriceStep(from_quantity=each.from_quantity, price=each.price) for each in terms.breaks]
            if terms
            else []
        )
        uncertain = sum((self.each(tier, one.code) * self.boxes[tier] for tier in self.counts), Decimal(0))
        return Stocked(
            code=item(Kind.MATERIAL, one.code),
            name=one.name,
            parts=parts,
            plus=max(Decimal(line.need.total) - uncertain, Decimal(0)),
            short=self.short_of(one),
            prices=tuple(steps) or (PriceStep(from_quantity=1, price=self.price(one)),),
            worth=self.worth(one),
            on_hand=line.need.there + line.on_order,
            pack=terms.grid if terms else 1,
            minimum=terms.offer.minimum if terms else 0,
            chosen=self.chosen.get(one.code),
        )

    def short_of(self, one: Material) -> Decimal:
        """Return what one unit short costs: of the tiers that take it, what their short boxes cost for each unit."""
        units = boxes = Decimal(0)
        for tier in self.counts:
            units += self.each(tier, one.code) * self.boxes[tier]
            boxes += self.short_cost[tier] * self.boxes[tier] if self.each(tier, one.code) else 0
        return (boxes / units).quantize(FINE) if units else Decimal(0)

    def offer_of(self, line: BuyLine) -> Terms | None:
        """Return the terms a material is bought on: those chosen, else those that start lowest."""
        offers = self.terms[line.need.material]
        chosen = [one for one in offers if line.offer is not None and one.offer.code == line.offer.code]
        return next(iter(chosen), min(offers, key=lambda one: one.breaks[0].price, default=None))

    def price(self, one: Material) -> Decimal:
        """Return what one more unit costs: as it is bought this month, else at the first price, else as on the shelf."""
        line = self.lines[one.code]
        if line.offer is not None:
            return line.price
        if terms := self.offer_of(line):
            return terms.breaks[0].price
        return next((row.value_each for row in self.month.stock if row.item == one.code), Decimal(0))

    def worth(self, one: Material) -> Decimal:
        """Return what one left over is worth: the club's share of its lowest price, nothing where it is written off."""
        if one.leftover is Leftover.WRITTEN_OFF:
            return Decimal(0)
        prices = [each.price for terms in self.terms[one.code] for each in terms.breaks]
        return min(prices, default=self.price(one)) * self.month.club.leftover_percent / PERCENT


def count_of(row: Outlook, month: Month) -> Count | None:
    """Return a tier's count as it is told, by low, likely and high, or by quantiles; None where it is to be forecast."""
    if row.low is not None and row.likely is not None and row.high is not None:
        return Triangle(Decimal(row.low), Decimal(row.likely), Decimal(row.high))
    told = tuple(
        QuantilePoint(each.percent, Decimal(each.boxes)) for each in month.quantiles if each.tier == row.tier
    )
    return Quantiles(told) if told else None
