"""Bind a recipe to the papers of a month: does each suit its role, and what if another one took its place?"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from kits.catalogue import Print
from kits.measures import Grammage, Length
from kits.recipe.arrange import ArrangeError
from kits.recipe.arrange.design import arrange_design
from kits.recipe.check.faults import Measure
from kits.recipe.check.pieces import way_round_faults
from kits.recipe.design import CutSheet, Design, Paper
from kits.recipe.recipe import CutBy


@dataclass(frozen=True, slots=True)
class SheetPaper:
    """A paper that can be bought, as far as a recipe minds. grammage: None where its maker does not state it."""

    name: str
    width: Length
    height: Length
    print: Print = Print.NO_DIRECTION
    grammage: Grammage | None = None


class MisfitName(StrEnum):
    """Why a paper does not suit a role."""

    NO_PAPER = "has no paper"
    NO_ROLE = "is no paper role of the recipe"
    SIZE = "has the wrong size"
    LYING = "has the right size only on its side, which its print or a piece that may not turn forbids"
    PRINT = "has a print with a top, but pieces would lie with it on its side"
    TOO_LIGHT = "is too light"
    TOO_HEAVY = "is too heavy"
    NO_WEIGHT = "does not state its weight"


@dataclass(frozen=True, slots=True)
class Misfit:
    """A reason why a paper does not suit a role. measure: what was found and what is right."""

    name: MisfitName
    role: str
    paper: str
    measure: str = ""

    def __str__(self) -> str:
        subject = f"{self.role}: {self.paper}" if self.paper else self.role
        return f"{subject} {self.name}" + (f": {self.measure}" if self.measure else "")


def misfits(design: Design, papers: Mapping[str, SheetPaper]) -> tuple[Misfit, ...]:
    """Return everything that keeps a recipe from being made of these papers. papers: one for each role."""
    return tuple(_misfits(design, papers))


def _misfits(design: Design, papers: Mapping[str, SheetPaper]) -> Iterator[Misfit]:
    roles = {paper.role: paper for paper in design.papers}
    for role in papers.keys() - roles.keys():
        yield Misfit(MisfitName.NO_ROLE, role, papers[role].name)
    for role, paper in roles.items():
        if role not in papers:
            yield Misfit(MisfitName.NO_PAPER, role, "")
        else:
            yield from _misfit(design, paper, papers[role])


def _misfit(design: Design, role: Paper, paper: SheetPaper) -> Iterator[Misfit]:
    yield from _size(design, role, paper)
    yield from _print(design, role, paper)
    yield from _weight(role, paper)


def _size(design: Design, role: Paper, paper: SheetPaper) -> Iterator[Misfit]:
    say = Measure(design.ruler)
    size, wanted = (paper.width, paper.height), (role.width, role.height)
    if size == wanted:
        return
    if size != wanted[::-1]:
        measure = f"{say.size(*size)} instead of {say.size(*wanted)}"
        yield Misfit(MisfitName.SIZE, role.role, paper.name, measure)
    elif paper.print is Print.ONE_WAY or not all(
        each.turn for each in design.pieces if each.role == role.role
    ):
        yield Misfit(MisfitName.LYING, role.role, paper.name, say.size(*size))


def _print(design: Design, role: Paper, paper: SheetPaper) -> Iterator[Misfit]:
    """A print with a top must stand upright on the page, on sheets cut by the subscriber and by the club."""
    if paper.print is not Print.ONE_WAY or role.print is Print.ONE_WAY:
        return
    faults = list(way_round_faults(design, frozenset((role.role,))))
    for fault in faults:
        measure = f"{fault.what} on {fault.where}, {fault.measure}"
        yield Misfit(MisfitName.PRINT, role.role, paper.name, measure)
    for piece in design.pieces:
        if piece.role == role.role and piece.cut_by is CutBy.CLUB and piece.turn:
            yield Misfit(
                MisfitName.PRINT, role.role, paper.name, f"{piece.piece}, which the club may cut turned"
            )


def _weight(role: Paper, paper: SheetPaper) -> Iterator[Misfit]:
    if role.lightest is None and role.heaviest is None:
        return
    if paper.grammage is None:
        yield Misfit(MisfitName.NO_WEIGHT, role.role, paper.name)
    elif role.lightest and paper.grammage.gsm < role.lightest.gsm:
        measure = f"{paper.grammage} instead of at least {role.lightest}"
        yield Misfit(MisfitName.TOO_LIGHT, role.role, paper.name, measure)
    elif role.heaviest and paper.grammage.gsm > role.heaviest.gsm:
        measure = f"{paper.grammage} instead of at most {role.heaviest}"
        yield Misfit(MisfitName.TOO_HEAVY, role.role, paper.name, measure)


@dataclass(frozen=True, slots=True)
class Trial:
    """What became of trying a substitute paper in one role.

    misfits: what speaks against it as the recipe stands. recut: the recipe with trims that suit the paper, if new trims
    are all it needs; sheets: how many of the paper they take. why_not: why new trims are of no use, where they were
    tried.
    """

    paper: SheetPaper
    misfits: tuple[Misfit, ...]
    recut: Design | None = None
    sheets: int = 0
    why_not: str = ""

    @property
    def suits(self) -> bool:
        """Whether the paper can take the place of the other without any change."""
        return not self.misfits


def try_paper(design: Design, role: str, paper: SheetPaper) -> Trial:
    """Try a substitute in one role: as the recipe stands, and where its size or print is in the way with new trims.

    Raises KeyError for a role that the recipe does not have.
    """
    wanted = next((each for each in design.papers if each.role == role), None)
    if wanted is None:
        raise KeyError(role)
    against = tuple(_misfit(design, wanted, paper))
    if not against or any(each.name in _BY_WEIGHT for each in against):
        return Trial(paper, against)
    try:
        recut = _recut(design, wanted, paper)
    except ArrangeError as error:
        return Trial(paper, against, why_not=str(error))
    if faults := tuple(_print(recut, wanted, paper)):
        return Trial(paper, against, why_not=str(faults[0]))
    sheets = next(each.sheets for each in recut.papers if each.role == role)
    return Trial(paper, against, recut, sheets)


_BY_WEIGHT = (MisfitName.TOO_LIGHT, MisfitName.TOO_HEAVY, MisfitName.NO_WEIGHT)


def _recut(design: Design, wanted: Paper, paper: SheetPaper) -> Design:
    """Return the recipe with the role as the paper is, and new trims for it. Raises ArrangeError."""
    newly_one_way = paper.print is Print.ONE_WAY and wanted.print is Print.NO_DIRECTION
    runs = Print.ONE_WAY if newly_one_way else wanted.print
    role = replace(wanted, width=paper.width, height=paper.height, print=runs)
    pieces = tuple(
        replace(each, turn=False) if newly_one_way and each.role == role.role else each
        for each in design.pieces
    )
    papers = tuple(role if each.role == role.role else each for each in design.papers)
    return arrange_design(replace(design, papers=papers, pieces=pieces), [role.role]).design


def with_paper_names(design: Design, names: Mapping[str, str]) -> Design:
    """Return a recipe whose paper roles are called by the names of papers; two that play one paper keep their roles.

    A role without a name keeps its own.
    """
    called = {paper.role: names.get(paper.role, paper.role) for paper in design.papers}
    shared = Counter(called.values())
    called = {role: f"{name} ({role})" if shared[name] > 1 else name for role, name in called.items()}
    return replace(
        design,
        papers=tuple(replace(each, role=called[each.role]) for each in design.papers),
        pieces=tuple(replace(each, role=called.get(each.role, each.role)) for each in design.pieces),
        lifts=tuple(
            replace(lift, sheets=tuple(_renamed(sheet, called) for sheet in lift.sheets))
            for lift in design.lifts
        ),
    )


def _renamed(sheet: CutSheet, called: Mapping[str, str]) -> CutSheet:
    return replace(sheet, role=called.get(sheet.role, sheet.role))
