"""Which sheets may be cut from larger ones: how many one yields, and what the guillotine asks for it."""

from collections.abc import Iterator

from kits.catalogue import Grain, Material, MaterialKind, Print
from kits.kit import Direction
from planning.buying import Larger, LargerResult
from planning.cutting import CuttingProblem, PieceJob, ways_to_cut
from planning.month import Month
from planning.problems.cutting import cutting_begins, sheet_stock
from planning.requirements import Kind, item

ALONG = {
    Grain.NONE: Direction.ANY,
    Grain.WIDTH: Direction.GRAIN_ALONG_WIDTH,
    Grain.HEIGHT: Direction.GRAIN_ALONG_HEIGHT,
}


def larger_sheets(month: Month) -> tuple[Larger, ...]:
    """Return every way to cut a sheet from a larger one, each on the machine that asks least a piece."""
    return tuple(
        way for one in month.materials for parent in one.cut_from for way in way_to_cut(one, parent, month)
    )


def way_to_cut(one: Material, parent: str, month: Month) -> Iterator[Larger]:
    """Yield the cheapest way to cut a sheet from one larger one; none where no machine yields it."""
    job = size_job(one, (parent,), 1)
    if job is None:
        return
    sheets = tuple(sheet_stock(month))
    tickets = list(
        ways_to_cut(job, CuttingProblem(pieces=(job,), sheets=sheets, guillotines=month.guillotines))
    )
    if tickets:
        best = min(tickets, key=lambda each: (-each.out, each.cost / each.sheets_per_lift))
        yield Larger(
            material=one.code,
            parent=parent,
            out=best.out,
            sheets_per_lift=best.sheets_per_lift,
            cost_per_lift=best.cost,
            need_by=cutting_begins(month),
        )


def size_jobs(month: Month, larger: LargerResult) -> Iterator[PieceJob]:
    """Yield a job for each sheet that is cut from larger ones."""
    materials = {one.code: one for one in month.materials}
    for way in larger.taken:
        job = size_job(materials[way.material], (way.parent,), larger.units_of(way.material))
        if job is not None:
            yield job


def size_job(one: Material, parents: tuple[str, ...], count: int) -> PieceJob | None:
    """Return the job of cutting a sheet's size, None for what has no size. Its grain lies as its own sheets have it."""
    if one.kind is not MaterialKind.SHEET or one.width is None or one.height is None:
        return None
    one_way = one.print is Print.ONE_WAY and one.grain is Grain.NONE
    return PieceJob(
        item=item(Kind.MATERIAL, one.code),
        name=one.name,
        width=one.width,
        height=one.height,
        count=count,
        cut_from=parents,
        direction=Direction.NOT_TURNED if one_way else ALONG[one.grain],
    )
