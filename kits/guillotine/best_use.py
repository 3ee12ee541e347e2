"""The best use of one sheet: the cuts that give pieces of the highest total value, and the proof."""

from collections.abc import Sequence

from kits.guillotine.lay import Item, into_sheet, trimmed
from kits.guillotine.limited import asked, best_limited, within_limits, without_surplus
from kits.guillotine.points import LONGEST_SIDE, Side, Whole, points, side
from kits.guillotine.ruled import best_ruled, is_ruled
from kits.guillotine.scaled import Scaled, scaled
from kits.guillotine.sheet import UNTRIMMED, EdgeTrim, Ended, PieceSize, SheetProblem, SheetResult, Turn
from kits.guillotine.table import Block, fill, start
from kits.guillotine.trace import trace
from kits.guillotine.tree import Offcut, Part, count_pieces
from kits.measures import Length

EFFORT = 6_000_000_000  # sums in the longest loop: some seconds
A_CALL = 50_000  # sums that take as long as one call of numpy
MOST_PARTS = 2**23
FEWEST_POINTS = 2
SHARE = 20  # one in so many of the sums goes into each plan at other prices


def best_use(problem: SheetProblem, effort: int = EFFORT) -> SheetResult:
    """Return the cuts that make the most of a sheet, with as many copies of each piece as that takes.

    Exact, with any number of stages. Of plans of equal value one with few cuts is taken (equal strips counted
    as cut together) wherever that is cheap to know, and waste is kept in few large offcuts.
    Where pieces have limits that matter, exact as well as far as the effort leads; together with stages, a first
    cut or a smallest strip, a plan within all of them and a bound above it.
    effort: about how many sums to work through. Where it is not enough, cuts are tried at fewer places only, and
    fewer ways to keep within the limits: the result is a plan that can be cut, and a bound above it.
    """
    search = scaled(problem)
    result = _without_limits(problem, search, effort)
    limits = {piece.name: piece.limit for piece in problem.pieces if piece.limit is not None}
    counts = count_pieces(result.tree)
    if all(counts.get(name, 0) <= limit for name, limit in limits.items()):
        return result
    kept = without_surplus(result.tree, limits)
    if not is_ruled(problem, search):
        found = best_limited(asked(problem, search), problem.spacing, effort)
        plans = [trimmed(_inside(problem, found.item), problem.edge_trim), kept]
        return _best_of(problem, plans, min(result.bound, found.bound * search.unit))
    found = best_limited(asked(problem, search), problem.spacing, effort // SHARE)
    share = effort // SHARE
    ruled = within_limits(problem, lambda priced: _without_limits(priced, scaled(priced), share))
    return _best_of(problem, [*ruled.plans, kept], min(result.bound, found.bound * search.unit, ruled.bound))


def _without_limits(problem: SheetProblem, search: Scaled, effort: int) -> SheetResult:
    if is_ruled(problem, search):
        ruled = best_ruled(problem, search, effort)
        bound = search.bound(search.width, search.height) if ruled.bound is None else ruled.bound
        return _result(problem, ruled.part, bound * search.unit)
    across, down, is_exact = _sides(search, effort)
    bound = search.bound(int(across.lengths[-1]), int(down.lengths[-1]))
    weight = search.weight(bound, _work(len(across.lengths), len(down.lengths), search))
    blocks = [Block(each.width, each.height, each.worth * weight) for each in search.blocks]
    table = start(blocks, across, down, price=int(weight > 1), most=bound * weight)
    if (
        -(-int(table.worth[-1, -1]) // weight) < bound
    ):  # else rows and columns of one piece are already proved best
        fill(table)
    item = trace(table, blocks, search.lying, problem.spacing)
    return _result(problem, _inside(problem, item), None if is_exact else bound * search.unit)


def _inside(problem: SheetProblem, item: Item | None) -> Part:
    width, height = problem.usable_width, problem.usable_height
    return into_sheet(item, width, height, problem.spacing) if item else Offcut(width, height)


def number_out(
    width: Length,
    height: Length,
    piece_width: Length,
    piece_height: Length,
    turn: Turn = Turn.FREE,
    *,
    edge_trim: EdgeTrim = UNTRIMMED,
    spacing: Length = 0,
    name: str = "piece",
) -> SheetResult:
    """Return how many pieces of one size a sheet yields: the value of the result is their number.

    Raises PieceTooLargeError where not even one fits.
    """
    piece = PieceSize(name, piece_width, piece_height, value=1, turn=turn)
    return best_use(SheetProblem(width, height, (piece,), edge_trim, spacing))


def _result(problem: SheetProblem, inside: Part, bound: int | None) -> SheetResult:
    return _best_of(problem, [trimmed(inside, problem.edge_trim)], bound)


def _best_of(problem: SheetProblem, trees: Sequence[Part], bound: int | None) -> SheetResult:
    """Return the best of some plans. bound: None if it is that plan's own value."""
    worth = {piece.name: piece.worth for piece in problem.pieces}
    values = [sum(count * worth[name] for name, count in count_pieces(tree).items()) for tree in trees]
    value = max(values)
    bound = value if bound is None else bound
    ended = Ended.PROVED if value == bound else Ended.EFFORT
    return SheetResult(trees[values.index(value)], value, bound, ended)


def _sides(search: Scaled, effort: int) -> tuple[Side, Side, bool]:
    """Return both sides of the sheet, and whether they hold every point that matters."""
    widths = tuple(sorted({block.width for block in search.blocks}))
    heights = tuple(sorted({block.height for block in search.blocks}))
    wide, high = -(-search.width // LONGEST_SIDE), -(-search.height // LONGEST_SIDE)
    while True:
        across, down = points(widths, search.width, wide), points(heights, search.height, high)
        columns, rows = _count(across), _count(down)
        if _work(columns, rows, search) <= effort or max(columns, rows) <= FEWEST_POINTS:
            return side(widths, search.width, wide), side(heights, search.height, high), wide == high == 1
        wide, high = (wide * 2, high) if columns >= rows else (wide, high * 2)


def _count(lengths: Whole | None) -> int:
    return MOST_PARTS if lengths is None else len(lengths)


def _work(columns: int, rows: int, search: Scaled) -> int:
    bands = min(columns, 1 + search.width // min(block.width for block in search.blocks))
    work = columns * rows * (columns + rows) // 4 + (columns + bands * rows) * A_CALL
    return work if columns * rows <= MOST_PARTS else work * A_CALL
