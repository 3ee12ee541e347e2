"""The chances' question: the plan's own costs, and what of them is not certain yet.

With nothing uncertain a drawn month costs exactly what the cost step says. Goods and cutting are paid for each kit made;
packing, postage and fees for each box sent; all else once. One kit more or fewer takes units at the price the next one is
bought at; where a material reaches another price break, all that the month buys of it has that price, other tiers' share
included. A break is taken as reached where the order rounded up to it costs no more than the one that just suffices.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from math import ceil

from kits.catalogue import Breaks, Material
from planning.buying import BuyingResult
from planning.chances import ChancesProblem, GoodsStep, Line, Per, Range, TierChance
from planning.chances.rows import Uncertain, Unsure
from planning.cost import ColumnCost, CostResult, Heading
from planning.cutting import CuttingResult
from planning.forecast import ForecastResult
from planning.month import Month
from planning.overs import Count, Triangle
from planning.problems.overs import Asked
from planning.requirements import RequirementsResult

GOODS = (Heading.PAPER, Heading.EXTRAS, Heading.PACKAGING, Heading.CUTTING, Heading.SPOILAGE)
BOXES = (Heading.PACKING, Heading.POSTAGE, Heading.FEES, Heading.DAMAGE)
ONCE = "Everything else"
FINE, NOTHING = Decimal("0.0001"), Decimal(0)
FARTHEST = 4  # times the kits planned: price breaks beyond are left out


def chances_problem(
    month: Month,
    needs: RequirementsResult,
    cutting: CuttingResult,
    buying: BuyingResult,
    cost: CostResult,
    forecast: ForecastResult | None,
) -> ChancesProblem | None:
    """Ask what the month may cost and bring in; None where nothing is uncertain, or where no kit is sent."""
    asked = Asked(month, needs, cutting, buying, forecast)
    columns = {one.code: one for one in cost.columns if one.boxes}
    if not columns or not (month.uncertain or any(code in asked.counts for code in columns)):
        return None
    goods = {code: Goods(asked, column) for code, column in columns.items()}
    # boxes damaged in a drawn month are made and sent again in it
    drawn = frozenset({Heading.DAMAGE} if any(row.what is Unsure.DAMAGED for row in month.uncertain) else ())
    posted = tuple(line for column in columns.values() for line in box_lines(column, drawn))
    left_out = sum(
        (amount for one in columns.values() for heading, amount in one.by_heading if heading in drawn),
        NOTHING,
    )
    made = sum((one.total + one.quoted for one in goods.values()), NOTHING)
    rest = cost.total - left_out - made - paid(posted, columns)
    return ChancesProblem(
        tiers=tuple(tier_chance(asked, goods[code]) for code in columns),
        lines=(
            *quoted(asked, tuple(goods.values())),
            *posted,
            Line(name=ONCE, per=Per.MONTH, amount=Range.sure(rest)),
        ),
        spoiled=rate(month, Unsure.SPOILED),
        damaged=rate(month, Unsure.DAMAGED),
        surcharge=rate(month, Unsure.SURCHARGE),
    )


def tier_chance(asked: Asked, goods: "Goods") -> TierChance:
    """Return a tier with what may be wanted of it, and what one kit more or fewer comes to."""
    column = goods.column
    short = asked.short_cost.get(column.code, column.price)
    worth = sum((goods.each(one) * asked.worth(one) for one in asked.month.materials), NOTHING)
    return TierChance(
        code=column.code,
        name=column.name,
        wanted=asked.counts.get(column.code, sure(column.boxes)),
        kits=max(column.boxes, asked.chosen.get(column.code, 0)),
        price=column.price,
        goods=tuple(goods.steps()),
        worth=worth.quantize(FINE, ROUND_FLOOR),
        short=max(short - column.price, NOTHING),
    )


def sure(boxes: int) -> Count:
    """Return a count that is known."""
    return Triangle(Decimal(boxes), Decimal(boxes), Decimal(boxes))


def rate(month: Month, what: Unsure) -> Range:
    """Return a rate in percent; nothing where the month does not say."""
    return next((range_of(row) for row in month.uncertain if row.what is what), Range.sure(NOTHING))


def range_of(row: Uncertain) -> Range:
    """Return what a row says."""
    return Range(row.low, row.likely, row.high)


def box_lines(column: ColumnCost, drawn: frozenset[Heading]) -> Iterator[Line]:
    """Yield what each box of a tier costs; what is lost by rounding down is paid once. drawn: headings that are left out."""
    amounts = dict(column.by_heading)
    for heading in (one for one in BOXES if one not in drawn):
        each = (amounts.get(heading, NOTHING) / column.boxes).quantize(FINE, ROUND_FLOOR)
        if each:
            yield Line(
                name=f"{heading}, {column.code}",
                per=Per.BOX,
                amount=Range.sure(each),
                takes=((column.code, Decimal(1)),),
                surcharged=heading is Heading.POSTAGE,
            )


def paid(lines: tuple[Line, ...], columns: dict[str, ColumnCost]) -> Decimal:
    """Return what the boxes planned pay of some lines."""
    return sum((line.amount.low * columns[tier].boxes for line in lines for tier, _ in line.takes), NOTHING)


def quoted(asked: Asked, goods: "tuple[Goods, ...]") -> Iterator[Line]:
    """Yield a line for each material whose price is not quoted yet."""
    names = {one.code: one for one in asked.month.materials}
    for row in asked.month.uncertain:
        if row.what is Unsure.PRICE:
            one = names[row.item]
            takes = tuple((tier.column.code, units) for tier in goods if (units := tier.units(one)))
            if takes:
                yield Line(
                    name=f"Price of {one.name} ({one.code})", per=Per.KIT, amount=range_of(row), takes=takes
                )


@dataclass(frozen=True, slots=True)
class Band:
    """From so many units on one more costs `price`; all of them cost price x units + base."""

    units: Decimal
    price: Decimal
    base: Decimal = NOTHING


class Goods:
    """What the goods of a tier cost, by kits made. quoted: what the plan takes for those whose price is not quoted yet."""

    def __init__(self, asked: Asked, column: ColumnCost) -> None:
        self.asked, self.column = asked, column
        self.quotes = {row.item for row in asked.month.uncertain if row.what is Unsure.PRICE}
        amounts = dict(column.by_heading)
        self.cutting = amounts.get(Heading.CUTTING, NOTHING) / column.boxes
        quotes = (one for one in asked.month.materials if one.code in self.quotes)
        priced = (
            (self.units(one) * self.asked.price(one)).quantize(FINE, ROUND_HALF_UP) * column.boxes
            for one in quotes
            if not asked.lines[one.code].short
        )
        self.quoted = sum(priced, NOTHING)
        self.total = sum((amounts.get(one, NOTHING) for one in GOODS), NOTHING) - self.quoted

    def each(self, one: Material) -> Decimal:
        """Return what a kit takes of a material."""
        return self.asked.each(self.column.code, one.code)

    def units(self, one: Material) -> Decimal:
        """Return the part of it that this month buys, as finely as a line counts; the rest has its price already."""
        total = self.asked.lines[one.code].need.total
        share = self.bought(one) / total if total else NOTHING
        return (self.each(one) * share).quantize(FINE, ROUND_HALF_UP)

    def steps(self) -> Iterator[GoodsStep]:
        """Yield what kits cost from each number of them on at which some price changes."""
        taken = [
            (self.each(one), self.bought(one), self.bands(one))
            for one in self.asked.month.materials
            if one.code not in self.quotes and self.each(one)
        ]
        kits, most = self.column.boxes, FARTHEST * self.column.boxes
        starts = {1}
        for each, bought, bands in taken:
            reached = (kits + ceil((band.units - bought) / each) for band in bands[1:])
            starts |= {start for start in reached if 1 < start <= most}
        planned, base = self.at(kits, taken)
        for start in sorted(starts):
            price, paid_once = self.at(start, taken)
            once = self.total - planned * kits + (paid_once - base)
            yield GoodsStep(from_kits=start, each=price, once=once.quantize(FINE, ROUND_HALF_UP))

    def at(self, made: int, taken: "list[tuple[Decimal, Decimal, list[Band]]]") -> tuple[Decimal, Decimal]:
        """Return what one kit more costs once so many are made, and what all others of the month's units then cost."""
        price, base = self.cutting, NOTHING
        for each, bought, bands in taken:
            units = bought + (made - self.column.boxes) * each
            band = next((one for one in reversed(bands) if one.units <= units), bands[0])
            price += each * band.price
            base += band.price * (bought - self.column.boxes * each) + band.base
        return price.quantize(FINE, ROUND_HALF_UP), base

    def bought(self, one: Material) -> Decimal:
        """Return the units of a material that the month uses out of its own order."""
        line = self.asked.lines[one.code]
        return Decimal(max(0, line.need.total - line.need.there - line.on_order))

    def bands(self, one: Material) -> list[Band]:
        """Return a material's prices, rising by units; one alone where no need of this month decides what is ordered."""
        line = self.asked.lines[one.code]
        terms = self.asked.offer_of(line)
        if line.offer is None or terms is None or line.need.used_a_year is not None:
            return [Band(NOTHING, self.asked.price(one))]
        bands = [Band(NOTHING, terms.breaks[0].price)]
        for before, after in zip(terms.breaks, terms.breaks[1:], strict=False):
            start = Decimal(after.from_quantity)
            if terms.offer.breaks is Breaks.INCREMENTAL:
                base = bands[-1].base + (before.price - after.price) * (start - 1)
                bands.append(Band(start, after.price, base))
                continue
            pays = start * after.price / before.price if before.price > after.price else start
            # the plan weighs more than one material at a time: what it did for other reasons stays so
            if after.from_quantity <= line.quantity and pays > self.bought(one):
                pays = NOTHING
            elif after.from_quantity > line.quantity and pays <= self.bought(one):
                pays = max(start, self.bought(one) + 1)
            bands.append(Band(max(pays, bands[-1].units), after.price))
        return bands
