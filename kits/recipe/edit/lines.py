"""The lines of a text in which something is put at an end; all others stay as they are."""

from collections.abc import Sequence

from kits.guillotine import Direction
from kits.recipe.edit.ends import End, Kind
from kits.recipe.text.lines import TAB, Statement

INDENT = " " * TAB


def is_sheet(statement: Statement) -> bool:
    """Tell whether a statement that is not indented is about sheets."""
    return statement.body.split(None, 1)[0].partition(":")[0].casefold() in ("sheet", "together")


def is_page(statement: Statement) -> bool:
    """Tell whether a statement that is not indented is about a page."""
    return statement.body.split(None, 1)[0].casefold() == "page"


def after_sheets(top: Sequence[Statement], lines: Sequence[str]) -> int:
    """Return the line after which another sheet goes: the last of a sheet, else the one above pages, else the last."""
    if sheets := [each.last_line for each in top if is_sheet(each)]:
        return sheets[-1]
    line = next((each.line - 1 for each in top if is_page(each)), len(lines))
    while line and lines[line - 1].lstrip().startswith("#"):  # a comment belongs to what stands below it
        line -= 1
    while line and not lines[line - 1].strip():
        line -= 1
    return line


def put_cut(text: str, end: End, direction: Direction, said: Sequence[str]) -> str:
    """Return the text with lines at an end that begin with a cut of this direction, after a turn if it needs one."""
    lines = text.split("\n")
    below, turn = end.line, end.turn_line
    if direction is end.direction:
        turn = 0
    elif not turn:  # to turn twice is not to turn, so a turn just before it goes instead
        said = ["turn", *said]
    if end.kind is Kind.REST:
        _, comment = _around(lines[below - 1], end)
        new = [f"{' ' * end.indent}{each}" for each in said]
        lines[below - 1 : below] = [*new[:-1], new[-1] + comment]
    elif end.kind in (Kind.SAID, Kind.BARE):
        lines[below - 1 : below] = ["".join(_around(lines[below - 1], end)), *_inside(end, said)]
    elif end.kind is Kind.OPEN:
        lines[below:below] = [f"{' ' * end.indent}{each}" for each in said]
    else:
        _put_sheet(lines, end, "", _inside(end, said))
    if turn:
        lines[turn - 1 : turn] = _without_turn(lines[turn - 1])
    return "\n".join(lines)


def put_name(text: str, end: End, leaf: str) -> str:
    """Return the text in which an end says what it is."""
    lines = text.split("\n")
    if end.kind in (Kind.REST, Kind.SAID, Kind.BARE):
        before, comment = _around(lines[end.line - 1], end)
        lines[end.line - 1] = f"{before}: {leaf}{comment}"
    elif end.kind is Kind.OPEN:
        lines[end.line : end.line] = [f"{' ' * end.indent}rest: {leaf}"]
    else:
        _put_sheet(lines, end, f": {leaf}", [])
    return "\n".join(lines)


def _around(raw: str, end: End) -> tuple[str, str]:
    """Return what a line says before its colon, and the comment after it."""
    line = raw.expandtabs(TAB)
    return line[: end.colon], line[end.until :].rstrip()


def _inside(end: End, said: Sequence[str]) -> list[str]:
    return [f"{' ' * end.indent}{INDENT}{each}" for each in said]


def _put_sheet(lines: list[str], end: End, leaf: str, inside: Sequence[str]) -> None:
    """Put in the line of a sheet that has none, at the top level between empty lines."""
    new = [f"{' ' * end.indent}{end.label}{leaf}", *inside]
    if end.kind is Kind.ABSENT:
        new = [""] * bool(end.line and lines[end.line - 1].strip()) + new
        new += [""] * (end.line == len(lines) or bool(lines[end.line].strip()))
    lines[end.line : end.line] = new


def _without_turn(raw: str) -> list[str]:
    """Return what is left of the line of a turn: its comment, if it has one."""
    indent, mark, comment = raw.partition("#")
    return [f"{indent[: len(indent) - len(indent.lstrip())]}{mark}{comment}"] if mark else []
