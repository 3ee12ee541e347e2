"""What something is when nothing is left to cut: a piece and its page, or an offcut."""

from collections import Counter
from collections.abc import Mapping, Sequence

from kits.catalogue import Print
from kits.guillotine import Cause, Offcut, Part
from kits.measures import Length, Ruler, format_exact
from kits.recipe.design import PagePiece, Paper, WantedPiece
from kits.recipe.recipe import CutBy
from kits.recipe.text.cursor import Cursor
from kits.recipe.text.held import Held, Room
from kits.recipe.text.problems import ProblemName, one_of
from kits.recipe.text.words import name_text

LEAF = "Write: PIECE -> PAGE, or offcut"
CAUSES = {Cause.LEFT_OVER: "offcut", Cause.EDGE_TRIM: "edge trim", Cause.SPACING: "spacing"}


class LeafReader:
    """Reads names of pieces, and remembers which of those wanted have been cut on which line."""

    def __init__(self, own: Ruler, papers: Mapping[str, Paper], pieces: Sequence[WantedPiece]) -> None:
        self._ruler = own
        self._papers = papers
        self._pieces: dict[str, WantedPiece] = {}
        for piece in pieces:
            self._pieces.setdefault(piece.piece, piece)  # of two that differ, which is told, the first holds
        self._wanted = Counter[tuple[str, str]]()
        for piece in pieces:
            self._wanted[piece.piece, piece.page] += piece.count
        self._lines: dict[tuple[str, str], list[int]] = {}

    def read(self, cursor: Cursor, held: Held) -> Part:
        """Read what each part in hand is."""
        said = " ".join(cursor.rest.casefold().split())
        cause = next((each for each in CAUSES if said == CAUSES[each]), None)
        if cause:
            return unnamed(held.room, cause)
        column = cursor.column
        name = cursor.name(LEAF)
        page = cursor.name(LEAF) if cursor.take("->") else ""
        cursor.end(LEAF)
        wanted = self._pieces.get(name)
        if wanted is None:
            known = one_of([name_text(each) for each in self._pieces])
            allowed = f"The pieces are {known}; what is left over is offcut."
            raise cursor.fail(ProblemName.UNKNOWN, "is not a piece of this recipe", allowed, name, column)
        for role, _ in held.sheets:
            self._check_paper(cursor, wanted, role, column)
            self._count(cursor, wanted, page, column)
        return self._fitted(cursor, wanted, page, held.room, column)

    def _check_paper(self, cursor: Cursor, wanted: WantedPiece, role: str, column: int) -> None:
        if wanted.cut_by is CutBy.CLUB:
            why, allowed = (
                "is cut by the club before packing",
                "Name another piece, or take that from its line.",
            )
            raise cursor.fail(ProblemName.OTHER_PAPER, why, allowed, wanted.piece, column)
        if role not in ("", wanted.role) and wanted.role in self._papers:
            why, allowed = f"is cut from {role} here", f"It is wanted from {wanted.role}."
            raise cursor.fail(ProblemName.OTHER_PAPER, why, allowed, wanted.piece, column)

    def _count(self, cursor: Cursor, wanted: WantedPiece, page: str, column: int) -> None:
        name, most = wanted.piece, self._wanted[wanted.piece, page]
        if not most:
            pages = [name_text(each) if each else "no page" for piece, each in self._wanted if piece == name]
            why = f"is not wanted on {page}" if page else "says no page"
            allowed = f"It is wanted on {one_of(pages)}."
            raise cursor.fail(ProblemName.OTHER_PAGE, why, allowed, name, column)
        lines = self._lines.setdefault((name, page), [])
        lines.append(cursor.statement.line)
        if len(lines) > most:
            wanted_here = f"{most} {'is' if most == 1 else 'are'} wanted" + (f" on {page}" if page else "")
            why = f"is named once more, but {wanted_here} (first on line {lines[0]})"
            allowed = "Name it offcut, or ask for more in the line of the piece."
            raise cursor.fail(ProblemName.TWICE, why, allowed, name, column)

    def _fitted(self, cursor: Cursor, wanted: WantedPiece, page: str, room: Room, column: int) -> Part:
        """Return the piece as large as the room; whether it lies turned follows from the size."""
        width, height = room.width, room.height
        if width is None or height is None:
            return unnamed(room)
        if (width, height) == (wanted.width, wanted.height):
            return PagePiece(wanted.piece, width, height, page=page)
        if not room.is_sure:
            return unnamed(room)
        here, size = self._size(width, height), self._size(wanted.width, wanted.height)
        if (height, width) != (wanted.width, wanted.height):
            why, allowed = f"would be {here} here", f"It is wanted {size}{' or turned' * wanted.turn}."
            raise cursor.fail(ProblemName.PIECE_SIZE, why, allowed, wanted.piece, column)
        if not wanted.turn:
            reason = "its print runs one way" if self._is_one_way(wanted) else "may not turn"
            why, allowed = f"would lie turned here, {here}, but {reason}", f"Cut it {size}."
            raise cursor.fail(ProblemName.ONE_WAY, why, allowed, wanted.piece, column)
        return PagePiece(wanted.piece, width, height, turned=True, page=page)

    def _is_one_way(self, wanted: WantedPiece) -> bool:
        paper = self._papers.get(wanted.role)
        return paper is not None and paper.print is Print.ONE_WAY

    def _size(self, width: Length, height: Length) -> str:
        return f"{format_exact(width, self._ruler.unit)} x {format_exact(height, self._ruler.unit)}"


def unnamed(room: Room, cause: Cause = Cause.LEFT_OVER) -> Offcut:
    """Return an offcut as large as the room; where that is not known, nothing will come of it."""
    return Offcut(room.width or 1, room.height or 1, cause)
