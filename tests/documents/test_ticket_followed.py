"""A ticket's printed lines, followed by somebody who knows nothing but what they say."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

import pytest

from kits.measures import INCH, MM, ruler
from planning.cutting import CuttingTicket
from planning.demo.month import demo_month
from planning.documents.cuts import CutRow, cut_rows, moves_of
from planning.documents.pdf.cutting_tickets import lift_rows
from planning.flow import MonthPlan, plan_month
from planning.month import Month

MONTH = demo_month(1200)


@pytest.fixture(scope="module")
def plan() -> MonthPlan:
    return plan_month(MONTH, quick=True)


def test_the_demo_months_tickets_lead_to_their_own_tallies(plan: MonthPlan) -> None:
    assert any(len(ticket.pieces) > 1 for ticket in plan.cutting.tickets)
    for ticket in plan.cutting.tickets:
        made = Operator(printed(ticket, MONTH), ticket).cut()
        sheets = 0
        for row in lift_rows(ticket):
            _, of_sheets, label, to_come, *_ = map(str, row.cells)
            sheets = int(of_sheets.replace(",", "")) if of_sheets else sheets
            assert to_come == f"{made[label] * sheets:,}", (ticket.name, label)


def printed(ticket: CuttingTicket, month: Month) -> list[CutRow]:
    """Return the lines as the ticket has them."""
    moves = moves_of(ticket.lines, ticket.machine.smallest_strip)
    return list(cut_rows(moves, ruler(month.club.ruler)))


@dataclass
class Operator:
    """Someone with a stack of paper, a back gauge and the ticket: knows parts by name and size, counts what comes off."""

    rows: list[CutRow]
    ticket: CuttingTicket
    parts: dict[str, tuple[int, int]] = field(default_factory=dict)
    tally: Counter[str] = field(default_factory=Counter)
    strokes: int = 0

    def cut(self) -> Counter[str]:
        self.parts = {"sheet": (self.ticket.sheet.width, self.ticket.sheet.height)}
        for row in self.rows:
            first = int(row.numbers.partition(" to ")[0])
            assert first == self.strokes + 1  # nothing is left out, nothing done twice
            self.follow(row)
            assert self.strokes == int(row.numbers.rpartition(" to ")[2])
        assert not self.parts  # no part lies about uncut
        return self.tally

    def follow(self, row: CutRow) -> None:
        names = list(names_in(row.in_hand))
        if row.like:
            self.cut_as(row.like.removeprefix("part "), names, row)
            return
        at_once = at_a_time(row.in_hand, len(names))
        self.strokes += len(gauges(row)) * -(-len(names) // at_once)
        off = Named(row.off, names)
        for name in names:
            for gauge in gauges(row):
                self.make(name, row.stop, gauge, off)
            if row.stays:
                self.put(self.parts.pop(name), Named(row.stays, [name]), name)

    def make(self, name: str, stop: str, gauge: int, off: "Named") -> None:
        """Lay a part at the stop by the edge named; what lies behind the knife stays in hand."""
        wide, high = self.parts[name]
        upright = stop in ("left edge", "right edge")
        along = wide if upright else high
        assert 0 < gauge < along
        assert (high if upright else wide) <= self.ticket.machine.opening
        self.parts[name] = (gauge, high) if upright else (wide, gauge)
        self.put((along - gauge, high) if upright else (wide, along - gauge), off, name)

    def put(self, size: tuple[int, int], named: "Named", hand: str) -> None:
        """Lay what came off aside under its name, or count it."""
        if parts := named.parts:
            self.parts[next(part for part in parts if part not in self.parts and is_of(part, hand))] = size
        elif named.what in (one.label for one in self.ticket.pieces):
            job = next(one.job for one in self.ticket.pieces if one.label == named.what)
            assert sorted(size) == sorted((job.width, job.height))
            self.tally[named.what] += 1
        else:
            assert named.what in ("left over", "edge trim")

    def cut_as(self, like: str, names: list[str], row: CutRow) -> None:
        """Cut parts as an earlier one was: its lines again, with their own names."""
        for name in names:
            size = self.parts.pop(name)
            before = self.strokes
            again = Operator(list(self.lines_of(like)), self.ticket, {like: size}, self.tally, before)
            for line in again.rows:
                again.follow(line)
            assert not again.parts
            self.strokes = again.strokes
        assert row.numbers

    def lines_of(self, like: str) -> Iterator[CutRow]:
        for row in self.rows:
            if any(name == like or name.startswith(f"{like}.") for name in names_in(row.in_hand)):
                mine = [n for n in names_in(row.in_hand) if n == like or n.startswith(f"{like}.")]
                yield only(row, mine)


def only(row: CutRow, names: list[str]) -> CutRow:
    """Return a line for some of its parts."""
    size = row.in_hand.partition(": ")[2]
    word = "the sheet" if names == ["sheet"] else f"part{'s' if len(names) > 1 else ''} {', '.join(names)}"
    return CutRow(
        numbers=row.numbers,
        in_hand=f"{word}: {size}",
        turn=row.turn,
        stop=row.stop,
        gauges=row.gauges,
        off=row.off,
        stays=row.stays,
        like=row.like,
    )


@dataclass
class Named:
    """What comes off, in the ticket's words: `parts 1, 2: each 4 × 12`, `each Tag`, `left over: 1 × 12`."""

    words: str
    hands: list[str]

    @property
    def parts(self) -> list[str]:
        return list(names_in(self.words)) if self.words.startswith("part") else []

    @property
    def what(self) -> str:
        text = self.words.removeprefix("each ")
        return text.partition(": ")[0] if text.startswith(("left over", "edge trim")) else text


