"""Cut trees: the best use of a sheet with its proof, the checker, the cuts in order, the drawing."""

from kits.guillotine.best_use import best_use, number_out
from kits.guillotine.check import check, check_result
from kits.guillotine.describe import describe
from kits.guillotine.draw import draw_sheet
from kits.guillotine.fault import Fault, FaultName
from kits.guillotine.seams import longest_cut, within
from kits.guillotine.sheet import (
    EdgeTrim,
    Ended,
    NothingToClampError,
    OffRulerError,
    PieceSize,
    PieceTooLargeError,
    SheetProblem,
    SheetResult,
    Turn,
)
from kits.guillotine.steps import Edge, Lot, Step, count_turns, steps
from kits.guillotine.together import Line, count_lines, lines
from kits.guillotine.tree import (
    Cause,
    Cut,
    Direction,
    Offcut,
    Part,
    Piece,
    Placed,
    count_cuts,
    count_pieces,
    count_stages,
    divide,
    largest_offcut,
    offcuts,
    piece_area,
    pieces,
    walk,
)

__all__ = [
    "Cause",
    "Cut",
    "Direction",
    "Edge",
    "EdgeTrim",
    "Ended",
    "Fault",
    "FaultName",
    "Line",
    "Lot",
    "NothingToClampError",
    "OffRulerError",
    "Offcut",
    "Part",
    "Piece",
    "PieceSize",
    "PieceTooLargeError",
    "Placed",
    "SheetProblem",
    "SheetResult",
    "Step",
    "Turn",
    "best_use",
    "check",
    "check_result",
    "count_cuts",
    "count_lines",
    "count_pieces",
    "count_stages",
    "count_turns",
    "describe",
    "divide",
    "draw_sheet",
    "largest_offcut",
    "lines",
    "longest_cut",
    "number_out",
    "offcuts",
    "piece_area",
    "pieces",
    "steps",
    "walk",
    "within",
]
