"""Where the lines of sheets end: with a piece or an offcut, or with something they leave open."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from enum import StrEnum

from kits.guillotine import Direction
from kits.recipe.design import Design
from kits.recipe.hand import FIRST_WAY
from kits.recipe.text.cursor import UnreadableError
from kits.recipe.text.cuts import CutReader
from kits.recipe.text.held import Sheet
from kits.recipe.text.lines import Statement
from kits.recipe.text.words import name_text


class Kind(StrEnum):
    """How the text says what something is, or that it does not."""

    SAID = "after a colon"
    REST = "as the rest"
    BARE = "by a line with nothing after it"
    OPEN = "by cuts without a rest"
    APART = "by taking other sheets from it"
    ABSENT = "by no line at all"


@dataclass(frozen=True, slots=True)
class End:
    """An end. line: its own where it has one, else the one after which its lines go; from 1, 0 for the very top.

    indent: of its own line, or of those to be written. colon, until: columns, from 0, between which its line says what
    it is. direction: of a cut without a turn; turn_line: a turn just before it, 0 without. label: its sheet.
    """

    kind: Kind
    line: int
    indent: int
    direction: Direction = FIRST_WAY
    turn_line: int = 0
    colon: int = 0
    until: int = 0
    label: str = ""


@dataclass(frozen=True, slots=True)
class _Held:
    sheets: tuple[Sheet, ...]
    direction: Direction = FIRST_WAY
    turn_line: int = 0


def ends_of(top: Sequence[Statement], design: Design) -> dict[Sheet, list[End]]:
    """Return the ends of every sheet that the statements of a text cut, in the order of the lines."""
    follow = _Follow(design)
    for statement in top:
        follow.sheet(statement)
    return follow.found


class _Follow:
    """Follows the lines of sheets without minding what is wrong with them."""

    def __init__(self, design: Design) -> None:
        papers = {paper.role: paper for paper in design.papers}
        self._reader = CutReader(design.ruler, papers, design.pieces, lambda problem: None)
        self.found: dict[Sheet, list[End]] = {}

    def sheet(self, statement: Statement) -> None:
        """Follow what begins a sheet; anything else is passed over."""
        with suppress(UnreadableError):
            sheets, at = self._sheets(statement)
            if not self.found.keys() & set(sheets):
                self.found.update({sheet: [] for sheet in sheets})
                self._content(statement, at, _Held(sheets))

    def _sheets(self, statement: Statement) -> tuple[tuple[Sheet, ...], int]:
        cursor = self._reader.cursor(statement)
        return self._reader.sheets(cursor), cursor.at

    def _content(self, statement: Statement, at: int, held: _Held, kind: Kind = Kind.SAID) -> None:
        """Follow what stands after a colon or in the lines inside. at: where in the statement to look for it."""
        colon = statement.body.find(":", at)
        indent = statement.column - 1
        until = indent + len(statement.body)
        end = End(kind, statement.line, indent, held.direction, held.turn_line, until, until)
        if colon >= 0:
            self._add(replace(end, colon=indent + colon), held.sheets)
        elif statement.inside:
            self._block(statement, held)
        else:
            self._add(replace(end, kind=Kind.BARE), held.sheets)

    def _block(self, above: Statement, held: _Held) -> None:
        apart: set[Sheet] = set()
        for line in above.inside:
            word = line.body.split(None, 1)[0].partition(":")[0].casefold()
            inside = replace(held, turn_line=0)
            if word == "turn":
                held = replace(held, direction=held.direction.across, turn_line=line.line)
            elif word == "cut":
                self._content(line, 0, inside)
                held = inside
            elif word == "rest":
                self._content(line, 0, held, Kind.REST)
                return
            elif word in ("sheet", "together"):
                with suppress(UnreadableError):
                    sheets, at = self._sheets(line)
                    apart.update(sheets)
                    self._content(line, at, replace(inside, sheets=sheets))
        self._leave(above, held, apart)

    def _leave(self, above: Statement, held: _Held, apart: set[Sheet]) -> None:
        """Add the end of lines that do not say what the rest is."""
        indent = above.inside[0].column - 1
        end = End(Kind.OPEN, above.last_line, indent, held.direction, held.turn_line)
        left = [sheet for sheet in held.sheets if sheet not in apart]
        if not apart:
            self._add(end, left)
        for role, number in left if apart else ():
            label = f"sheet {number} of {name_text(role)}"
            self._add(replace(end, kind=Kind.APART, turn_line=0, label=label), [(role, number)])

    def _add(self, end: End, sheets: Sequence[Sheet]) -> None:
        for sheet in sheets:
            if sheet in self.found:
                self.found[sheet].append(end)
