"""Put other trims in place of those a text has: the best that are found, or those of another version."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from kits.measures import RULERS
from kits.recipe.arrange import ArrangedDesign, arrange_design
from kits.recipe.design import Design
from kits.recipe.edit.errors import EditError, EditName
from kits.recipe.edit.lines import after_sheets, is_page, is_sheet
from kits.recipe.text import Reading, read, write
from kits.recipe.text.cursor import Cursor, UnreadableError
from kits.recipe.text.lines import TAB, Statement, statements

_SHEETS = re.compile(r"\s*\d+\s+sheets?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class ArrangedText:
    """A text with new trims, and how good they are."""

    text: str
    arranged: ArrangedDesign


def arranged(text: str) -> ArrangedText:
    """Return the text with the best trims found; only the lines of sheets change, and how many sheets papers have.

    Raises EditError where what is to be cut cannot be read, ArrangeError where it cannot be cut.
    """
    reading = read(text)
    top, _ = statements(text, lambda problem: None)
    _check_readable(reading, top)
    best = arrange_design(reading.design)
    return ArrangedText(with_lifts(text, best.design), best)


def _check_readable(reading: Reading, top: Sequence[Statement]) -> None:
    """What is said of sheets and pages does not matter to what is to be cut; every other line does."""
    free = {
        line
        for each in top
        if is_sheet(each) or is_page(each)
        for line in range(each.line, each.last_line + 1)
    }
    for problem in reading.problems:
        if problem.line not in free:
            allowed = "Mend this first: what is to be cut must be known before it can be arranged."
            raise EditError(EditName.PROBLEM, problem.line, problem.found, problem.why, allowed)


def with_lifts(text: str, design: Design) -> str:
    """Return a text with its sheets cut as in a design that has the same papers, and as many of each."""
    top, _ = statements(text, lambda problem: None)
    lines = text.split("\n")
    for statement, paper in zip(_papers(top), design.papers, strict=False):
        lines[statement.line - 1] = _with_count(lines[statement.line - 1], statement, paper.sheets)
    sheets = [each for each in top if is_sheet(each)]
    at = sheets[0].line - 1 if sheets else after_sheets(top, lines)
    gone = {line for each in sheets for line in range(each.line - 1, each.last_line)}
    above = [line for number, line in enumerate(lines[:at]) if number not in gone]
    below = [line for number, line in enumerate(lines[at:], at) if number not in gone]
    blocks = map(_block, (above, _sheet_lines(design), below))
    return "\n\n".join(block for block in blocks if block) + "\n"


def _papers(top: Sequence[Statement]) -> list[Statement]:
    """Return the lines of papers that can be read, the first of each name."""
    named: dict[str, Statement] = {}
    for each in top:
        cursor = Cursor(each, RULERS[0], lambda problem: None)
        try:
            if cursor.take("paper"):
                named.setdefault(cursor.name(""), each)
        except UnreadableError:
            continue
    return list(named.values())


def _with_count(raw: str, statement: Statement, sheets: int) -> str:
    cursor = Cursor(statement, RULERS[0], lambda problem: None)
    cursor.take("paper")
    cursor.name("")
    cursor.take(":")
    at = statement.column - 1 + cursor.at
    line = raw.expandtabs(TAB)
    return line[:at] + _SHEETS.sub(f" {sheets} {'sheet' if sheets == 1 else 'sheets'}", line[at:], count=1)


def _block(lines: Sequence[str]) -> str:
    """Return lines without empty ones around them, and never two in a row."""
    kept = [line for before, line in zip(("", *lines), lines, strict=False) if line.strip() or before.strip()]
    return "\n".join(kept).strip("\n")


def _sheet_lines(design: Design) -> list[str]:
    lines = write(replace(design, pages=(), comments=())).rstrip("\n").split("\n")
    first = (number for number, line in enumerate(lines) if line.startswith(("sheet ", "together:")))
    return lines[next(first, len(lines)) :]
