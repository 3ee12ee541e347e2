"""The lines inside a sheet or a part: cuts from the far mark down, turns, and what the rest is."""

import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from itertools import groupby
from operator import itemgetter
from typing import Protocol

from kits.guillotine import Direction, Part
from kits.measures import Length, format_exact
from kits.recipe.hand import joined
from kits.recipe.text.cursor import Cursor, Side, UnreadableError
from kits.recipe.text.held import Held, Room, Sheet
from kits.recipe.text.leaves import LEAF, unnamed
from kits.recipe.text.lines import Statement
from kits.recipe.text.problems import ProblemName, one_of

CUT = "Write: cut at MARK, and after a colon what comes off, or in indented lines how that is cut on"
REST = "Write: rest: PIECE -> PAGE, or rest: offcut"
LINES = (
    "Write cut at MARK, turn, or rest: PIECE -> PAGE; where several sheets are in hand also sheet NUMBER of PAPER "
    "for each"
)
_COLON = re.compile(r":|$")  # a comma in a mark is a decimal one
DEEPEST = 60  # cuts inside cuts; nobody turns a sheet so often


class SheetReader(Protocol):
    """Whoever reads the sheets a block belongs to."""

    def cursor(self, statement: Statement) -> Cursor:
        """Return a cursor at the start of a line."""

    def sheets(self, cursor: Cursor) -> tuple[Sheet, ...]:
        """Read `sheet 1 of mats` or `together: ...`."""

    def content(self, cursor: Cursor, held: Held) -> tuple[Part, ...]:
        """Read what something is, after a colon or from the lines inside."""

    def finished(self, statement: Statement, line: int) -> None:
        """Report a line that does something to what is finished."""


