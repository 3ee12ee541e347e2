"""What the booklet says, as data. Sizes are words already: each on the ruler of its own recipe."""

from dataclasses import dataclass

from kits.recipe import CutSheet, Design, Page, TrimStep


@dataclass(frozen=True, slots=True)
class BoxLine:
    """One thing in the box. detail: its size, or what it is for. counts: how many in the box of each tier."""

    name: str
    detail: str
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class BoxGroup:
    """Things of a kind."""

    title: str
    lines: tuple[BoxLine, ...]


@dataclass(frozen=True, slots=True)
class BoxContents:
    """What every tier's box holds. tiers: their names, in the order of each line's counts."""

    tiers: tuple[str, ...]
    groups: tuple[BoxGroup, ...]


@dataclass(frozen=True, slots=True)
class SheetOfPaper:
    """A paper of this month that a recipe takes. sheets: none where it comes as ready-cut pieces."""

    name: str
    size: str
    sheets: int


@dataclass(frozen=True, slots=True)
class ListedPiece:
    """Equal pieces as a list has them. page: where they go, empty for spares. ready_cut: the club has cut them."""

    name: str
    size: str
    count: int
    page: str
    ready_cut: bool


@dataclass(frozen=True, slots=True)
class PhotoToPrint:
    """Photos of one size."""

    size: str
    count: int


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece on its page. place: of its left and top edge. photos: what to print for it, in words."""

    name: str
    paper: str
    size: str
    left: str
    top: str
    turned: bool
    photos: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LaidPage:
    """A page with its pieces in the order in which they are laid down, the lowest first."""

    page: Page
    size: str
    pieces: tuple[LaidPiece, ...]


@dataclass(frozen=True, slots=True)
class LiftToCut:
    """Sheets that are trimmed together, often only one, with their cuts in order."""

    title: str
    sheets: tuple[CutSheet, ...]
    steps: tuple[TrimStep, ...]


@dataclass(frozen=True, slots=True)
class LeftOver:
    """An offcut: the sheet it is of, its size, and what it could still give (empty for nothing handy)."""

    sheet: str
    size: str
    yields: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """How a recipe is made. design: its papers are called as this month's are. whole: sheets used as they come."""

    design: Design
    trimmer: str
    cuts: int
    turns: int
    lifts: tuple[LiftToCut, ...]
    whole: tuple[str, ...]
    pages: tuple[LaidPage, ...]
    left: tuple[LeftOver, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """One recipe.

    boxes: the tiers that hold it, empty where all do. work: None where only papers and pieces are known, or where
    faults keep the design from coming out: `faults` says how many.
    """

    code: str
    title: str
    note: str
    boxes: tuple[str, ...]
    papers: tuple[SheetOfPaper, ...]
    pieces: tuple[ListedPiece, ...]
    photos: tuple[PhotoToPrint, ...]
    work: Work | None
    faults: int = 0

    @property
    def ready_cut(self) -> tuple[ListedPiece, ...]:
        """The pieces that come ready cut."""
        return tuple(piece for piece in self.pieces if piece.ready_cut)


@dataclass(frozen=True, slots=True)
class PaperRest:
    """What is left of one paper once every recipe of the booklet is cut once. used: its share in words."""

    name: str
    sheets: int
    used: str
    offcuts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Booklet:
    """The month's booklet."""

    club: str
    kit: str
    month: str
    note: str
    box: BoxContents
    chapters: tuple[Chapter, ...]
    rest: tuple[PaperRest, ...]
