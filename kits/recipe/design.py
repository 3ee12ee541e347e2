"""The design of a recipe: which papers, how each sheet is cut, and where every piece lies on the pages.

Sheets and pages are measured from their left and top edges, in lengths (ints of 1/8 micrometre). A design may be
unfinished or wrong: `kits.recipe.check` finds every fault of one at once.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from kits.catalogue import Print
from kits.guillotine import Cut, Part, Piece
from kits.measures import INCH, MM, RULERS, Grammage, Length, Ruler
from kits.recipe.recipe import CutBy

FIRST_LAYER = 1
MOST_SHEETS = 999  # of one paper in one recipe


@dataclass(frozen=True, slots=True)
class Trimmer:
    """The subscriber's trimmer: the longest cut it makes, and how many sheets it is stated to take at once."""

    length: Length = 12 * INCH
    sheets: int = 1

    def __post_init__(self) -> None:
        if self.length <= 0 or self.sheets < 1:
            raise ValueError("a trimmer has a length above zero and takes at least one sheet")


def usual_trimmer(own: Ruler) -> Trimmer:
    """Return a trimmer that takes a sheet of 12 in, which is sold as 305 mm to those who measure in millimetres."""
    return Trimmer(310 * MM if own.unit.is_metric else 12 * INCH)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """What a recipe asks of one paper role.

    sheets: how many are posted; none where the club cuts every piece. lightest, heaviest: bounds on the weight of
    a paper that plays the role, None for no bound.
    """

    role: str
    width: Length
    height: Length
    sheets: int = 1
    print: Print = Print.NO_DIRECTION
    lightest: Grammage | None = None
    heaviest: Grammage | None = None

    def __post_init__(self) -> None:
        _check_name("a paper", self.role)
        _check_size(f"paper {self.role!r}", self.width, self.height)
        if not 0 <= self.sheets <= MOST_SHEETS:
            raise ValueError(f"a recipe has 0 to {MOST_SHEETS} sheets of paper {self.role!r}")
        if self.lightest and self.heaviest and self.lightest.gsm > self.heaviest.gsm:
            raise ValueError(f"paper {self.role!r} asks for at least more than it asks for at most")


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedPiece:
    """Equal pieces that one page needs (or that are spare, where `page` is empty).

    width, height: as it lies on the page unturned. turn: it may lie either way round on its sheet.
    """

    piece: str
    width: Length
    height: Length
    role: str
    count: int = 1
    page: str = ""
    turn: bool = True
    cut_by: CutBy = CutBy.SUBSCRIBER

    def __post_init__(self) -> None:
        _check_name("a piece", self.piece)
        _check_size(f"piece {self.piece!r}", self.width, self.height)
        if self.count < 1:
            raise ValueError(f"piece {self.piece!r} is wanted at least once")


