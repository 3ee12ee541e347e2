"""Read a recipe's text: `parse` for a design or all problems, `read` for as much of a design as there is."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace

from kits.measures import RULERS, Ruler
from kits.recipe.design import (
    Comment,
    Design,
    Lift,
    Page,
    Paper,
    Section,
    Trimmer,
    WantedPiece,
    usual_trimmer,
)
from kits.recipe.text import head
from kits.recipe.text.cursor import Cursor, UnreadableError
from kits.recipe.text.cuts import CutReader
from kits.recipe.text.lines import Statement, statements
from kits.recipe.text.pages import PageReader
from kits.recipe.text.problems import Problem, ProblemName, RecipeTextError, one_of

_SECTION = {
    "recipe": Section.HEAD,
    "note": Section.HEAD,
    "ruler": Section.HEAD,
    "trimmer": Section.HEAD,
    "paper": Section.PAPERS,
    "piece": Section.PIECES,
    "sheet": Section.SHEETS,
    "together": Section.SHEETS,
    "page": Section.PAGES,
}
BEGINNINGS = f"A line that is not indented begins with {one_of(list(_SECTION))}."
WITHOUT_CODE = "?"


@dataclass(frozen=True, slots=True)
class Reading:
    """What could be read. design: what the text says so far; lines it leaves open are offcuts.

    lines: where each thing begins: `sheet 1 of mats`, `page left`, `paper mats`, `piece tag -> left`.
    """

    design: Design
    problems: tuple[Problem, ...]
    lines: dict[str, int]


def parse(text: str) -> Design:
    """Return the design that a text describes. Raises RecipeTextError with every problem of the text."""
    reading = read(text)
    if reading.problems:
        raise RecipeTextError(reading.problems)
    return reading.design


def read(text: str) -> Reading:
    """Return as much of a design as the text describes, and every problem in the order of the lines."""
    reader = _Reader()
    top, comments = statements(text.removeprefix("\ufeff"), reader.problems.append)
    reader.read(top)
    design = Design(
        code=reader.code,
        title=reader.title,
        note=reader.note,
        ruler=reader.ruler,
        trimmer=reader.trimmer,
        papers=tuple(reader.papers.values()),
        pieces=tuple(reader.pieces),
        lifts=tuple(reader.lifts),
        pages=tuple(reader.pages),
        comments=(*reader.comments(), *(Comment(Section.END, 0, _plain(each)) for each in comments)),
    )
    return Reading(design, reader.sorted_problems(), reader.lines)


class _Reader:
    """Takes the statements section by section, since the later ones speak of the earlier ones."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.lines: dict[str, int] = {}
        self.code, self.title, self.note = WITHOUT_CODE, "", ""
        self.ruler: Ruler = RULERS[0]
        self.trimmer: Trimmer = usual_trimmer(self.ruler)
        self.papers: dict[str, Paper] = {}
        self.pieces: list[WantedPiece] = []
        self.lifts: list[Lift] = []
        self.pages: list[Page] = []
        self._unread: set[str] = set()  # names of papers and pieces whose lines could not be read
        self._statements: dict[Section, list[Statement]] = {section: [] for section in Section}

    def read(self, top: Sequence[Statement]) -> None:
        """Read everything."""
        for statement in top:
            with suppress(UnreadableError):
                self._statements[self._section(statement)].append(statement)
        self._read_head()
        self._read_papers()
        self._read_pieces()
        cuts = CutReader(self.ruler, self.papers, self.pieces, self.problems.append)
        for statement in self._statements[Section.SHEETS]:
            if lift := cuts.read(statement):
                self.lifts.append(lift)
                self.lines.update((sheet.label, statement.line) for sheet in lift.sheets)
        pages = PageReader(self.ruler, self.pieces, self.problems.append)
        for statement in self._statements[Section.PAGES]:
            if page := pages.read(self._after(statement)):
                self.pages.append(page)
                self.lines.setdefault(f"page {page.name}", statement.line)

    def sorted_problems(self) -> tuple[Problem, ...]:
        """Return the problems by line, without those that only follow from a line that could not be read."""
        kept = [
            problem
            for problem in self.problems
            if problem.name is not ProblemName.UNKNOWN or problem.found not in self._unread
        ]
        return tuple(sorted(kept, key=lambda problem: (problem.line, problem.column)))

    def comments(self) -> Iterator[Comment]:
        """Yield the comments, each at the line of its section before which it stands."""
        for section, top in self._statements.items():
            for number, statement in enumerate(_every(top)):
                for comment in statement.comments:
                    yield Comment(section, number, _plain(comment))

    # --- The lines that stand alone ---

    def _read_head(self) -> None:
        heads: dict[str, Statement] = {}
        for statement in self._alone(Section.HEAD):
            word = self._first_word(statement)
            with suppress(UnreadableError):
                self._note_line(statement, word)
                heads[word] = statement
        if "ruler" in heads:
            with suppress(UnreadableError):
                self.ruler = head.read_ruler(self._after(heads["ruler"]))
        if "recipe" in heads:
            with suppress(UnreadableError):
                self.code, self.title = head.read_recipe(self._after(heads["recipe"]))
        else:
            why, allowed = "does not say which recipe it is", f"{head.RECIPE}."
            self.problems.append(Problem(ProblemName.LINE, 1, 1, "the text", why, allowed))
        if "note" in heads:
            with suppress(UnreadableError):
                self.note = head.read_note(self._after(heads["note"]))
        self.trimmer = usual_trimmer(self.ruler)
        if "trimmer" in heads:
            with suppress(UnreadableError):
                self.trimmer = head.read_trimmer(self._after(heads["trimmer"]))

    def _read_papers(self) -> None:
        for statement in self._alone(Section.PAPERS):
            with self._remember(statement):
                paper = head.read_paper(self._after(statement))
                self._note_line(statement, f"paper {paper.role}")
                self.papers.setdefault(paper.role, paper)

    def _read_pieces(self) -> None:
        first: dict[str, WantedPiece] = {}
        for statement in self._alone(Section.PIECES):
            with self._remember(statement):
                piece = head.read_piece(self._after(statement), self.papers)
                self._note_line(statement, piece_key(piece.piece, piece.page))
                self._compare(statement, piece, first.setdefault(piece.piece, piece))
                self.pieces.append(piece)

    def _compare(self, statement: Statement, piece: WantedPiece, first: WantedPiece) -> None:
        if replace(piece, page=first.page, count=first.count) != first:
            line = self.lines[piece_key(first.piece, first.page)]
            why, allowed = f"is not the same as on line {line}", "Give pieces that differ names of their own."
            self._cursor(statement).report(ProblemName.PIECE_SIZE, why, allowed, piece.piece)

    def _note_line(self, statement: Statement, what: str) -> None:
        """Remember where something begins; it may not begin again."""
        before = self.lines.setdefault(what, statement.line)
        if before != statement.line:
            why = f"is on line {before} already"
            raise self._cursor(statement).fail(ProblemName.TWICE, why, "Say it once.", what)

    @contextmanager
    def _remember(self, statement: Statement) -> Iterator[None]:
        """Remember the name on a line that cannot be read, so that it is not called unknown later."""
        try:
            yield
        except UnreadableError:
            cursor = Cursor(statement, self.ruler, lambda problem: None)
            cursor.take(self._first_word(statement))
            with suppress(UnreadableError):
                self._unread.add(cursor.name(""))

    def _alone(self, section: Section) -> Iterator[Statement]:
        """Yield the statements of a section under which nothing may be indented."""
        for statement in self._statements[section]:
            for inside in statement.inside:
                why, allowed = "is indented under a line that holds nothing", "Begin it further left."
                self._cursor(inside).report(ProblemName.INDENT, why, allowed)
            yield statement

    # --- Helpers ---

    def _first_word(self, statement: Statement) -> str:
        return statement.body.split(None, 1)[0].partition(":")[0].casefold()

    def _section(self, statement: Statement) -> Section:
        word = self._first_word(statement)
        if word not in _SECTION:
            raise self._cursor(statement).fail(ProblemName.LINE, "begins no line of a recipe", BEGINNINGS)
        return _SECTION[word]

    def _cursor(self, statement: Statement) -> Cursor:
        return Cursor(statement, self.ruler, self.problems.append)

    def _after(self, statement: Statement) -> Cursor:
        """Return a cursor behind the word that a statement begins with."""
        cursor = self._cursor(statement)
        cursor.take(self._first_word(statement))
        return cursor


def piece_key(piece: str, page: str) -> str:
    """Return what a line of the list of pieces is called in `Reading.lines`."""
    return f"piece {piece} -> {page}" if page else f"piece {piece}"


def _every(top: Sequence[Statement]) -> Iterator[Statement]:
    waiting = list(reversed(top))
    while waiting:
        statement = waiting.pop()
        yield statement
        waiting.extend(reversed(statement.inside))


def _plain(comment: str) -> str:
    """Return a comment as one line that can be seen."""
    return "".join(char if char.isprintable() else " " for char in comment).strip()
