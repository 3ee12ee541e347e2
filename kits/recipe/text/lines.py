"""The lines of a text as a tree by their indentation, each with the comments that stand before it."""

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from kits.recipe.text.problems import Problem, ProblemName

TAB = 4
DEEPEST = 40

# A " right after a digit or fraction is an inch sign, not the start of a quoted name.
_BODY = re.compile(r'(?:[^"#]|(?<=[0-9¼½¾⅛⅜⅝⅞])"|"(?:[^"\\]|\\.)*"|"(?=[^"]*$))*')


@dataclass(slots=True)
class Statement:
    """One line that says something. column: where it begins, from 1. inside: the lines indented under it."""

    line: int
    column: int
    body: str
    inside: list["Statement"] = field(default_factory=list)
    comments: list[str] = field(default_factory=list)

    @property
    def last_line(self) -> int:
        """The line of the last statement inside it, or its own."""
        last = self
        while last.inside:
            last = last.inside[-1]
        return last.line


def statements(text: str, report: Callable[[Problem], None]) -> tuple[list[Statement], list[str]]:
    """Return the statements that are not indented, and the comments after the last one."""
    top: list[Statement] = []
    levels: list[tuple[int, list[Statement]]] = [(0, top)]
    comments: list[str] = []
    for number, raw in enumerate(text.split("\n"), 1):
        line = raw.expandtabs(TAB).rstrip()
        body, comment = _parted(line.lstrip())
        if comment is not None:
            comments.append(comment)
        if not body:
            continue
        statement = Statement(number, len(line) - len(line.lstrip()) + 1, body, comments=comments)
        comments = []
        _level(levels, statement, report).append(statement)
    return top, comments


def _parted(line: str) -> tuple[str, str | None]:
    """Return what a line says, and its comment."""
    match = _BODY.match(line) if "#" in line else None
    if match is None or match.end() == len(line):
        return line, None
    return line[: match.end()].rstrip(), line[match.end() + 1 :].strip()


def _level(
    levels: list[tuple[int, list[Statement]]], statement: Statement, report: Callable[[Problem], None]
) -> list[Statement]:
    """Return the list that the statement belongs to, by where it begins."""
    indent = statement.column - 1
    deeper = indent > levels[-1][0]
    while indent < levels[-1][0]:
        levels.pop()
    if indent == levels[-1][0]:
        return levels[-1][1]
    above = levels[-1][1]
    if not deeper or not above or len(levels) > DEEPEST:
        allowed = "Indent it like a line above it, or four spaces more than the line it belongs to."
        why = "is indented like no line above it" if len(levels) <= DEEPEST else "is indented too deep"
        report(Problem(ProblemName.INDENT, statement.line, 1, statement.body, why, allowed))
        return above
    levels.append((indent, above[-1].inside))
    return above[-1].inside
