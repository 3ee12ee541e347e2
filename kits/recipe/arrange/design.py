"""Arrange a whole recipe: the trims of every paper, each piece sent to its page, equal first cuts made together."""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from kits.guillotine import Cut, Offcut, Part, Piece
from kits.recipe.arrange.arrange import arrange
from kits.recipe.arrange.problem import Arrangement, ArrangeProblem, PieceToCut
from kits.recipe.design import CutSheet, Design, Lift, PagePiece, Paper, Section, WantedPiece
from kits.recipe.recipe import CutBy

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class ArrangedDesign:
    """A design with new trims, and for each paper role that pieces are cut from how good they are."""

    design: Design
    results: dict[str, Arrangement]


def arrange_design(design: Design, roles: Collection[str] | None = None) -> ArrangedDesign:
    """Return a design with the best trims found for some of its papers (or all), in place of those it had.

    Each of these papers has as many sheets as that takes; one that nothing is cut from is left whole. Raises
    ArrangeError.
    """
    chosen = {paper.role for paper in design.papers} if roles is None else set(roles)
    results = {
        paper.role: arrange(problem)
        for paper in design.papers
        if paper.role in chosen and (problem := problem_of(design, paper))
    }
    papers = tuple(
        replace(paper, sheets=len(results[paper.role].sheets)) if paper.role in results else paper
        for paper in design.papers
    )
    new = [
        sheet
        for paper in papers
        if paper.role in chosen
        for sheet in _sheets(design, paper, results.get(paper.role))
    ]
    lifts = (*_without(design.lifts, chosen), *lifts_of(new, design.trimmer.sheets))
    comments = tuple(each for each in design.comments if each.section is not Section.SHEETS)
    return ArrangedDesign(replace(design, papers=papers, lifts=lifts, comments=comments), results)


def _without(lifts: Iterable[Lift], roles: Collection[str]) -> Iterator[Lift]:
    for lift in lifts:
        kept = tuple(sheet for sheet in lift.sheets if sheet.role not in roles)
        if kept:
            yield Lift(kept)


def problem_of(design: Design, paper: Paper) -> ArrangeProblem | None:
    """Return what is to be cut from a paper by the subscriber; None if that is nothing."""
    pieces: dict[str, PieceToCut] = {}
    for each in _cut_from(design, paper):
        before = pieces.get(each.piece)
        count = each.count + (before.count if before else 0)
        pieces[each.piece] = PieceToCut(each.piece, each.width, each.height, count, each.turn)
    if not pieces:
        return None
    wanted = tuple(pieces.values())
    return ArrangeProblem(paper.width, paper.height, wanted, design.ruler, design.trimmer.length)


def _cut_from(design: Design, paper: Paper) -> Iterator[WantedPiece]:
    return (each for each in design.pieces if each.role == paper.role and each.cut_by is CutBy.SUBSCRIBER)


def _sheets(design: Design, paper: Paper, result: Arrangement | None) -> Iterator[CutSheet]:
    whole = (Offcut(paper.width, paper.height),) * paper.sheets
    trees = _alike_together(result.sheets, _shape) if result else whole
    pages = {each.piece: list[str]() for each in design.pieces}
    for each in _cut_from(design, paper):
        pages[each.piece] += [each.page] * each.count
    for number, tree in enumerate(trees, 1):
        yield CutSheet(paper.role, number, _sent(tree, pages))


def _sent(part: Part, pages: dict[str, list[str]]) -> Part:
    """Return a part with each of its pieces sent to the next page that waits for one."""
    if isinstance(part, Cut):
        return replace(part, parts=tuple(_sent(each, pages) for each in part.parts))
    if isinstance(part, Piece):
        return PagePiece(part.name, part.width, part.height, part.turned, page=pages[part.name].pop(0))
    return part


def lifts_of(sheets: Iterable[CutSheet], most: int) -> tuple[Lift, ...]:
    """Return sheets in lifts of at most so many: those of one size whose first cut is the same, best all of them."""
    lifts: list[list[CutSheet]] = []
    for sheet in _alike_together(list(sheets), lambda sheet: _shape(sheet.tree)):
        key = _first_cut(sheet)
        lift = next((each for each in lifts if key and _first_cut(each[0]) == key and len(each) < most), None)
        if lift is None:
            lifts.append([sheet])
        else:
            lift.append(sheet)
    return tuple(Lift(tuple(lift)) for lift in lifts)


def _alike_together(some: Sequence[T], shape: Callable[[T], object]) -> list[T]:
    """Return the same with those of one shape side by side."""
    first: dict[object, int] = {}
    for number, each in enumerate(some):
        first.setdefault(shape(each), number)
    return sorted(some, key=lambda each: first[shape(each)])


def _shape(part: Part) -> object:
    """Return what is the same of parts that are cut the same way, whatever their pieces are."""
    if not isinstance(part, Cut):
        return None
    return part.width, part.height, part.direction, part.marks, tuple(map(_shape, part.parts))


def _first_cut(sheet: CutSheet) -> tuple[object, ...] | None:
    tree = sheet.tree
    if not isinstance(tree, Cut):
        return None
    return tree.width, tree.height, tree.direction, tree.marks[-1]
