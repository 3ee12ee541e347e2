"""The question and the answer of the roster step.

The step never sees a name or an address: it works on *profiles*, each with the number of people it stands for, so
a million subscribers of a few hundred profiles are as quick to plan as a few hundred.
"""

from dataclasses import dataclass
from enum import StrEnum

from planning.calendar import YearMonth
from planning.roster.rows import Besides

Zones = tuple[tuple[str, str], ...]  # (carrier, zone) pairs, by carrier
OTHER = -1  # boxes before this one, where no rule asks for the number it makes


class Reason(StrEnum):
    """Why someone on the roster gets no box this month."""

    INACTIVE = "not active"
    JOINS_LATER = "joins in a later month"
    SKIPS = "skips this month"
    NO_QUANTITY = "quantity is 0"


class Part(StrEnum):
    """Which of a subscriber's parcels of the month it is."""

    MAIN = "main"  # the first one with a kit in it: all that is theirs once goes into it
    FURTHER = "further"  # another box of the subscription, or a kit ordered besides
    GOODS = "goods"  # goods alone, of somebody who gets no box


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasions:
    """What the month's rules ask of a subscriber: only by that are people told apart who are else alike.

    numbers: of boxes, 1 is the first. years: since joining, with an anniversary of its own; every_year: each has one.
    promotions: codes; countries: all that some rule names.
    """

    numbers: frozenset[int] = frozenset({1})
    years: frozenset[int] = frozenset()
    every_year: bool = False
    promotions: frozenset[str] = frozenset()
    countries: frozenset[str] = frozenset()

    def before(self, sent: int | None) -> int | None:
        """Return how many boxes came before, as far as it matters."""
        return sent if sent is None or sent + 1 in self.numbers else OTHER


NOTHING_ASKED = Occasions()


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What planning must know of a subscriber; `heads` people are alike in all of it.

    joined: month of joining, None for a founding member. skips: months skipped from joining to this month. sent: boxes
    they have had, None where joining and skips tell; country and promotions: where a rule asks for them (`Occasions`).
    zones: where each carrier counts the destination to. region: the country whose working days count on the way, "" where
    they are the carriers' own. items: one-off goods as (item, count); replacements: likewise, for
    what came damaged; kits: one-off kits as (tier, count).
    """

    tier: str
    quantity: int = 1
    active: bool = True
    joined: YearMonth | None = None
    skips: frozenset[YearMonth] = frozenset()
    sent: int | None = None
    country: str = ""
    promotions: frozenset[str] = frozenset()
    zones: Zones = ()
    region: str = ""
    items: tuple[tuple[str, int], ...] = ()
    replacements: tuple[tuple[str, int], ...] = ()
    kits: tuple[tuple[str, int], ...] = ()
    heads: int = 1


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Due:
    """A box somebody is due, as far as the rules of contents look at it.

    number: which box it is, years: of the anniversary it comes at; both 0 where no rule asks. promotions, items and
    replacements are the main box's, and those of goods alone.
    """

    tier: str
    part: Part = Part.MAIN
    country: str = ""
    number: int = 0
    years: int = 0
    promotions: tuple[str, ...] = ()
    items: tuple[tuple[str, int], ...] = ()
    replacements: tuple[tuple[str, int], ...] = ()

    @property
    def code(self) -> str:
        """Short text that names all of it."""
        told = [self.tier] if self.part is Part.MAIN else [self.tier, self.part]
        told += [f"to {self.country}"] if self.country else []
        told += [f"box {self.number}"] if self.number else []
        told += [f"anniversary {self.years}"] if self.years else []
        told += [f"promotion {code}" for code in self.promotions]
        told += [f"{count} x {item}" for item, count in self.items]
        told += [f"{Besides.REPLACEMENT} {count} x {item}" for item, count in self.replacements]
        return "; ".join(told)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Change:
    """`count` more of an item than else, fewer where it is below zero. why: the occasion; instead: of what it is there."""

    item: str
    count: int
    why: str
    instead: str = ""

    @property
    def words(self) -> str:
        """The change in the codes of rows."""
        instead = f" instead of {plain(self.instead)}" if self.instead else ""
        less = "without " if self.count < 0 else ""
        return f"{less}{abs(self.count)} x {plain(self.item)}{instead} ({self.why})"


def plain(item: str) -> str:
    """Return an item's own code, without what the bill of materials puts before it."""
    return item.partition(":")[2] or item


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Contents:
    """What a box holds: equal contents, equal boxes.

    kit: the tier's kit is in it (a parcel of one-off goods alone holds none). changes: what rules add to the kit and take
    out of it; besides: add-on orders and replacements, as they go out.
    """

    tier: str
    kit: bool = True
    changes: tuple[Change, ...] = ()
    besides: tuple[Change, ...] = ()

    @property
    def name(self) -> str:
        """Short text that names the contents and nothing else."""
        every = (*self.changes, *self.besides)
        return " + ".join([self.tier if self.kit else "goods only", *(one.words for one in every)])


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterProblem:
    """Who is on the roster for which month.

    occasions: what the rules of contents ask of them. filled: the contents of each box that is due, by its code; one that is
    not there holds its tier's kit and what was ordered besides.
    """

    month: YearMonth
    profiles: tuple[Profile, ...]
    occasions: Occasions = NOTHING_ASKED
    filled: tuple[tuple[str, Contents], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxClass:
    """Boxes with the same contents going to the same zones of one region: the unit every later step decides on."""

    contents: Contents
    zones: Zones
    boxes: int
    region: str = ""

    @property
    def destination(self) -> str:
        """The zones in words, and the country where its working days are its own."""
        zones = " / ".join(sorted({zone for _, zone in self.zones})) or "no zone"
        return f"{zones} ({self.region})" if self.region.isupper() else zones

    @property
    def name(self) -> str:
        """The class in words, as lists and messages show it."""
        return f"{self.contents.name} to {self.destination}"


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