def is_of(part: str, hand: str) -> bool:
    """Part 2.1 comes from part 2, part 2 from the sheet."""
    return part.rpartition(".")[0] == ("" if hand == "sheet" else hand)


def names_in(words: str) -> Iterator[str]:
    """Yield the parts that words name: `the sheet`, `part 2`, `parts 1.1 to 1.3, 2.1, side by side: ...`."""
    if words.startswith("the sheet"):
        yield "sheet"
        return
    listed = words.partition(": ")[0].removeprefix("parts ").removeprefix("part ")
    for entry in re.sub(r", (?:\d+ side by side|one) at a time|, side by side", "", listed).split(", "):
        first, _, last = entry.partition(" to ")
        stem, _, number = first.rpartition(".")
        end = int((last or first).rpartition(".")[2])
        step = 1 if end >= int(number) else -1
        for each in range(int(number), end + step, step):
            yield f"{stem}.{each}" if stem else str(each)


def at_a_time(words: str, names: int) -> int:
    """How many lie side by side under the knife."""
    found = re.search(r", (?:(\d+) side by side|one) at a time", words)
    return names if found is None else int(found[1] or 1)


def gauges(row: CutRow) -> list[int]:
    """The back gauge for each cut: `19 1/2, 13 in`, or `3 7/8 in plus 1.575 mm (not on a 1/8 in mark)`."""
    text = row.gauges.replace("\N{NO-BREAK SPACE}", " ")
    if "plus" in text or "less" in text or ";" in text:
        return [length(one) for one in text.split("; ")]
    unit = text.rpartition(" ")[2]
    return [length(f"{one} {unit}") for one in text.removesuffix(f" {unit}").split(", ")]


def length(text: str) -> int:
    """A measure in exact units."""
    text = text.partition(" (")[0]
    main, sign, rest = (text, "", "") if " plus " not in text and " less " not in text else split(text)
    size = measure(main)
    return size + (measure(rest) if sign == "plus" else -measure(rest) if sign else 0)


def split(text: str) -> tuple[str, str, str]:
    sign = "plus" if " plus " in text else "less"
    main, _, rest = text.partition(f" {sign} ")
    return main, sign, rest


def measure(text: str) -> int:
    number, unit = text.rsplit(" ", 1)
    whole = sum(Fraction(part) for part in number.split())
    exact = whole * (INCH if unit == "in" else MM)
    assert exact.denominator == 1
    return int(exact)
