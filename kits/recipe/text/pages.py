"""The lines of pages: where pieces lie, and the photos on them."""

import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace

from kits.measures import Length, Ruler
from kits.recipe.design import FIRST_LAYER, Opening, Page, Placement, WantedPiece
from kits.recipe.layout import MOST_PLACES, InRow, NoRoomError, photo_on
from kits.recipe.text.cursor import Cursor, UnreadableError
from kits.recipe.text.head import one_unit
from kits.recipe.text.lines import Statement
from kits.recipe.text.problems import Problem, ProblemName, one_of
from kits.recipe.text.words import name_text

PAGE = "Write: page NAME: WIDTH x HEIGHT, and after commas margin LENGTH or spacing LENGTH"
PLACE = (
    "Write: PIECE at X, Y, and after commas layer NUMBER or turned; X or Y may be centred, or place NUMBER of NUMBER "
    "of a row with equal gaps"
)
PHOTO = "Write: photo WIDTH x HEIGHT, or photo that fits, then where it is not centred at X, Y, then border LENGTH"
MOST_LAYERS = 99

_AT = re.compile(r",|\bat\b|$", re.IGNORECASE)


class PageReader:
    """Reads pages one after the other."""

    def __init__(self, own: Ruler, pieces: Sequence[WantedPiece], report: Callable[[Problem], None]) -> None:
        self._ruler = own
        self._pieces: dict[str, WantedPiece] = {}
        for piece in pieces:
            self._pieces.setdefault(piece.piece, piece)  # of two that differ, which is told, the first holds
        self._report = report
        self._lines: dict[str, int] = {}

    def read(self, cursor: Cursor) -> Page | None:
        """Return a page; None where its own line cannot be read."""
        page = None
        with suppress(UnreadableError):
            page = self._page(cursor)
        placed = [self._placement(line, page) for line in cursor.statement.inside]
        return page and replace(page, placements=tuple(each for each in placed if each))

    def _page(self, cursor: Cursor) -> Page:
        column = cursor.column
        name = cursor.name(PAGE)
        if name in self._lines:
            why = f"is already laid out on line {self._lines[name]}"
            cursor.report(ProblemName.TWICE, why, "Give each page its own name.", name, column)
        self._lines[name] = cursor.statement.line
        cursor.expect(":", PAGE)
        width, height = one_unit(cursor, *cursor.size(PAGE))
        margin = spacing = 0
        while cursor.take(","):
            if cursor.take("margin"):
                margin = cursor.length(PAGE).length
            elif cursor.take("spacing"):
                spacing = cursor.length(PAGE).length
            else:
                raise cursor.fail(ProblemName.LINE, "is nothing a page can have", PAGE)
        cursor.end(PAGE)
        return Page(name, width, height, margin, spacing)

    def _placement(self, line: Statement, page: Page | None) -> Placement | None:
        cursor = Cursor(line, self._ruler, self._report)
        placement, wanted = None, None
        with suppress(UnreadableError):
            wanted = self._piece(cursor)
            placement = self._placed(cursor, wanted, page)
        photos = [self._photo(inside, wanted, placement) for inside in line.inside]
        return placement and replace(placement, openings=tuple(each for each in photos if each))

    def _piece(self, cursor: Cursor) -> WantedPiece:
        column = cursor.column
        name = cursor.name(PLACE, before_at=True)
        if name not in self._pieces:
            allowed = f"The pieces are {one_of([name_text(each) for each in self._pieces])}."
            raise cursor.fail(ProblemName.UNKNOWN, "is not a piece of this recipe", allowed, name, column)
        return self._pieces[name]

    def _placed(self, cursor: Cursor, wanted: WantedPiece, page: Page | None) -> Placement:
        cursor.expect("at", PLACE)
        across = self._coordinate(cursor)
        cursor.expect(",", PLACE)
        down = self._coordinate(cursor)
        layer, turned = FIRST_LAYER, False
        while cursor.take(","):
            if cursor.take("turned"):
                turned = True
            else:
                cursor.expect("layer", PLACE)
                layer = self._layer(cursor)
        cursor.end(PLACE)
        width, height = (wanted.height, wanted.width) if turned else (wanted.width, wanted.height)
        if page is None:  # its line could not be read
            return Placement(wanted.piece, 0, 0, layer, turned)
        x = self._start(cursor, across, width, page.width, page.margin)
        y = self._start(cursor, down, height, page.height, page.margin)
        return Placement(wanted.piece, x, y, layer, turned)

    def _coordinate(self, cursor: Cursor) -> Length | InRow:
        """Read a length, or where in a row."""
        if cursor.take("centred"):
            return InRow(1, 1)
        if not cursor.take("place"):
            return cursor.length(PLACE).length
        column = cursor.column
        place = cursor.number(PLACE)
        cursor.expect("of", PLACE)
        places = cursor.number(PLACE)
        if not 1 <= place <= places <= MOST_PLACES:
            allowed = f"Count them from 1; a row has at most {MOST_PLACES}."
            raise cursor.fail(ProblemName.NUMBER, "is no place", allowed, f"{place} of {places}", column)
        return InRow(place, places)

    def _start(
        self, cursor: Cursor, where: Length | InRow, size: Length, room: Length, margin: Length
    ) -> Length:
        if not isinstance(where, InRow):
            return where
        try:
            return where.start(room, size, margin)
        except NoRoomError as error:
            why = "cannot be centred" if where.places == 1 else f"does not fit {where.places} times in a row"
            raise cursor.fail(
                ProblemName.LENGTH, why, f"{error}.", "the piece", cursor.statement.column
            ) from None

    def _layer(self, cursor: Cursor) -> int:
        column = cursor.column
        layer = cursor.number(PLACE)
        if not FIRST_LAYER <= layer <= MOST_LAYERS:
            allowed = f"Layers are {FIRST_LAYER} to {MOST_LAYERS}, the higher on the lower."
            raise cursor.fail(ProblemName.NUMBER, "is no layer", allowed, str(layer), column)
        return layer

    def _photo(
        self, line: Statement, wanted: WantedPiece | None, placement: Placement | None
    ) -> Opening | None:
        cursor = Cursor(line, self._ruler, self._report)
        with suppress(UnreadableError):
            if line.inside:
                inside = Cursor(line.inside[0], self._ruler, self._report)
                inside.report(ProblemName.INDENT, "stands inside a photo", "Indent it like the photo.")
            cursor.expect("photo", PHOTO)
            if cursor.take("that fits"):
                return self._fitting(cursor, wanted, placement)
            return self._opening(cursor)
        return None

    def _opening(self, cursor: Cursor) -> Opening:
        width, height = cursor.size(PHOTO, _AT)
        one_unit(cursor, width, height)
        cursor.check_units(width)
        cursor.check_units(height)
        x = y = None
        if cursor.take("at"):
            x = cursor.length(PHOTO).length
            cursor.expect(",", PHOTO)
            y = cursor.length(PHOTO).length
        return Opening(width.length, height.length, self._border(cursor), x, y)

    def _fitting(
        self, cursor: Cursor, wanted: WantedPiece | None, placement: Placement | None
    ) -> Opening | None:
        column = cursor.column
        border = self._border(cursor)
        if wanted is None or placement is None:
            return None
        size = (wanted.height, wanted.width) if placement.turned else (wanted.width, wanted.height)
        try:
            return Opening(*photo_on(*size, border), border)
        except NoRoomError as error:
            raise cursor.fail(
                ProblemName.LENGTH, "leaves no room for a photo", f"{error}.", "the border", column
            ) from None

    def _border(self, cursor: Cursor) -> Length:
        border = 0
        if cursor.take(","):
            cursor.expect("border", PHOTO)
            border = cursor.length(PHOTO).length
        cursor.end(PHOTO)
        return border