@dataclass(frozen=True, slots=True)
class PagePiece(Piece):
    """A piece of a cut sheet that knows the page it goes to; empty for a spare."""

    page: str = ""


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet and how it is cut. number: from 1 among the sheets of its role."""

    role: str
    number: int
    tree: Part

    def __post_init__(self) -> None:
        for cut in _cuts(self.tree):
            _check_cut(self.label, cut)

    @property
    def label(self) -> str:
        """What people call it."""
        return f"sheet {self.number} of {self.role}"


@dataclass(frozen=True, slots=True)
class Lift:
    """Sheets that lie on each other for as long as their first cuts are the same; often only one."""

    sheets: tuple[CutSheet, ...]

    def __post_init__(self) -> None:
        if not self.sheets:
            raise ValueError("a lift has at least one sheet")


@dataclass(frozen=True, slots=True)
class Opening:
    """A place for a photo on a piece. border: how much of the piece must show on each side of the photo.

    x, y: from the left and top edge of the piece as it lies on the page; both None where the photo is centred.
    """

    width: Length
    height: Length
    border: Length = 0
    x: Length | None = None
    y: Length | None = None

    def __post_init__(self) -> None:
        _check_size("a photo", self.width, self.height)
        if self.border < 0 or (self.x or 0) < 0 or (self.y or 0) < 0:
            raise ValueError("the border and the place of a photo are never negative")
        if (self.x is None) is not (self.y is None):
            raise ValueError("a photo is either centred or has a place both across and down")


@dataclass(frozen=True, slots=True)
class Placement:
    """A piece on a page. x, y: where its left and top edge lie. layer: higher ones lie on lower ones.

    turned: it lies a quarter round, so its width runs down the page.
    """

    piece: str
    x: Length
    y: Length
    layer: int = FIRST_LAYER
    turned: bool = False
    openings: tuple[Opening, ...] = ()

    def __post_init__(self) -> None:
        if self.x < 0 or self.y < 0:
            raise ValueError(f"piece {self.piece!r} must lie to the right of and below its page's corner")
        if self.layer < FIRST_LAYER:
            raise ValueError(f"layers are counted from {FIRST_LAYER}")


@dataclass(frozen=True, slots=True)
class Page:
    """One page of the spread.

    margin: a piece reaches the page's edge or stays this far away. spacing: pieces of one layer touch or are this
    far apart.
    """

    name: str
    width: Length
    height: Length
    margin: Length = 0
    spacing: Length = 0
    placements: tuple[Placement, ...] = ()

    def __post_init__(self) -> None:
        _check_name("a page", self.name)
        _check_size(f"page {self.name!r}", self.width, self.height)
        if self.margin < 0 or self.spacing < 0:
            raise ValueError(f"margin and spacing of page {self.name!r} are never negative")


class Section(StrEnum):
    """A part of the text form."""

    HEAD = "head"
    PAPERS = "papers"
    PIECES = "pieces"
    SHEETS = "sheets"
    PAGES = "pages"
    END = "end"


@dataclass(frozen=True, slots=True)
class Comment:
    """A comment of the text form. line: the line of its section that it stands before, counted from 0."""

    section: Section
    line: int
    text: str

    def __post_init__(self) -> None:
        if not (self.text == self.text.strip() and self.text.isprintable()):
            raise ValueError("a comment is one line without spaces around it")

    @property
    def place(self) -> tuple[int, int]:
        """Where it stands in the text, to order comments by."""
        return list(Section).index(self.section), self.line


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A recipe as designed. Papers and pieces are what it needs; lifts how they are cut; pages where they go."""

    code: str
    title: str = ""
    note: str = ""
    ruler: Ruler = RULERS[0]
    trimmer: Trimmer = Trimmer()
    papers: tuple[Paper, ...] = ()
    pieces: tuple[WantedPiece, ...] = ()
    lifts: tuple[Lift, ...] = ()
    pages: tuple[Page, ...] = ()
    comments: tuple[Comment, ...] = ()

    def __post_init__(self) -> None:
        _check_name("a recipe", self.code)
        places = [comment.place for comment in self.comments]
        if places != sorted(places):
            raise ValueError("comments are kept in the order in which they stand in the text")

    @property
    def sheets(self) -> tuple[CutSheet, ...]:
        """Every sheet of every lift, in order."""
        return tuple(sheet for lift in self.lifts for sheet in lift.sheets)

    def paper(self, role: str) -> Paper | None:
        """Return the paper of a role."""
        return next((paper for paper in self.papers if paper.role == role), None)

    def wanted(self, piece: str) -> WantedPiece | None:
        """Return the first line that wants a piece of this name, for what all of them have in common."""
        return next((wanted for wanted in self.pieces if wanted.piece == piece), None)


def _check_name(what: str, name: str) -> None:
    if not name.strip():
        raise ValueError(f"{what} needs a name that can be seen")


def _check_size(what: str, width: Length, height: Length) -> None:
    if width <= 0 or height <= 0:
        raise ValueError(f"{what} must have a width and a height above zero")


def _check_cut(label: str, cut: Cut) -> None:
    if not cut.marks or len(cut.parts) != len(cut.marks) + 1:
        raise ValueError(f"{label}: what is cut has at least one mark, and one part more than marks")
    first = cut.parts[0]
    if isinstance(first, Cut) and first.direction is cut.direction:
        raise ValueError(f"{label}: cuts made the same way one after the other belong into one list of marks")


def _cuts(tree: Part) -> Iterator[Cut]:
    waiting = [tree]
    while waiting:
        part = waiting.pop()
        if isinstance(part, Cut):
            yield part
            waiting.extend(part.parts)
