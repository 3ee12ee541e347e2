"""How a job is cut from one sheet on one machine: as many out as its knife and its clamp allow."""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import chain

from kits.guillotine import Direction as CutDirection
from kits.guillotine import (
    EdgeTrim,
    NothingToClampError,
    Offcut,
    Part,
    PieceSize,
    PieceTooLargeError,
    SheetProblem,
    best_use,
    divide,
    pieces,
)
from kits.guillotine.lay import trimmed
from kits.measures import Length
from planning.cutting.lie import turn_for
from planning.cutting.machine import Guillotine
from planning.cutting.model import PieceJob, SheetStock

MOST_TRIED = 60  # lengths of a part: each takes a search
EFFORT = 200_000_000  # sums in such a search, see `kits.guillotine.best_use`: enough for pieces of a few centimetres


@dataclass(frozen=True, slots=True)
class Fit:
    """A sheet cut for a job. proved: no guillotine cutting of the sheet, on whatever machine, yields more."""

    tree: Part
    out: int
    proved: bool


def fit(label: str, job: PieceJob, sheet: SheetStock, machine: Guillotine) -> Fit | None:
    """Return the best way found to cut the job on the machine, None where there is none.

    The best way of all is taken where no cut of it is too long for the machine and no strip too narrow; else other
    ways are tried, and of those as good the one without narrow strips is taken.
    """
    asked = question(label, job, sheet)
    return None if asked is None else best_fit(asked, machine)


@lru_cache(
    maxsize=256
)  # how many are wanted does not matter, and the same sheets are asked about at every count
def best_fit(asked: SheetProblem, machine: Guillotine) -> Fit | None:
    """Return the best way found to cut one size from a sheet."""
    best = best_use(asked)
    found: Part | None = None
    score = (0, False)
    for way in chain([best.tree], other_ways(asked, machine)):
        tree = machine.suited(way)
        its = (len(pieces(tree)), machine.too_narrow(tree) is None) if tree else (0, False)
        if its > score and its[0]:
            found, score = tree, its
        if score == (best.value, True):
            break
    return Fit(found, score[0], proved=score[0] == best.bound) if found else None


def question(label: str, job: PieceJob, sheet: SheetStock) -> SheetProblem | None:
    """Ask for the most pieces one sheet yields; None when not one comes out. label: the piece's name in the drawing."""
    turn = turn_for(job.direction, sheet.grain)
    if turn is None:
        return None
    piece = PieceSize(label, job.width, job.height, value=1, turn=turn)
    try:
        return SheetProblem(sheet.width, sheet.height, (piece,), sheet.edge_trim)
    except ValueError:  # too large, or the trims leave nothing
        return None


def other_ways(asked: SheetProblem, machine: Guillotine) -> Iterator[Part]:
    """Yield ways to cut a sheet that may suit a machine better: leaving it strips to hold, and no cut too long."""
    if machine.smallest_strip:
        with suppress(NothingToClampError):
            yield best_use(replace(asked, smallest_strip=machine.smallest_strip)).tree
    trim = asked.edge_trim
    inside = replace(asked, width=asked.usable_width, height=asked.usable_height, edge_trim=EdgeTrim())
    if asked.height > machine.opening >= asked.width:
        yield trimmed(in_parts(inside, CutDirection.LEVEL, machine.opening), trim)
    if asked.width > machine.opening >= asked.height:
        yield trimmed(in_parts(inside, CutDirection.UPRIGHT, machine.opening), trim)


def in_parts(asked: SheetProblem, direction: CutDirection, opening: Length) -> Part:
    """Return a long sheet cut across into parts so short that every later cut fits the opening, each part cut best.

    A part is as long as some pieces in a row: no length between yields more. Of these lengths, evenly chosen where there
    are many, those are taken that together yield most: number by number, the shortest sheet that yields so many. Parts
    that are short enough together are left together, which takes fewer cuts and yields no less.
    """
    rows = rows_of(asked, direction, opening)
    tried = rows[:: len(rows) // MOST_TRIED + 1]
    yields = [(row, out) for row in tried if (out := len(pieces(part(asked, direction, row))))]
    length = asked.height if direction is CutDirection.LEVEL else asked.width
    if not yields:
        return Offcut(asked.width, asked.height)
    shortest: list[tuple[Length, tuple[Length, ...]]] = [(0, ())]
    while shortest[-1][0] <= length:
        more = ((shortest[max(0, len(shortest) - out)], row) for row, out in yields)
        shortest.append(min((taken + row, (*before, row)) for (taken, before), row in more))
    taken, chosen = shortest[-2]
    together = [*joined(chosen, opening), *([length - taken] if taken < length else [])]
    return divide(direction, [part(asked, direction, row) for row in together])


def joined(rows: Sequence[Length], longest: Length) -> list[Length]:
    """Lay rows together as long as they are no longer than allowed, the longest first."""
    together: list[Length] = []
    for row in sorted(rows, reverse=True):
        place = next((n for n, length in enumerate(together) if length + row <= longest), None)
        if place is None:
            together.append(row)
        else:
            together[place] += row
    return together


def rows_of(asked: SheetProblem, direction: CutDirection, longest: Length) -> list[Length]:
    """Return the lengths of pieces in a row, the longest first; of very small pieces not every number is counted."""
    rows = {0}
    for width, height, _ in asked.pieces[0].ways:
        side = height if direction is CutDirection.LEVEL else width
        step = longest // side // MOST_TRIED + 1
        rows = {row + count * side for row in rows for count in range(0, (longest - row) // side + 1, step)}
    return sorted(rows - {0}, reverse=True)


def part(asked: SheetProblem, direction: CutDirection, length: Length) -> Part:
    """Return a part of a sheet, cut across at that length, and cut best itself."""
    level = direction is CutDirection.LEVEL
    width, height = (asked.width, length) if level else (length, asked.height)
    try:
        return best_use(replace(asked, width=width, height=height), EFFORT).tree
    except PieceTooLargeError:
        return Offcut(width, height)
