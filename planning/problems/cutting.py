"""The cutting step's question: every piece and length still to be made, and what it may be cut from."""

from collections.abc import Iterator
from fractions import Fraction

from kits.catalogue import MaterialKind
from kits.kit import PreCut
from kits.measures import format_length
from planning.cutting import CuttingProblem, LengthJob, PieceJob, Roll, SheetStock
from planning.month import Month
from planning.problems.requirements import all_pre_cuts, length_code
from planning.problems.terms import terms_of
from planning.requirements import Kind, Requirement, RequirementsResult, item


def cutting_problem(month: Month, needs: RequirementsResult) -> CuttingProblem:
    """Ask for the pieces and lengths the shelf does not cover."""
    wanted = {line.item: line for line in needs.lines if line.net}
    return CuttingProblem(
        pieces=tuple(
            piece_job(one, wanted[name])
            for one in all_pre_cuts(month)
            if (name := item(Kind.PIECE, one.code)) in wanted
        ),
        lengths=tuple(length_jobs(month, wanted)),
        sheets=tuple(sheet_stock(month)),
        rolls=tuple(
            Roll(material=one.code, name=one.name, length=one.roll_length)
            for one in month.materials
            if one.kind is MaterialKind.ROLL and one.roll_length is not None
        ),
        guillotines=month.guillotines,
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
    """Yield the sheets there are, each at the lowest price a first order of it costs."""
    starts = {terms.offer.code: Fraction(terms.breaks[0].price) for terms in terms_of(month)}
    for one in month.materials:
        if one.kind is not MaterialKind.SHEET or one.width is None or one.height is None:
            continue
        prices = [starts[row.code] for row in month.offers if row.material == one.code and row.code in starts]
        yield SheetStock(
            material=one.code,
            name=one.name,
            width=one.width,
            height=one.height,
            grain=one.grain,
            thickness=one.thickness,
            price=min(prices, default=None),
        )
