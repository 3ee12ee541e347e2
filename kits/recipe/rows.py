"""Between a design and the flat rows that planning uses: the recipe, its paper roles and its pieces."""

from collections.abc import Iterable
from dataclasses import dataclass

from kits.catalogue import Print
from kits.measures import Length, Ruler
from kits.recipe.design import Design, Page, Paper, Trimmer, WantedPiece, usual_trimmer
from kits.recipe.recipe import PaperRole, Recipe, RecipePiece


@dataclass(frozen=True, slots=True)
class RecipeRows:
    """The rows of one recipe."""

    recipe: Recipe
    roles: tuple[PaperRole, ...]
    pieces: tuple[RecipePiece, ...]


def to_rows(design: Design) -> RecipeRows:
    """Return the rows of a design: how sheets are cut and pages laid out is not in them."""
    return RecipeRows(
        Recipe(code=design.code, title=design.title, note=design.note),
        tuple(_role(design.code, paper) for paper in design.papers),
        tuple(_piece(design.code, piece) for piece in design.pieces),
    )


def from_rows(
    rows: RecipeRows,
    *,
    ruler: Ruler,
    page_width: Length,
    page_height: Length,
    trimmer: Trimmer | None = None,
) -> Design:
    """Return a design that has these rows, with nothing cut yet and empty pages of one size.

    trimmer: by default the usual one. A paper none of whose pieces may turn is taken to have a one-way print.
    """
    names = dict.fromkeys(piece.page for piece in rows.pieces if piece.page)
    return Design(
        code=rows.recipe.code,
        title=rows.recipe.title,
        note=rows.recipe.note,
        ruler=ruler,
        trimmer=trimmer or usual_trimmer(ruler),
        papers=tuple(_paper(role, rows.pieces) for role in rows.roles),
        pieces=tuple(_wanted(piece) for piece in rows.pieces),
        pages=tuple(Page(name, page_width, page_height) for name in names),
    )


def _role(code: str, paper: Paper) -> PaperRole:
    return PaperRole(
        recipe=code, role=paper.role, width=paper.width, height=paper.height, sheets=paper.sheets
    )


def _piece(code: str, wanted: WantedPiece) -> RecipePiece:
    return RecipePiece(
        recipe=code,
        role=wanted.role,
        piece=wanted.piece,
        width=wanted.width,
        height=wanted.height,
        count=wanted.count,
        page=wanted.page,
        cut_by=wanted.cut_by,
        turn=wanted.turn,
    )


def _paper(role: PaperRole, pieces: Iterable[RecipePiece]) -> Paper:
    turns = [piece.turn for piece in pieces if piece.role == role.role]
    runs = Print.ONE_WAY if turns and not any(turns) else Print.NO_DIRECTION
    return Paper(role=role.role, width=role.width, height=role.height, sheets=role.sheets, print=runs)


def _wanted(row: RecipePiece) -> WantedPiece:
    return WantedPiece(
        piece=row.piece,
        width=row.width,
        height=row.height,
        role=row.role,
        count=row.count,
        page=row.page,
        turn=row.turn,
        cut_by=row.cut_by,
    )
