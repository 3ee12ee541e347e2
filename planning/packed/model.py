"""What is done to a box, and how it stands."""

from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum

HELD_FOR = timedelta(minutes=15)  # after its last act a box in hand may be taken by another bench
MOST_ACTS = 1_000  # on one box; nobody does as many by hand


class Status(StrEnum):
    """How far a box is."""

    WAITING = "waiting"
    IN_HAND = "in hand"
    CLOSED = "closed"


class Act(StrEnum):
    """What is done to a box: at the bench, or (from PULL on) at the desk."""

    TAKE = "take"
    ADD = "add"
    OUT = "out"
    RIGHT = "right"
    CLOSE = "close"
    UNDO = "undo"
    LEAVE = "leave"
    PULL = "pull"
    RESTORE = "restore"
    DAMAGED = "damaged"
    MISSING = "missing"
    REPRINT = "reprint"
    ADDRESS = "address"


GOODS = frozenset({Act.DAMAGED, Act.MISSING})
NOTES = GOODS | {Act.REPRINT, Act.ADDRESS}
"""Acts that are noted down and change nothing of how the box stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """`count` of an item in a box. code: what a scan of the item reads."""

    item: str
    code: str
    name: str
    count: int


@dataclass(frozen=True, slots=True)
class Weighing:
    """From what to what a whole box may weigh, in tenths of a gram."""

    lightest: int
    heaviest: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxList:
    """What must be in a box. weighing: None where boxes are not weighed. sent: the carrier has it."""

    lines: tuple[Line, ...]
    weighing: Weighing | None = None
    sent: bool = False

    def line(self, item: str) -> Line | None:
        """Return the line of an item."""
        return next((one for one in self.lines if one.item == item), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxEvent:
    """One act. id: its own in all the world, so that sent twice it counts once. bench: where; who: by whom.

    at: when it was done, as the server reckons (aware). count, item: of what; tenths: weight in tenths of a gram; note: why.
    """

    id: str
    act: Act
    bench: str
    who: str
    at: datetime
    item: str = ""
    count: int = 1
    tenths: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxState:
    """How a box stands.

    bench, who: that have it in hand or closed it; until: before then no other bench may take it. trail: what was put in,
    in order, as (item, count). wrong: what does not belong in, until it is taken out. pulled: why the box is out of its
    wave, empty where it is not.
    """

    status: Status = Status.WAITING
    bench: str = ""
    who: str = ""
    until: datetime | None = None
    trail: tuple[tuple[str, int], ...] = ()
    wrong: str = ""
    tenths: int | None = None
    closed_at: datetime | None = None
    pulled: str = ""
    acts: int = 0

    @property
    def inside(self) -> Counter[str]:
        """How many of each item are in the box."""
        counts: Counter[str] = Counter()
        for item, count in self.trail:
            counts[item] += count
        return counts

    def missing(self, box: BoxList) -> tuple[tuple[Line, int], ...]:
        """Return the lines that are not all in yet, each with how many are missing."""
        inside = self.inside
        return tuple(
            (line, line.count - inside[line.item]) for line in box.lines if inside[line.item] < line.count
        )


UNTOUCHED = BoxState()


@dataclass(frozen=True, slots=True)
class Answer:
    """What comes of an act. done: it counts; else said tells why not and what to do. stops: it stops the bench."""

    done: bool
    said: str = ""
    stops: bool = field(default=False, kw_only=True)
