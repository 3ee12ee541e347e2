"""A problem in the smallest whole numbers: each side in units of what its lengths have in common."""

from dataclasses import dataclass
from math import gcd

from kits.guillotine.sheet import SheetProblem
from kits.guillotine.table import Block
from kits.guillotine.tree import Piece
from kits.measures import Length

EASY = 300_000_000  # sums up to which the wider numbers that weigh cuts as well cost next to nothing


@dataclass(frozen=True, slots=True)
class Hold:
    """What the machine must hold along one side, where some piece is narrower than that.

    waste: how long an offcut must be to be held. part: how long a part must be, its spacing included.
    """

    waste: int
    part: int


@dataclass(frozen=True, slots=True)
class Scaled:
    """A problem in the smallest whole numbers.

    The spacing is part of each block and of the sheet; each side is in units of what the blocks have in
    common there, and worth in units of what the values have in common.
    lying: the piece that each block is, in its own size. owners: which of the wanted pieces that is.
    width, height: of the sheet, in whole units. wide, high: those units. unit: the value of 1 of worth.
    hold_across, hold_down: None where every piece is wide or high enough to be held.
    """

    lying: tuple[Piece, ...]
    owners: tuple[int, ...]
    blocks: tuple[Block, ...]
    width: int
    height: int
    wide: int
    high: int
    unit: int
    hold_across: Hold | None
    hold_down: Hold | None

    def bound(self, width: int, height: int) -> int:
        """The worth of a part that the piece worth most for its area covered without waste."""
        return max(block.worth * width * height // (block.width * block.height) for block in self.blocks)

    def weight(self, bound: int, work: int) -> int:
        """What to multiply worth by so that the cuts of a plan weigh less than 1 of it; 1 if that is dear.

        With equal strips cut together no plan has more cuts than pieces; where an offcut must be held, each
        of the parts, which are fewer than twice the pieces, may have two more.
        """
        most = max(self.width * self.height // (block.width * block.height) for block in self.blocks)
        most *= 5 if self.hold_across or self.hold_down else 1
        if bound >= 2**62:
            raise ValueError("the values of the pieces are too large: choose a larger unit for them")
        return most if bound * most < (2**62 if work <= EASY else 2**31) else 1


def scaled(problem: SheetProblem) -> Scaled:
    """Return the problem in whole numbers as small as can be."""
    spacing, clamp = problem.spacing, problem.clamp
    owned = [
        (Piece(piece.name, width, height, turned), owner)
        for owner, piece in enumerate(problem.pieces)
        for width, height, turned in piece.ways
        if width <= problem.usable_width and height <= problem.usable_height
    ]
    lying, owners = zip(*owned, strict=True)
    worths = [problem.pieces[owner].worth for owner in owners]
    wide, hold_across = _unit([piece.width for piece in lying], problem.usable_width, spacing, clamp)
    high, hold_down = _unit([piece.height for piece in lying], problem.usable_height, spacing, clamp)
    unit = gcd(*worths) or 1
    blocks = tuple(
        Block((piece.width + spacing) // wide, (piece.height + spacing) // high, worth // unit)
        for piece, worth in zip(lying, worths, strict=True)
    )
    width, height = (problem.usable_width + spacing) // wide, (problem.usable_height + spacing) // high
    return Scaled(lying, owners, blocks, width, height, wide, high, unit, hold_across, hold_down)


def _unit(lengths: list[Length], sheet: Length, spacing: Length, clamp: Length) -> tuple[Length, Hold | None]:
    """Return the unit of one side, and what must be held along it."""
    unit = gcd(*(length + spacing for length in lengths))
    if min(lengths) >= clamp:
        return unit, None
    unit = gcd(unit, clamp, sheet + spacing)  # as an offcut counts in full where it must be held
    return unit, Hold(clamp // unit, -(-(clamp + spacing) // unit))
