"""The buying step's question: what the month uses of each material, by when, and who sells it."""

from collections import Counter
from collections.abc import Iterator

from kits.catalogue import Leftover
from kits.measures import Currency
from planning.buying import BuyingProblem, Need
from planning.cutting import CuttingResult
from planning.month import Month
from planning.problems.requirements import bill_of
from planning.problems.takes import extra_units
from planning.problems.terms import terms_of
from planning.problems.working_days import club_calendar, suppliers_calendar
from planning.requirements import (
    BillLine,
    Kind,
    RequirementsProblem,
    RequirementsResult,
    code_of,
    item,
    kind_of,
    lead_offsets,
)


def buying_problem(month: Month, needs: RequirementsResult, cutting: CuttingResult) -> BuyingProblem:
    """Ask for every material of the catalogue, used or not, so that each gets a line."""
    return BuyingProblem(
        needs=tuple(material_needs(month, needs, cutting)),
        terms=tuple(terms_of(month)),
        suppliers=month.suppliers,
        open_orders=month.open_orders,
        calendar=suppliers_calendar(month),
        planned_on=month.club.planned_on,
        exponent=Currency(month.club.currency).exponent,
        order_cost=month.club.order_cost,
        holding_percent=month.club.holding_percent,
        leftover_percent=month.club.leftover_percent,
        leftover_months=month.club.leftover_months,
    )


def material_needs(month: Month, needs: RequirementsResult, cutting: CuttingResult) -> Iterator[Need]:
    """Yield one need a material: whole units, overs, and sheets or rolls for cutting."""
    lines = {line.item: line for line in needs.lines}
    cut = sources_cut(cutting)
    offsets = start_offsets(month, cutting)
    on_hand = {line.item: line.on_hand for line in month.stock}
    calendar = club_calendar(month)
    extra = extra_units(month, needs, cutting)
    for one in month.materials:
        name = item(Kind.MATERIAL, one.code)
        line = lines.get(name)
        yield Need(
            material=one.code,
            name=one.name,
            unit=one.unit,
            in_boxes=line.good if line else 0,
            overs=line.overs if line else 0,
            in_cutting=cut[one.code],
            on_hand=on_hand.get(one.code, 0),
            cut=cutting.made[name],
            need_by=calendar.before(month.club.packing_starts, offsets.get(name, month.club.goods_in_days)),
            used_a_year=one.used_a_year,
            split=one.split,
            keeps=one.leftover is Leftover.KEPT,
            extra=extra.get(one.code, 0),
        )


def sources_cut(cutting: CuttingResult) -> Counter[str]:
    """Count the sheets and rolls each material loses to cutting."""
    cut: Counter[str] = Counter()
    for ticket in cutting.all:
        cut[ticket.source] += ticket.units
    return cut


def start_offsets(month: Month, cutting: CuttingResult) -> dict[str, int]:
    """Return, for each material, how many working days before packing it must be in the house."""
    cut = [
        BillLine(parent=item(Kind.PIECE, code_of(name)), item=item(Kind.MATERIAL, source), per=1)
        if kind_of(name) is Kind.MATERIAL  # a sheet's own size takes as long to cut as a piece
        else BillLine(parent=name, item=item(Kind.MATERIAL, source), per=1)
        for name, sources in cutting.sources.items()
        for source in sources
    ]
    bill = (*bill_of(month), *cut)
    days = {Kind.PIECE: month.club.cutting_days, Kind.LENGTH: month.club.cutting_days}
    days[Kind.MATERIAL] = month.club.goods_in_days
    names = {name for line in bill for name in (line.item, line.parent)}
    lead = {name: days.get(kind_of(name), 0) for name in names}
    return lead_offsets(RequirementsProblem(demands=(), bill=bill), lead)
