"""The lines of sheets: each with what is cut from it, several together where they share their first cuts."""

from collections.abc import Callable, Mapping, Sequence

from kits.guillotine import Part
from kits.measures import Ruler
from kits.recipe.design import CutSheet, Lift, Paper, WantedPiece
from kits.recipe.text.block import Block
from kits.recipe.text.cursor import Cursor, UnreadableError
from kits.recipe.text.held import NOTHING, Held, Room, Sheet
from kits.recipe.text.leaves import LeafReader, unnamed
from kits.recipe.text.lines import Statement
from kits.recipe.text.problems import Problem, ProblemName, one_of
from kits.recipe.text.words import name_text

SHEET = "Write: sheet NUMBER of PAPER"
TOGETHER = "Write: together: sheet NUMBER of PAPER, sheet NUMBER of PAPER"


class CutReader:
    """Reads sheets one after the other, and knows which have been cut before."""

    def __init__(
        self,
        own: Ruler,
        papers: Mapping[str, Paper],
        pieces: Sequence[WantedPiece],
        report: Callable[[Problem], None],
    ) -> None:
        self._ruler = own
        self._papers = papers
        self._report = report
        self._leaves = LeafReader(own, papers, pieces)
        self._begun: dict[Sheet, int] = {}  # lines

    def read(self, statement: Statement) -> Lift | None:
        """Return the sheets that a statement begins and how they are cut; None where it names none."""
        cursor = self.cursor(statement)
        try:
            sheets = self.sheets(cursor)
            self._begin(cursor, sheets)
        except UnreadableError:
            if statement.inside:
                Block(self, NOTHING, statement).read(statement.inside)
            return None
        parts = self.content(cursor, Held(sheets, self._room(cursor, sheets)))
        cut = [CutSheet(*sheet, part) for sheet, part in zip(sheets, parts, strict=True)]
        return Lift(tuple(cut))

    def _begin(self, cursor: Cursor, sheets: Sequence[Sheet]) -> None:
        for role, number in sheets:
            if (role, number) in self._begun:
                why, found = (
                    f"is already cut on line {self._begun[role, number]}",
                    f"sheet {number} of {role}",
                )
                raise cursor.fail(
                    ProblemName.TWICE, why, "Cut each sheet once.", found, cursor.statement.column
                )
            self._begun[role, number] = cursor.statement.line

    def _room(self, cursor: Cursor, sheets: Sequence[Sheet]) -> Room:
        sizes = {(self._papers[role].width, self._papers[role].height) for role, _ in sheets}
        if len(sizes) == 1:
            return Room(*sizes.pop())
        allowed = "Cut sheets together only where they are equally large."
        cursor.report(
            ProblemName.TOGETHER, "differ in size", allowed, "sheets cut together", cursor.statement.column
        )
        return Room()

    # --- What a block asks for ---

    def cursor(self, statement: Statement) -> Cursor:
        """Return a cursor at the start of a line."""
        return Cursor(statement, self._ruler, self._report)

    def sheets(self, cursor: Cursor) -> tuple[Sheet, ...]:
        """Read which sheet, or which sheets together."""
        if not cursor.take("together"):
            return (self._sheet(cursor, SHEET),)
        cursor.expect(":", TOGETHER)
        sheets = [self._sheet(cursor, TOGETHER)]
        while cursor.take(","):
            sheets.append(self._sheet(cursor, TOGETHER))
        return tuple(sheets)

    def _sheet(self, cursor: Cursor, allowed: str) -> Sheet:
        cursor.expect("sheet", allowed)
        column = cursor.column
        number = cursor.number(allowed)
        cursor.expect("of", allowed)
        at = cursor.column
        role = cursor.name(allowed)
        paper = self._papers.get(role)
        if paper is None:
            known = f"The papers are {one_of([name_text(each) for each in self._papers])}."
            raise cursor.fail(ProblemName.UNKNOWN, "is not a paper of this recipe", known, role, at)
        if not 1 <= number <= paper.sheets:
            count = f"{paper.sheets} {'sheet' if paper.sheets == 1 else 'sheets'}"
            known = f"Its line says {count} of {role}: name one of them, or change that line."
            raise cursor.fail(
                ProblemName.UNKNOWN, "is no sheet of the recipe", known, f"sheet {number}", column
            )
        return role, number

    def content(self, cursor: Cursor, held: Held) -> tuple[Part, ...]:
        """Read what something is, after a colon or from the lines inside; return it for each sheet."""
        statement = cursor.statement
        try:
            if not cursor.take(":"):
                cursor.end("Write a colon and what it is, or what is done with it in indented lines")
                return Block(self, held, statement).read(statement.inside)
            leaf = self._leaves.read(cursor, held)
        except UnreadableError:
            leaf = unnamed(held.room)
        for inside in statement.inside:
            self.finished(inside, statement.line)
        return (leaf,) * len(held.sheets)

    def finished(self, statement: Statement, line: int) -> None:
        """Report a line that does something to what is finished."""
        why, allowed = (
            f"comes after what is in hand was finished on line {line}",
            "Take it out, or move it up.",
        )
        self.cursor(statement).report(ProblemName.FINISHED, why, allowed)
