"""The cutting step's question: every piece and length still to be made, and what it may be cut from."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal

from kits.catalogue import MaterialKind, Terms
from kits.kit import PreCut
from kits.measures import Currency, format_length
from planning.cutting import CuttingProblem, LengthJob, PieceJob, Roll, SheetStock, Supply
from planning.month import Month
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts
from planning.problems.terms import soonest, terms_of
from planning.problems.working_days import club_calendar
from planning.requirements import Kind, Requirement, RequirementsResult, item


def cutting_problem(
    month: Month, needs: RequirementsResult, sizes: Iterable[PieceJob] = (), *, quick: bool = False
) -> CuttingProblem:
    """Ask for the pieces and lengths the shelf does not cover, and what the sheets they may come from would cost.

    sizes: sheets that are cut from larger ones besides. quick: content with a good plan at once.
    """
    wanted = {line.item: line for line in needs.lines if line.net}
    return CuttingProblem(
        pieces=(
            *(
                piece_job(one, wanted[name])
                for one in all_pre_cuts(month)
                if (name := item(Kind.PIECE, one.code)) in wanted
            ),
            *sizes,
        ),
        lengths=tuple(length_jobs(month, wanted)),
        sheets=tuple(sheet_stock(month)),
        supplies=tuple(supplies(month, needs)),
        rolls=tuple(
            Roll(material=one.code, name=one.name, length=one.roll_length)
            for one in month.materials
            if one.kind is MaterialKind.ROLL and one.roll_length is not None
        ),
        guillotines=month.guillotines,
        quick=quick,
    )


def piece_job(pre_cut: PreCut, line: Requirement) -> PieceJob:
    """Return one pre-cut's job; what the shelf covers is taken off the good pieces first."""
    overs = min(line.overs, line.net)
    return PieceJob(
        item=line.item,
        name=pre_cut.name,
        width=pre_cut.width,
        height=pre_cut.height,
        count=line.net - overs,
        overs=overs,
        cut_from=pre_cut.cut_from,
        direction=pre_cut.direction,
    )


def length_jobs(month: Month, wanted: dict[str, Requirement]) -> Iterator[LengthJob]:
    """Yield a job for each different length of each roll."""
    names = {one.code: one.name for one in month.materials}
    for code, length in sorted(
        {(line.item, line.length) for line in month.kit_lines if line.length is not None}
    ):
        line = wanted.get(item(Kind.LENGTH, length_code(code, length)))
        if line is not None:
            yield LengthJob(
                item=line.item,
                name=f"{names[code]}, {format_length(length)}",
                length=length,
                count=line.net - line.overs,
                overs=line.overs,
                cut_from=code,
            )


def sheet_stock(month: Month) -> Iterator[SheetStock]:
    """Yield the sheets there are."""
    for one in month.materials:
        if one.kind is not MaterialKind.SHEET or one.width is None or one.height is None:
            continue
        yield SheetStock(
            material=one.code,
            name=one.name,
            width=one.width,
            height=one.height,
            grain=one.grain,
            thickness=one.thickness,
            trim=one.edge_trim,
        )


def supplies(month: Month, needs: RequirementsResult) -> Iterator[Supply]:
    """Yield where the sheets of each material come from by the day cutting begins."""
    begins = cutting_begins(month)
    on_hand = {line.item: line.on_hand for line in month.stock}
    values = {one.material: one.price for one in month.open_orders}
    values |= {line.item: line.value_each for line in month.stock}
    whole = {line.item: line.good + line.overs for line in needs.lines}
    offers: defaultdict[str, list[Terms]] = defaultdict(list)
    for one in terms_of(month):
        offers[one.offer.material].append(one)
    for sheet in sheet_stock(month):
        code = sheet.material
        coming = [order for order in month.open_orders if order.material == code]
        terms, is_late = soonest(offers[code], begins, month)
        yield Supply(
            material=code,
            whole=whole.get(item(Kind.MATERIAL, code), 0),
            in_time=on_hand.get(code, 0) + sum(order.quantity for order in coming if order.due <= begins),
            coming=sum(order.quantity for order in coming if order.due > begins),
            terms=terms,
            is_late=is_late,
            value_each=values.get(code, Decimal(0)),
            exponent=Currency(month.club.currency).exponent,
        )


def cutting_begins(month: Month) -> date:
    """Return the day by which sheets for cutting must be in the house."""
    days = month.club.goods_in_days + month.club.cutting_days
    return club_calendar(month).before(month.club.packing_starts, days)
