"""Read one line from left to right: words, names, lengths, each with the column where it stands."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from kits.measures import Length, LengthError, LengthUnit, Ruler, format_exact, parse_length
from kits.recipe.text.lines import Statement
from kits.recipe.text.problems import Problem, ProblemName
from kits.recipe.text.words import unquoted

_STRING = re.compile(r'"((?:[^"\\]|\\.)*)"')
# None of these begins with spaces: searched for in a line of many, that would take time by the square of them.
_BREAK = re.compile(r"[:,]|->|$")
_BREAK_AT = re.compile(r"[:,]|->|\bat\b|$", re.IGNORECASE)
_TIMES = re.compile(r"[x×]\s*", re.IGNORECASE)
_UNITS = re.compile(r"[^\W\d_¼-¾⅐-⅞]+|''|[\"'″”′’]")
_INCHES = frozenset(("in", "inch", "inches", '"', "''", "″", "”"))
_MILLIMETRES = frozenset(("mm", "millimetre", "millimetres", "millimeter", "millimeters"))
_SPELLED = {**dict.fromkeys(_INCHES, "in"), **dict.fromkeys(_MILLIMETRES, "mm")}


class UnreadableError(Exception):
    """The rest of a line cannot be read; its problem has been reported."""


@dataclass(frozen=True, slots=True)
class Side:
    """A length with the column where it stands and what was written."""

    length: Length
    column: int
    text: str


class Cursor:
    """A place in a statement, with everything to read on from there.

    Each method raises UnreadableError once it has reported what it could not read.
    """

    def __init__(self, statement: Statement, ruler: Ruler, report: Callable[[Problem], None]) -> None:
        self.statement = statement
        self.body = statement.body
        self.at = 0
        self.ruler = ruler
        self._report = report

    @property
    def column(self) -> int:
        """The column of what is read next, from 1."""
        self._skip()
        return self.statement.column + self.at

    @property
    def rest(self) -> str:
        """What has not been read."""
        self._skip()
        return self.body[self.at :]

    def report(
        self, name: ProblemName, why: str, allowed: str, found: str | None = None, column: int | None = None
    ) -> None:
        """Report a problem with what is read next, or with what was found before."""
        found = (self.rest or "the end of the line") if found is None else found
        self._report(Problem(name, self.statement.line, column or self.column, found, why, allowed))

    def fail(
        self, name: ProblemName, why: str, allowed: str, found: str | None = None, column: int | None = None
    ) -> UnreadableError:
        """Report a problem and return the error to raise."""
        self.report(name, why, allowed, found, column)
        return UnreadableError()

    def take(self, words: str) -> bool:
        """Read these words if they come next."""
        match = _literal(words).match(self.body, self.at)
        if match:
            self.at = match.end()
        return match is not None

    def expect(self, words: str, allowed: str) -> None:
        """Read these words or fail."""
        if not self.take(words):
            raise self.fail(ProblemName.LINE, f"stands where {words!r} should", allowed)

    def end(self, allowed: str) -> None:
        """Fail unless the line ends here."""
        if self.rest:
            raise self.fail(ProblemName.LINE, "is more than this line can say", allowed)

    def number(self, allowed: str) -> int:
        """Read a whole number."""
        match = re.compile(r"\s*(\d{1,9})\b").match(self.body, self.at)
        if match is None:
            raise self.fail(ProblemName.NUMBER, "is no whole number", allowed)
        self.at = match.end()
        return int(match[1])

    def name(self, allowed: str, *, before_at: bool = False) -> str:
        """Read a name, up to a colon, a comma, an arrow or the end of the line (or the word `at`)."""
        self._skip()
        if match := _STRING.match(self.body, self.at):
            self.at = match.end()
            return self._checked_name(unquoted(match[1]), allowed)
        end = (_BREAK_AT if before_at else _BREAK).search(self.body, self.at)
        name = self.body[self.at : end.start() if end else None]
        if name.startswith('"'):
            raise self.fail(ProblemName.NAME, "opens a quote that is not closed", allowed)
        self._checked_name(name, allowed)
        self.at += len(name)
        return " ".join(name.split())

    def sentence(self, allowed: str) -> str:
        """Read a text up to the end of the line."""
        match = _STRING.fullmatch(self.rest)
        if not match and self.rest.startswith('"'):
            raise self.fail(
                ProblemName.NAME, "opens a quote that is not closed at the end of the line", allowed
            )
        text = unquoted(match[1]) if match else self.rest
        self.at = len(self.body)
        return text

    def upto(self, pattern: re.Pattern[str]) -> tuple[str, int]:
        """Read what stands before the pattern (or the end) as it is; return it with its column."""
        column, end = self.column, pattern.search(self.body, self.at)
        text = self.body[self.at : end.start() if end else None]
        self.at += len(text)
        return text.strip(), column

    def size(self, allowed: str, until: re.Pattern[str] = _BREAK) -> tuple[Side, Side]:
        """Read a width and a height in any unit: `12 x 12`, `210 x 297 mm`, `210 mm x 5 3/4 in`."""
        text, column = self.upto(until)
        parts = list(_TIMES.finditer(text))
        if len(parts) != 1:
            raise self.fail(ProblemName.LENGTH, "is no width x height", allowed, text or "nothing", column)
        first, second = text[: parts[0].start()].rstrip(), text[parts[0].end() :]
        unit_after = _UNITS.findall(second)
        width = first if _UNITS.search(first) or not unit_after else f"{first} {unit_after[-1]}"
        at = column + parts[0].end()
        return self._side(width, column), self._side(second, at)

    def length(self, allowed: str, until: re.Pattern[str] = _BREAK, *, any_unit: bool = False) -> Side:
        """Read a length, zero included, in the ruler's own unit or in any."""
        text, column = self.upto(until)
        if not text:
            raise self.fail(ProblemName.LENGTH, "stands where a length should", allowed)
        side = self._side(text, column)
        if any_unit:
            self.check_one_unit(side)
        else:
            self.check_units(side)
        return side

    def on_ruler(self, allowed: str, until: re.Pattern[str] = _BREAK) -> Side:
        """Read a length on a mark of the ruler."""
        side = self.length(allowed, until)
        self.check_mark(side)
        return side

    def check_mark(self, side: Side, end: Length | None = None) -> None:
        """Fail unless a length is on a mark. end: where what is measured ends, if marks there are no use."""
        if not self.ruler.holds(side.length):
            why = f"is not on a mark of the {self.ruler.name} ruler"
            allowed = f"The {_marks_around(side.length, self.ruler, end)}."
            raise self.fail(ProblemName.OFF_RULER, why, allowed, side.text, side.column)

    def check_units(self, side: Side) -> None:
        """Fail unless a length is in the ruler's unit."""
        own = _MILLIMETRES if self.ruler.unit is LengthUnit.MM else _INCHES
        others = [unit for unit in _units(side.text) if unit not in own]
        if others:
            why = f"is measured in {others[0]}, but this recipe on the {self.ruler.name} ruler"
            allowed = f"Write {self.ruler.unit}; the {_marks_around(side.length, self.ruler)}."
            raise self.fail(ProblemName.MIXED_UNITS, why, allowed, side.text, side.column)

    def check_one_unit(self, *sides: Side) -> None:
        """Fail where lengths that belong together are in several units."""
        units = sorted({_SPELLED.get(unit, unit) for side in sides for unit in _units(side.text)})
        if len(units) > 1:
            text = " x ".join(side.text for side in sides)
            why, allowed = f"mixes {' and '.join(units)}", "Write all of it in one unit."
            raise self.fail(ProblemName.MIXED_UNITS, why, allowed, text, sides[0].column)

    def _side(self, text: str, column: int) -> Side:
        try:
            return Side(_length_of(text, self.ruler.unit), column, text)
        except LengthError as error:
            why, allowed = f"is no length: {error.why}", _lengths(self.ruler)
            raise self.fail(ProblemName.LENGTH, why, allowed, text or "nothing", column) from None

    def _checked_name(self, name: str, allowed: str) -> str:
        if not name.strip():
            raise self.fail(ProblemName.NAME, "stands where a name should", allowed)
        return name

    def _skip(self) -> None:
        while self.body[self.at : self.at + 1].isspace():
            self.at += 1


def _units(text: str) -> list[str]:
    return _UNITS.findall(text.casefold())


@lru_cache(maxsize=64)
def _literal(words: str) -> re.Pattern[str]:
    spaced = r"\s+".join(map(re.escape, words.split()))
    return re.compile(rf"\s*{spaced}" + (r"(?!\w)" if words[-1].isalnum() else ""), re.IGNORECASE)


@lru_cache(maxsize=4096)
def _length_of(text: str, unit: LengthUnit) -> Length:
    return parse_length(text, unit, zero=True)


def _marks_around(length: Length, ruler: Ruler, end: Length | None = None) -> str:
    below = length // ruler.step * ruler.step
    both = (below,) if ruler.holds(length) else (below, below + ruler.step)
    marks = [mark for mark in both if mark and mark != end]
    said = " and ".join(format_exact(mark, ruler.unit) for mark in marks) or "the edge"
    return f"nearest marks are {said}" if len(marks) > 1 else f"nearest mark is {said}"


def _lengths(ruler: Ruler) -> str:
    return (
        "Write a length such as 120 or 120.5 mm."
        if ruler.unit.is_metric
        else "Write a length such as 9 1/4 or 9.25 in."
    )
