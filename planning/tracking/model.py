"""The question and the answer of reading tracking numbers."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackingRow:
    """One row of a carrier's list. row: its number there. s10: the service numbers its parcels by UPU S10."""

    row: int
    box: str
    number: str
    s10: bool = True


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Tracked:
    """A number of a box. A box of several parcels has several."""

    box: str
    number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackingProblem:
    """Rows of a list, the boxes there are, and the numbers they have already."""

    rows: tuple[TrackingRow, ...]
    boxes: frozenset[str]
    known: tuple[Tracked, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """A row that was not taken, and why."""

    row: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackingResult:
    """What is new, the rows that say what is known already, and the rows not taken. Every row is in one of the three."""

    new: tuple[Tracked, ...]
    repeated: tuple[int, ...]
    refused: tuple[Refusal, ...]
