"""The question and the answer of what goes into each box."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from hashlib import sha256

from planning.calendar import YearMonth
from planning.contents.rows import Extra, Rule, RuleError, TierLine

Goods = tuple[tuple[str, int], ...]  # items and counts, by item


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One box to be filled, as far as the rules ask.

    number: which box of the subscription it is, from 1 on. joined: None where it is not known, and there are no
    anniversaries. codes: promotions it was ordered with. day: on which promotions are looked at.
    """

    code: str
    tier: str
    country: str
    number: int
    day: date
    joined: YearMonth | None = None
    codes: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        if self.number < 1:
            raise RuleError(
                f"box {self.code} cannot be number {self.number} of a subscription: the first is 1"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentsProblem:
    """Boxes of a month and the rows they are filled by."""

    month: YearMonth
    boxes: tuple[Box, ...]
    tiers: tuple[TierLine, ...]
    rules: tuple[Rule, ...] = ()
    extras: tuple[Extra, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Assortment:
    """What is in a box: each item once, with its count, in no order but the items' own."""

    goods: Goods

    @cached_property
    def signature(self) -> str:
        """Sixteen characters that equal contents share and others do not."""
        lines = "\n".join(f"{len(item)}:{item} {count}" for item, count in self.goods)
        return sha256(lines.encode()).hexdigest()[:16]

    @property
    def words(self) -> str:
        """The contents in words."""
        return " + ".join(f"{count} x {item}" for item, count in self.goods) or "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """What a row changed in a box: `count` more of an item, fewer where it is below zero."""

    item: str
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """A box and what is in it. reasons add up to the contents; faults: what somebody must look at."""

    box: str
    contents: Assortment
    reasons: tuple[Reason, ...]
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Clash:
    """Two rules at odds in some boxes: `kept` counted, `dropped` did not. equal: for no better reason than its code."""

    kept: str
    dropped: str
    about: str
    equal: bool
    boxes: int

    @property
    def words(self) -> str:
        """The clash in words, with what to do where it is a conflict."""
        boxes = f"{self.boxes:,} box{'' if self.boxes == 1 else 'es'}"
        if self.equal:
            return (
                f"rules {self.kept} and {self.dropped} are at odds over {self.about} in {boxes} and have the same "
                f"priority: {self.kept} counted; give one a higher priority"
            )
        return f"rule {self.kept} counted before {self.dropped} over {self.about} in {boxes}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Boxes with the same contents, by code."""

    contents: Assortment
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentsResult:
    """Every box filled, boxes alike together, and rules at odds. faults: what belongs to no box."""

    boxes: tuple[Filled, ...]
    alike: tuple[Alike, ...]
    clashes: tuple[Clash, ...]
    faults: tuple[str, ...]

    @property
    def conflicts(self) -> tuple[Clash, ...]:
        """Rules at odds that no priority decides."""
        return tuple(clash for clash in self.clashes if clash.equal)
