"""What is spoiled on the way, operation by operation: a make-ready count and a percentage of what runs.

The last operation hands on the good count; each one before must hand on what the next one takes in. The percentage is of
the good count, as printers' spoilage tables state it (American Printer, 1 January 1996, "Determining your paper waste"),
or of what starts: 1,000 good at 5 % of the good are 1,050, at 5 % of the start 1,053.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction


class Base(StrEnum):
    """What a percentage of spoilage is of."""

    GOOD = "of the good"
    START = "of the start"


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One operation: what it spoils before it runs well, and how many percent of what runs. Raises ValueError."""

    name: str
    make_ready: int = 0
    percent: Decimal = Decimal(0)
    base: Base = Base.GOOD

    def __post_init__(self) -> None:
        if self.make_ready < 0 or self.percent < 0:
            raise ValueError(f"{self.name}: nothing less than nothing is spoiled")
        if self.base is Base.START and self.percent >= 100:
            raise ValueError(f"{self.name}: {self.percent} % of the start leaves nothing good")

    def start(self, good: int) -> int:
        """Return how many must start so that so many come out good; where nothing is wanted, nothing starts."""
        if good == 0:
            return 0
        share = Fraction(self.percent) / 100
        run = good + good * share if self.base is Base.GOOD else good / (1 - share)
        return -(-run.numerator // run.denominator) + self.make_ready


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """What one operation takes in, and what of it comes out good."""

    operation: str
    start: int
    good: int

    @property
    def spoiled(self) -> int:
        """Units this operation spoils."""
        return self.start - self.good


def passes(good: int, operations: Sequence[Operation]) -> tuple[Pass, ...]:
    """Return what each operation takes in and hands on, first to last, so that so many come out of the last."""
    found: list[Pass] = []
    for operation in reversed(operations):
        found.append(Pass(operation=operation.name, start=operation.start(good), good=good))
        good = found[-1].start
    return tuple(reversed(found))


def spoiled(good: int, operations: Sequence[Operation]) -> int:
    """Return what all operations together spoil on the way to a good count."""
    return sum(one.spoiled for one in passes(good, operations))