class Block:
    """The lines inside one statement, read in order."""

    def __init__(self, reader: SheetReader, held: Held, above: Statement) -> None:
        self._reader = reader
        self._held = held
        self._above = above
        self._cuts: list[tuple[Direction, tuple[Part, ...]]] = []
        self._rest: tuple[Part, ...] | None = None
        self._rest_line = 0
        self._apart: dict[Sheet, Part] = {}
        self._turned = False
        self._given_up: tuple[Part, ...] | None = None

    def read(self, lines: Sequence[Statement]) -> tuple[Part, ...]:
        """Return what becomes of each part in hand; what the lines leave open is an offcut."""
        for line in lines:
            with suppress(UnreadableError):
                self._line(self._reader.cursor(line))
        self._close(lines)
        return self._given_up or self._whole(self._rest or self._parts_apart())

    def _line(self, cursor: Cursor) -> None:
        if self._rest is not None:
            self._reader.finished(cursor.statement, self._rest_line)
        elif cursor.rest.casefold().startswith(("sheet", "together")):
            self._take_apart(cursor)
        elif self._apart:
            why = "cuts on, but the sheets in hand have been taken apart"
            raise cursor.fail(
                ProblemName.FINISHED, why, "Move it above the first of them, or into one of them."
            )
        elif cursor.take("cut at"):
            self._cut_off(cursor)
        elif cursor.take("turn"):
            self._turn(cursor)
        elif cursor.take("rest"):
            self._end(cursor)
        else:
            cursor.report(ProblemName.LINE, "is nothing one does with a sheet", LINES)
            self._give_up()
            if cursor.statement.inside:
                Block(self._reader, self._held, cursor.statement).read(cursor.statement.inside)

    def _turn(self, cursor: Cursor) -> None:
        cursor.end("Write: turn")
        if cursor.statement.inside:
            inside = cursor.statement.inside[0]
            problem = self._reader.cursor(inside)
            raise problem.fail(ProblemName.INDENT, "stands inside a turn", "Indent it like the turn itself.")
        if self._turned:
            allowed = "Take one of them out, or cut in between."
            raise cursor.fail(
                ProblemName.TURN,
                "turns again before anything is cut",
                allowed,
                "turn",
                cursor.statement.column,
            )
        self._turned = True
        self._held = replace(self._held, direction=self._held.direction.across)

    def _end(self, cursor: Cursor) -> None:
        if not cursor.rest.startswith(":"):
            raise cursor.fail(ProblemName.LINE, f"stands where {':'!r} should", REST)
        self._rest = self._reader.content(cursor, self._held)
        self._rest_line = cursor.statement.line

    def _cut_off(self, cursor: Cursor) -> None:
        held, room = self._held, self._held.room
        mark = self._mark(cursor)
        if mark is None:
            self._reader.content(cursor, held.with_room(Room()))
            self._give_up()
            return
        if not self._is_on_ruler(cursor, mark):  # one can go on from there
            room = replace(room, is_sure=False)
        along = room.along(held.direction)
        off = room.shortened(held.direction, None if along is None else along - mark.length)
        parts = self._reader.content(cursor, replace(held, room=off, depth=held.depth + 1))
        kept = room.shortened(held.direction, mark.length)
        self._held = replace(held, room=kept, depth=held.depth + self._turned)
        self._turned = False
        self._cuts.append((held.direction, parts))

    def _mark(self, cursor: Cursor) -> Side | None:
        """Read where to cut; None, with the problem reported, where nothing can be cut."""
        try:
            side = cursor.length(CUT, _COLON, any_unit=True)
            self._check_inside(cursor, side)
        except UnreadableError:
            return None
        return side

    def _is_on_ruler(self, cursor: Cursor, mark: Side) -> bool:
        try:
            cursor.check_units(mark)
            cursor.check_mark(mark, self._held.room.along(self._held.direction))
        except UnreadableError:
            return False
        return True

    def _check_inside(self, cursor: Cursor, side: Side) -> None:
        end, step = self._held.room.along(self._held.direction), cursor.ruler.step
        if self._held.depth > DEEPEST:
            why, allowed = (
                "is a cut inside too many others",
                f"A part is cut and turned at most {DEEPEST} times.",
            )
            raise cursor.fail(ProblemName.TOO_DEEP, why, allowed, side.text, side.column)
        allowed = "Nothing can be cut off it on this ruler." if end is not None and end <= step else ""
        if end is not None and not allowed:
            last = (end - 1) // step * step
            allowed = f"Cut between {self._said(cursor, step)} and {self._said(cursor, last)}."
        if side.length == 0:
            why, allowed = "cuts nothing off", allowed or "Cut at a mark above 0."
            raise cursor.fail(ProblemName.CUT_AT_NOTHING, why, allowed, side.text, side.column)
        if end is not None and side.length >= end:
            is_edge = side.length == end
            name = ProblemName.CUT_AT_EDGE if is_edge else ProblemName.CUT_BEYOND_EDGE
            why = f"is {'at' if is_edge else 'beyond'} the edge: what is in hand reaches to {self._said(cursor, end)}"
            raise cursor.fail(name, why, allowed, side.text, side.column)

    def _said(self, cursor: Cursor, length: Length) -> str:
        return format_exact(length, cursor.ruler.unit)

    def _take_apart(self, cursor: Cursor) -> None:
        column = cursor.column
        sheets = self._reader.sheets(cursor)
        for role, number in sheets:
            label = f"sheet {number} of {role}"
            if (role, number) not in self._held.sheets or len(self._held.sheets) == 1:
                here = one_of([f"sheet {each[1]} of {each[0]}" for each in self._held.sheets])
                allowed = f"In hand is {here}; begin another sheet without indenting it."
                raise cursor.fail(
                    ProblemName.TOGETHER, "is not one of several in hand here", allowed, label, column
                )
            if (role, number) in self._apart:
                allowed = "Say once what becomes of it."
                raise cursor.fail(
                    ProblemName.TWICE, "has been taken from the others before", allowed, label, column
                )
        parts = self._reader.content(cursor, replace(self._held, sheets=sheets))
        self._apart.update(zip(sheets, parts, strict=True))

    def _give_up(self) -> None:
        """Let what is in hand be an offcut, and read on for the problems of the lines that follow."""
        held = self._held
        if self._given_up is None:
            self._given_up = self._whole((unnamed(held.room),) * len(held.sheets))
        self._held = held.with_room(Room())
        self._turned = False

    def _close(self, lines: Sequence[Statement]) -> None:
        """Report what nothing has been said about."""
        missing = [sheet for sheet in self._held.sheets if sheet not in self._apart]
        if self._rest is not None or not missing:
            return
        last = lines[-1] if lines else self._above
        allowed, found = REST, f"the rest of {self._above.body}"
        if not lines:
            allowed, found = (
                f"{LEAF}, after a colon; or the cuts in lines indented under it",
                self._above.body,
            )
        elif self._apart:
            allowed, found = LINES, " and ".join(f"sheet {number} of {role}" for role, number in missing)
        self._reader.cursor(last).report(
            ProblemName.NOT_FINISHED, "is not cut and not named", allowed, found, last.column
        )

    def _parts_apart(self) -> tuple[Part, ...]:
        room = self._held.room
        return tuple(self._apart.get(sheet) or unnamed(room) for sheet in self._held.sheets)

    def _whole(self, rest: Sequence[Part]) -> tuple[Part, ...]:
        """Return for each sheet what was in hand before the first cut."""
        whole = list(rest)
        for direction, cuts in groupby(reversed(self._cuts), key=itemgetter(0)):
            nearest_first = [off for _, off in cuts]
            for index, kept in enumerate(whole):
                whole[index] = joined(direction, kept, [off[index] for off in nearest_first])
        return tuple(whole)
