"""The question and the answer of the roster step.

The step never sees a name or an address: it works on *profiles*, each with the number of people it stands for, so
a million subscribers of a few hundred profiles are as quick to plan as a few hundred.
"""

from dataclasses import dataclass
from enum import StrEnum

from planning.calendar import YearMonth

Zones = tuple[tuple[str, str], ...]  # (carrier, zone) pairs, by carrier


class Reason(StrEnum):
    """Why someone on the roster gets no box this month."""

    INACTIVE = "not active"
    JOINS_LATER = "joins in a later month"
    SKIPS = "skips this month"
    NO_QUANTITY = "quantity is 0"


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What planning must know of a subscriber; `heads` people are alike in all of it.

    joined: month of joining, None for a founding member. skips: months skipped from joining to this month.
    zones: where each carrier counts the destination to. items: one-off goods as (item, count); kits: one-off kits as
    (tier, count).
    """

    tier: str
    quantity: int = 1
    active: bool = True
    joined: YearMonth | None = None
    skips: frozenset[YearMonth] = frozenset()
    zones: Zones = ()
    items: tuple[tuple[str, int], ...] = ()
    kits: tuple[tuple[str, int], ...] = ()
    heads: int = 1


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Contents:
    """What a box holds, in words of the roster: equal contents, equal boxes.

    kit: the tier's kit is in it (a parcel of one-off goods alone holds none). first: the welcome extra is in it.
    """

    tier: str
    kit: bool = True
    first: bool = False
    items: tuple[tuple[str, int], ...] = ()

    @property
    def signature(self) -> str:
        """Short text that names the contents and nothing else."""
        goods = [f"{count} x {item}" for item, count in self.items]
        return " + ".join(
            [self.tier if self.kit else "goods only", *(["first box"] if self.first else []), *goods]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterProblem:
    """Who is on the roster for which month."""

    month: YearMonth
    profiles: tuple[Profile, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxClass:
    """Boxes with the same contents going to the same zones: the unit every later step decides on."""

    contents: Contents
    zones: Zones
    boxes: int

    @property
    def destination(self) -> str:
        """The zones in words."""
        return " / ".join(sorted({zone for _, zone in self.zones})) or "no zone"

    @property
    def name(self) -> str:
        """The class in words, as lists and messages show it."""
        return f"{self.contents.signature} to {self.destination}"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """People who get nothing this month, by reason."""

    reason: Reason
    heads: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterResult:
    """The month's box classes, largest tier name first to last, and who is left out."""

    classes: tuple[BoxClass, ...]
    left_out: tuple[LeftOut, ...]
    heads: int

    @property
    def boxes(self) -> int:
        """Boxes of the month."""
        return sum(one.boxes for one in self.classes)
