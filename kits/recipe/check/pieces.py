"""Check that every piece wanted is cut once, from the right paper and the right way round."""

from collections import Counter
from collections.abc import Iterator

from kits.catalogue import Print
from kits.guillotine import Cut, Part, Piece
from kits.recipe.check.faults import Fault, FaultName, Measure
from kits.recipe.design import CutSheet, Design, PagePiece, WantedPiece
from kits.recipe.recipe import CutBy


def piece_faults(design: Design) -> Iterator[Fault]:
    """Yield the faults of the list of pieces, and of the pieces that sheets are cut into."""
    yield from _list(design)
    say = Measure(design.ruler)
    wanted = {(each.piece, each.page): each for each in design.pieces}
    names = {each.piece: each for each in design.pieces}
    cut: Counter[tuple[str, str]] = Counter()
    for sheet in design.sheets:
        for piece in pieces_of(sheet.tree):
            if piece.name not in names:
                yield Fault(FaultName.UNKNOWN_PIECE, _sheet(sheet), piece.name)
                continue
            page = page_of(piece)
            cut[piece.name, page] += 1
            if (piece.name, page) not in wanted:
                yield Fault(FaultName.PIECE_PAGE, _sheet(sheet), piece.name, page or "no page")
            yield from _piece(sheet, piece, names[piece.name], say)
    yield from _numbers(design, cut)


def _list(design: Design) -> Iterator[Fault]:
    for role, count in Counter(paper.role for paper in design.papers).items():
        if count > 1:
            yield Fault(FaultName.PAPER_TWICE, f"paper {role}", "")
    for (name, page), count in Counter((each.piece, each.page) for each in design.pieces).items():
        if count > 1:
            yield Fault(FaultName.LISTED_TWICE, f"piece {name}", "", page or "no page")
    alike: dict[str, set[tuple[object, ...]]] = {}
    for each in design.pieces:
        alike.setdefault(each.piece, set()).add((each.width, each.height, each.role, each.turn, each.cut_by))
        if design.paper(each.role) is None:
            yield Fault(FaultName.NO_PAPER, f"piece {each.piece}", "", each.role)
    for name, kinds in alike.items():
        if len(kinds) > 1:
            yield Fault(FaultName.DIFFERS, f"piece {name}", "")


def pieces_of(tree: Part) -> Iterator[Piece]:
    """Yield the pieces of a sheet."""
    waiting = [tree]
    while waiting:
        part = waiting.pop()
        if isinstance(part, Cut):
            waiting.extend(reversed(part.parts))
        elif isinstance(part, Piece):
            yield part


def page_of(piece: Piece) -> str:
    """Return the page that a piece goes to."""
    return piece.page if isinstance(piece, PagePiece) else ""


def _piece(sheet: CutSheet, piece: Piece, wanted: WantedPiece, say: Measure) -> Iterator[Fault]:
    where = _sheet(sheet)
    if wanted.role != sheet.role:
        yield Fault(FaultName.PIECE_PAPER, where, piece.name, f"it is wanted from {wanted.role}")
    if wanted.cut_by is CutBy.CLUB:
        yield Fault(FaultName.PIECE_OF_CLUB, where, piece.name)
    width, height = (wanted.height, wanted.width) if piece.turned else (wanted.width, wanted.height)
    if (piece.width, piece.height) != (width, height):
        found, right = say.size(piece.width, piece.height), say.size(width, height)
        yield Fault(FaultName.PIECE_SIZE, where, piece.name, f"{found} instead of {right}")
    if piece.turned and not wanted.turn:
        yield Fault(
            FaultName.TURNED, where, piece.name, f"{say.size(wanted.width, wanted.height)} is its way"
        )


def _numbers(design: Design, cut: Counter[tuple[str, str]]) -> Iterator[Fault]:
    for each in design.pieces:
        found = cut[each.piece, each.page]
        if each.cut_by is CutBy.CLUB or found == each.count:
            continue
        name = FaultName.MISSING if found < each.count else FaultName.TOO_MANY
        where = f"piece {each.piece}" + (f" for {each.page}" if each.page else "")
        yield Fault(name, where, "", f"{found} instead of {each.count}")


def _sheet(sheet: CutSheet) -> str:
    return f"sheet {sheet.number} of {sheet.role}"


def way_round_faults(design: Design, one_way: frozenset[str]) -> Iterator[Fault]:
    """Yield the pieces that would lie on their page with the print on its side.

    one_way: the roles whose paper has a print with a top. A piece cut turned must also be placed turned, and one
    placed turned must be cut turned, or its print does not stand upright.
    """
    placed = Counter(
        (each.piece, page.name) for page in design.pages for each in page.placements if each.turned
    )
    cut: Counter[tuple[str, str]] = Counter()
    for sheet in design.sheets:
        cut.update((piece.name, page_of(piece)) for piece in pieces_of(sheet.tree) if piece.turned)
    for each in design.pieces:
        key, minds = (each.piece, each.page), each.role in one_way
        if minds and not _is_either_way(design, each) and placed[key] != cut[key]:
            where = f"page {each.page}" if each.page else "no page"
            measure = f"{cut[key]} cut turned, {placed[key]} placed turned"
            yield Fault(FaultName.WAY_ROUND, where, each.piece, measure)


def _is_either_way(design: Design, wanted: WantedPiece) -> bool:
    """Whether the recipe says of a piece of one-way paper that its way does not matter."""
    paper = design.paper(wanted.role)
    return wanted.turn and paper is not None and paper.print is Print.ONE_WAY
