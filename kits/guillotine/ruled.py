"""The best use of one sheet where stages, the first cut or the smallest strip are limited."""

from collections.abc import Iterator
from dataclasses import dataclass

from kits.guillotine.held import held_side
from kits.guillotine.scaled import Scaled
from kits.guillotine.sheet import SheetProblem
from kits.guillotine.stack import Machine, Plan, Stack, cut_up, stack
from kits.guillotine.stages import Grid, Stage, stages_to
from kits.guillotine.table import Block
from kits.guillotine.trace_stages import Traces
from kits.guillotine.tree import Direction, Offcut, Part, count_stages
from kits.measures import Length

USUAL = 8  # passes after which a further one seldom helps
FEWEST_POINTS = 8


@dataclass(frozen=True, slots=True)
class Found:
    """The inside of the edge trims as it is cut, and the worth that none can exceed; None if that is not known."""

    part: Part
    bound: int | None


def is_ruled(problem: SheetProblem, search: Scaled) -> bool:
    """Whether it matters in which order and to which side the sheet is cut."""
    return bool(problem.stages or problem.first or search.hold_across or search.hold_down)


def best_ruled(problem: SheetProblem, search: Scaled, effort: int) -> Found:
    """Return the best plan, from a table for every stage.

    Where the effort is not enough, cuts are tried at fewer places: a plan, and no bound.
    """
    most = max(FEWEST_POINTS, int((2 * effort / (problem.stages or USUAL)) ** (1 / 3)))
    widths = frozenset(block.width for block in search.blocks)
    heights = frozenset(block.height for block in search.blocks)
    # That a first cut takes nothing but an offcut off is known only where lengths are those of their pieces.
    across, is_exact_across = held_side(
        widths, search.width, search.hold_across, most, raster=problem.first is not Direction.UPRIGHT
    )
    down, is_exact_down = held_side(
        heights, search.height, search.hold_down, most, raster=problem.first is not Direction.LEVEL
    )
    weight = search.weight(search.bound(search.width, search.height), effort)
    blocks = tuple(Block(each.width, each.height, each.worth * weight) for each in search.blocks)
    grid = Grid(across, down, blocks, price=int(weight > 1))
    tops = list(_tops(problem, search, grid))
    worth, plan = max(((top.worth, top.plan) for top in tops), key=lambda top: top[0])
    is_proved = is_exact_across and is_exact_down and all(top.is_proved for top in tops)
    return Found(laid_out(problem, plan), -(-worth // weight) if is_proved else None)


def machine_of(problem: SheetProblem) -> Machine:
    """Return what decides how a stack is cut."""
    return Machine(problem.spacing, problem.clamp, problem.ruler)


def laid_out(problem: SheetProblem, plan: Plan | None) -> Part:
    """Return the inside of the edge trims cut by a plan, what is left over as one offcut where stages allow."""
    width, height, machine = problem.usable_width, problem.usable_height, machine_of(problem)
    if plan is None:
        return Offcut(width, height)
    if isinstance(plan, Stack) and problem.first is None and (plan.width < width or plan.height < height):
        whole = cut_up(stack(plan.direction.across, [plan], machine), width, height, machine)
        if problem.stages is None or count_stages(whole, final_trim=problem.final_trim) <= problem.stages:
            return whole
    return cut_up(plan, width, height, machine)


@dataclass(frozen=True, slots=True)
class _Top:
    worth: int
    plan: Plan | None
    is_proved: bool = True


def _tops(problem: SheetProblem, search: Scaled, grid: Grid) -> Iterator[_Top]:
    """Yield the best plan for each direction of the first cut, and the piece that needs no cut."""
    machine = machine_of(problem)
    directions = [problem.first] if problem.first else list(Direction)
    for top in directions if problem.stages or problem.first else directions[:1]:
        stages, is_proved = stages_to(top, problem.stages, grid, final_trim=problem.final_trim)
        worth, plan = _top(problem, search, Traces(stages, grid, search.lying, machine))
        yield _Top(worth, plan, is_proved)
    for piece, block in zip(search.lying, grid.blocks, strict=True):
        if (piece.width, piece.height) == (problem.usable_width, problem.usable_height):
            yield _Top(block.worth, piece if block.worth else None)


def _top(problem: SheetProblem, search: Scaled, traces: Traces) -> tuple[int, Plan | None]:
    last, number = traces.stages[-1], len(traces.stages) - 1
    across = _across(problem, search, last, traces.grid)
    if across is None:
        return 0, None
    if problem.first and not _rest(problem, search, traces.grid, last.direction):
        worth, parts = traces.best_first_cut(across)
        return worth, traces.row(number, parts) if worth else None
    along = len(traces.grid.along(last.direction).lengths) - 1
    state = (along, across) if last.direction is Direction.UPRIGHT else (across, along)
    worth = int(last.worth[state])
    plan = traces.plan(number, state) if worth else None
    if plan and problem.first and not (isinstance(plan, Stack) and plan.direction is problem.first):
        plan = stack(problem.first, [plan], traces.machine)
    return worth, plan


def _across(problem: SheetProblem, search: Scaled, last: Stage, grid: Grid) -> int | None:
    """Return the index of the sheet on the side that its first cut does not divide; None if no strip fits it."""
    if not last.exact:
        return len(grid.along(last.direction.across).lengths) - 1
    length, unit = _sheet(problem, search, last.direction.across)
    return next((number for number, exact in enumerate(last.exact) if exact * unit == length), None)


def _rest(problem: SheetProblem, search: Scaled, grid: Grid, direction: Direction) -> Length:
    """Return what is left over of the sheet in any plan."""
    length, unit = _sheet(problem, search, direction)
    return length - int(grid.along(direction).lengths[-1]) * unit


def _sheet(problem: SheetProblem, search: Scaled, direction: Direction) -> tuple[Length, Length]:
    """Return the length of the sheet, its spacing included, that cuts of this direction divide, and its unit."""
    if direction is Direction.UPRIGHT:
        return problem.usable_width + problem.spacing, search.wide
    return problem.usable_height + problem.spacing, search.high
