"""A recipe in rows: its paper roles and the pieces cut from each."""

from dataclasses import dataclass
from enum import StrEnum


class CutBy(StrEnum):
    """Who cuts a piece: the subscriber from a posted sheet, or the club before packing."""

    SUBSCRIBER = "subscriber"
    CLUB = "club"


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A reusable design for the pages of one spread.

    text: the whole design in the form of `kits.recipe.text`, from which its paper roles and pieces then come; empty
    where only these are known.
    """

    code: str
    title: str
    note: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperRole:
    """A place in a recipe for a paper of one size; `sheets` of it are posted each time the recipe is made."""

    recipe: str
    role: str
    width: int
    height: int
    sheets: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipePiece:
    """Equal rectangles of one role that are used on one page. `turn`: it may lie either way on the sheet."""

    recipe: str
    role: str
    piece: str
    width: int
    height: int
    count: int = 1
    page: str = ""
    cut_by: CutBy = CutBy.SUBSCRIBER
    turn: bool = True
