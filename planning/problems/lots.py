"""The lots step's question: what this month and those to come use of the materials that have a forecast."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from kits.catalogue import Breaks, Material, Terms
from planning.buying import BuyingResult
from planning.calendar import YearMonth
from planning.forecast import ForecastResult
from planning.lots import LotMaterial, LotOffer, LotPrice, LotsProblem, LotSupplier
from planning.lots.rows import Forecast
from planning.month import Month
from planning.problems.forecast import expected_boxes
from planning.problems.terms import terms_of
from planning.problems.working_days import suppliers_calendar

MONTHS_A_YEAR = 12
PERCENT = 100
FINE = Decimal("0.000001")  # of the money's unit
NODES = 500  # of the search; it is made again with every plan


def lots_problem(
    month: Month, buying: BuyingResult, boxes: int = 0, forecast: ForecastResult | None = None
) -> LotsProblem | None:
    """Ask when to order how much up to the last month of which anything is known; None where there is no forecast.

    boxes: that this month sends; where a later month's units are not written, as many as for a box of this one are taken for
    every box that is forecast.
    """
    months = months_ahead(month)
    if len(months) == 1:
        return None
    ahead = {row.material for row in month.forecasts}
    terms = [one for one in terms_of(month) if one.offer.material in ahead]
    used = {one.offer.supplier for one in terms}
    return LotsProblem(
        periods=tuple(one.title for one in months),
        materials=tuple(
            lot_material(one, months, terms, month, buying, Later(boxes, forecast))
            for one in month.materials
            if one.code in ahead
        ),
        offers=tuple(lot_offer(one, months, month, buying) for one in terms),
        suppliers=tuple(
            LotSupplier(
                code=one.code, name=one.name, freight=one.freight, free_freight_from=one.free_freight_from
            )
            for one in month.suppliers
            if one.code in used
        ),
        nodes=NODES,
    )


def months_ahead(month: Month) -> tuple[YearMonth, ...]:
    """Return this month and all up to the last that has a forecast."""
    months = [month.club.month]
    last = max((row.needed_in for row in month.forecasts), default=months[0])
    while months[-1] < last:
        now = months[-1]
        months.append(YearMonth(now.year + now.month // 12, now.month % 12 + 1))
    return tuple(months)


@dataclass(frozen=True, slots=True)
class Later:
    """The boxes of this month, and those forecast of later ones."""

    boxes: int
    forecast: ForecastResult | None

    def units(self, row: Forecast, this_month: int) -> int:
        """Return the units a later month needs of a material of which this one uses so many."""
        if row.units is not None:
            return row.units
        later = expected_boxes(self.forecast, row.needed_in)
        return -(-this_month * later // self.boxes) if later and self.boxes else 0


def lot_material(
    one: Material,
    months: tuple[YearMonth, ...],
    terms: list[Terms],
    month: Month,
    buying: BuyingResult,
    ahead: Later,
) -> LotMaterial:
    """Return a material's need month by month: this one's as it is planned, later ones' as they are expected."""
    line = next(line for line in buying.lines if line.need.material == one.code)
    later = {
        row.needed_in: ahead.units(row, line.need.total)
        for row in month.forecasts
        if row.material == one.code
    }
    lowest = min(
        (each.price for offer in terms if offer.offer.material == one.code for each in offer.breaks),
        default=Decimal(0),
    )
    money = lowest * month.club.holding_percent / PERCENT / MONTHS_A_YEAR
    due = [0] * len(months)
    for order in month.open_orders:
        if order.material == one.code:
            here = 0 if order.due <= line.need.need_by else period_of(YearMonth.of(order.due), months)
            due[min(here, len(months) - 1)] += order.quantity
    return LotMaterial(
        code=one.code,
        name=one.name,
        needed=(line.need.total, *(later.get(when, 0) for when in months[1:])),
        on_hand=line.need.there,
        due=tuple(due),
        storage=one.storage + money.quantize(FINE),
    )


def period_of(when: YearMonth, months: tuple[YearMonth, ...]) -> int:
    """Return in which of the months goods that come too late for the first are there."""
    return max(1, sum(one < when for one in months))


def lot_offer(one: Terms, months: tuple[YearMonth, ...], month: Month, buying: BuyingResult) -> LotOffer:
    """Return an offer as the months see it: from the first month on for which it can come in time."""
    calendar, offer = suppliers_calendar(month), one.offer
    need_by = next(line.need.need_by for line in buying.lines if line.need.material == offer.material)
    comes = calendar.after(calendar.on_or_after(month.club.planned_on), offer.lead_days)
    return LotOffer(
        code=offer.code,
        supplier=offer.supplier,
        material=offer.material,
        prices=tuple(lot_prices(one)),
        is_incremental=offer.breaks is Breaks.INCREMENTAL,
        setup=offer.setup_charge,
        pack=one.grid,
        minimum=offer.minimum,
        first=0 if comes <= need_by else min(period_of(YearMonth.of(comes), months), len(months)),
        most=offer.maximum,
    )


def lot_prices(one: Terms) -> Iterator[LotPrice]:
    """Yield an offer's prices."""
    for each in one.breaks:
        yield LotPrice(from_quantity=each.from_quantity, price=each.price)
