"""The lines that stand alone: recipe, note, ruler, trimmer, papers and pieces."""

import re
from collections.abc import Mapping

from kits.catalogue import Print
from kits.measures import (
    RULERS,
    Grammage,
    GrammageError,
    Length,
    MeasureError,
    Ruler,
    parse_grammage,
    ruler,
)
from kits.recipe.design import MOST_SHEETS, Paper, Trimmer, WantedPiece
from kits.recipe.recipe import CutBy
from kits.recipe.text.cursor import Cursor, Side
from kits.recipe.text.problems import ProblemName, one_of
from kits.recipe.text.words import name_text

RECIPE = "Write: recipe CODE: TITLE"
NOTE = "Write: note: TEXT"
RULER = f"Write ruler and one of {one_of([each.name for each in RULERS])}."
TRIMMER = "Write: trimmer LENGTH, takes COUNT sheets"
PAPER = (
    "Write: paper ROLE: COUNT sheets WIDTH x HEIGHT, and after commas print one way, at least WEIGHT or at most "
    "WEIGHT where the recipe needs it"
)
PIECE = (
    "Write: piece NAME: COUNT of WIDTH x HEIGHT from PAPER -> PAGE, and after commas either way, not turned or "
    "cut by the club where that holds"
)
SHEETS_AT_ONCE = 99

_COMMA = re.compile(r",|$")
_FROM = re.compile(r"\bfrom\b|$", re.IGNORECASE)


def read_recipe(cursor: Cursor) -> tuple[str, str]:
    """Read code and title."""
    code = cursor.name(RECIPE)
    cursor.expect(":", RECIPE)
    return code, cursor.sentence(RECIPE)


def read_note(cursor: Cursor) -> str:
    """Read the note."""
    cursor.expect(":", NOTE)
    return cursor.sentence(NOTE)


def read_ruler(cursor: Cursor) -> Ruler:
    """Read the ruler's name."""
    try:
        return ruler(cursor.rest)
    except MeasureError:
        raise cursor.fail(ProblemName.RULER, "is no ruler", RULER) from None


def read_trimmer(cursor: Cursor) -> Trimmer:
    """Read the trimmer's length and how many sheets it takes."""
    side = cursor.length(TRIMMER, any_unit=True)
    if side.length == 0:
        allowed = "Say how long a cut it makes."
        raise cursor.fail(ProblemName.LENGTH, "is no length of a trimmer", allowed, side.text, side.column)
    cursor.expect(",", TRIMMER)
    cursor.expect("takes", TRIMMER)
    column = cursor.column
    sheets = cursor.number(TRIMMER)
    if not 1 <= sheets <= SHEETS_AT_ONCE:
        allowed = f"A trimmer takes 1 to {SHEETS_AT_ONCE} sheets."
        raise cursor.fail(ProblemName.NUMBER, "is no number of sheets", allowed, str(sheets), column)
    _read_sheets(cursor, TRIMMER)
    cursor.end(TRIMMER)
    return Trimmer(side.length, sheets)


def _read_sheets(cursor: Cursor, allowed: str) -> None:
    if not (cursor.take("sheets") or cursor.take("sheet")):
        raise cursor.fail(ProblemName.LINE, "stands where 'sheets' should", allowed)


def read_paper(cursor: Cursor) -> Paper:
    """Read a paper role."""
    role = cursor.name(PAPER)
    cursor.expect(":", PAPER)
    column = cursor.column
    sheets = cursor.number(PAPER)
    if sheets > MOST_SHEETS:
        allowed = f"A recipe posts at most {MOST_SHEETS} sheets of one paper."
        raise cursor.fail(ProblemName.NUMBER, "is too many", allowed, str(sheets), column)
    _read_sheets(cursor, PAPER)
    width, height = one_unit(cursor, *cursor.size(PAPER))
    runs, lightest, heaviest = Print.NO_DIRECTION, None, None
    column = cursor.column
    while cursor.take(","):
        if cursor.take("print one way"):
            runs = Print.ONE_WAY
        elif cursor.take("at least"):
            lightest = _weight(cursor)
        elif cursor.take("at most"):
            heaviest = _weight(cursor)
        else:
            raise cursor.fail(ProblemName.LINE, "is nothing a paper can be", PAPER)
    cursor.end(PAPER)
    if lightest and heaviest and lightest.gsm > heaviest.gsm:
        allowed = "Ask for at least the lighter and at most the heavier one."
        raise cursor.fail(ProblemName.WEIGHT, f"is heavier than {heaviest}", allowed, str(lightest), column)
    return Paper(
        role=role, width=width, height=height, sheets=sheets, print=runs, lightest=lightest, heaviest=heaviest
    )


def _weight(cursor: Cursor) -> Grammage:
    text, column = cursor.upto(_COMMA)
    try:
        return parse_grammage(text)
    except GrammageError as error:
        raise cursor.fail(
            ProblemName.WEIGHT,
            f"is no paper weight: {error.why}",
            f"{error.allowed}.",
            text or "nothing",
            column,
        ) from None


def one_unit(cursor: Cursor, width: Side, height: Side) -> tuple[Length, Length]:
    """Return both sides of a sheet or page, which may be measured in a unit of its own, but only in one."""
    cursor.check_one_unit(width, height)
    for side in (width, height):
        if side.length == 0:
            raise cursor.fail(
                ProblemName.LENGTH, "is no side", "A side is above zero.", side.text, side.column
            )
    return width.length, height.length


def read_piece(cursor: Cursor, papers: Mapping[str, Paper]) -> WantedPiece:
    """Read a line of the list of pieces."""
    name = cursor.name(PIECE)
    cursor.expect(":", PIECE)
    column = cursor.column
    count = cursor.number(PIECE)
    if count == 0:
        raise cursor.fail(ProblemName.NUMBER, "is no number of pieces", "Ask for at least 1.", "0", column)
    cursor.expect("of", PIECE)
    width, height = cursor.size(PIECE, _FROM)
    cursor.expect("from", PIECE)
    column = cursor.column
    role = cursor.name(PIECE)
    paper = papers.get(role)
    if paper is None:
        allowed = f"The papers are {one_of([name_text(each) for each in papers])}."
        cursor.report(ProblemName.UNKNOWN, "is not a paper of this recipe", allowed, role, column)
    _check_side(cursor, width, paper)
    _check_side(cursor, height, paper)
    page = cursor.name(PIECE) if cursor.take("->") else ""
    turn, cut_by = paper is None or paper.print is Print.NO_DIRECTION, CutBy.SUBSCRIBER
    while cursor.take(","):
        if cursor.take("either way"):
            turn = True
        elif cursor.take("not turned"):
            turn = False
        elif cursor.take("cut by the club"):
            cut_by = CutBy.CLUB
        else:
            raise cursor.fail(ProblemName.LINE, "is nothing a piece can be", PIECE)
    cursor.end(PIECE)
    return WantedPiece(
        piece=name,
        width=width.length,
        height=height.length,
        role=role,
        count=count,
        page=page,
        turn=turn,
        cut_by=cut_by,
    )


def _check_side(cursor: Cursor, side: Side, paper: Paper | None) -> None:
    """A side is measured on the ruler, unless the piece is as wide or as high as its paper."""
    if side.length == 0:
        raise cursor.fail(ProblemName.LENGTH, "is no side", "A side is above zero.", side.text, side.column)
    if paper and side.length in (paper.width, paper.height):
        return
    cursor.check_units(side)
    cursor.check_mark(side)
