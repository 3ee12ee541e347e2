"""What can be wrong with a recipe's text. Every problem stands at a line and column and says what is allowed."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

SHOWN = 60  # characters of what was found


class ProblemName(StrEnum):
    """What kind of problem it is."""

    LINE = "line"  # no line of a recipe looks like this, or not here
    INDENT = "indent"
    NUMBER = "number"
    LENGTH = "length"
    MIXED_UNITS = "mixed units"
    OFF_RULER = "off the ruler"
    RULER = "ruler"
    WEIGHT = "weight"
    NAME = "name"
    TWICE = "twice"
    UNKNOWN = "unknown"
    CUT_AT_NOTHING = "cut at nothing"
    CUT_AT_EDGE = "cut at the edge"
    CUT_BEYOND_EDGE = "cut beyond the edge"
    FINISHED = "finished"
    NOT_FINISHED = "not finished"
    TURN = "turn"
    ONE_WAY = "one-way"
    PIECE_SIZE = "piece size"
    OTHER_PAPER = "other paper"
    OTHER_PAGE = "other page"
    TOGETHER = "together"
    TOO_DEEP = "too deep"


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem. line, column: from 1. found: what stands there; why goes on from it; allowed: a sentence."""

    name: ProblemName
    line: int
    column: int
    found: str
    why: str
    allowed: str

    def __str__(self) -> str:
        where = f"line {self.line}, column {self.column}"
        return f"{where}: {shown(self.found)} {self.why}. {self.allowed.removesuffix('.')}."


class RecipeTextError(ValueError):
    """A text is not a recipe. problems: all that is wrong with it, in the order of its lines."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__(problems)
        self.problems = tuple(problems)

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)


def shown(text: str) -> str:
    """Return what was found, shortened."""
    return text if len(text) <= SHOWN else f"{text[:SHOWN]}…"


def one_of(names: Sequence[str], most: int = 12) -> str:
    """Return names as a list in words: `a, b or c`; of many only the first."""
    if len(names) > most:
        return f"{', '.join(names[:most])} or one of {len(names) - most} more"
    return " or ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part) or "none so far"
