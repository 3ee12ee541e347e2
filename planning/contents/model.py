"""The question and the answer of what goes into each box."""

from collections import Counter
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from hashlib import sha256

from planning.calendar import YearMonth
from planning.contents.rows import Extra, Rule, RuleError, TierLine
from planning.roster import Contents, Part
from planning.roster.model import plain

Goods = tuple[tuple[str, int], ...]  # items and counts, by item


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One box to be filled, as far as the rules ask, or `boxes` of them that are alike.

    number: which box of the subscription it is, from 1 on; None where no rule asks. joined: None where it is not known, and
    there are no anniversaries. codes: promotions it was ordered with. day: on which promotions are looked at. country: empty
    where no rule names it. part: what is for a subscriber once goes into the main box only, and nothing of a tier into goods
    alone.
    """

    code: str
    tier: str
    country: str
    number: int | None
    day: date
    part: Part = Part.MAIN
    boxes: int = 1
    joined: YearMonth | None = None
    codes: frozenset[str] = frozenset()

    @property
    def is_first(self) -> bool:
        """Whether it is the first of a subscription."""
        return self.number == 1 and self.part is Part.MAIN

    def __post_init__(self) -> None:
        if self.number is not None and self.number < 1:
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
    """What a row changed in a box: `count` more of an item, fewer where it is below zero.

    why: which row; occasion: when a rule is for a box, empty for what the tier holds; instead: of what the item is there.
    """

    item: str
    count: int
    why: str
    occasion: str = ""
    instead: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """A box and what is in it. reasons add up to the contents; faults: what somebody must look at.

    held: the same contents, told by what differs from the tier's. boxes: that are alike in all that rules ask; first: they
    are the first of a subscription.
    """

    box: str
    contents: Assortment
    held: Contents
    reasons: tuple[Reason, ...]
    faults: tuple[str, ...] = ()
    boxes: int = 1
    first: bool = False


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
        boxes = how_many(self.boxes)
        if self.equal:
            return (
                f"rules {self.kept} and {self.dropped} are at odds over {plain(self.about)} in {boxes} and have the same "
                f"priority: {self.kept} counted; give one a higher priority"
            )
        return f"rule {self.kept} counted before {self.dropped} over {plain(self.about)} in {boxes}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Applied:
    """In how many boxes a rule changed something. words: what it does; why_not: where that is none, why."""

    rule: str
    words: str
    boxes: int
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Boxes with the same contents, by code."""

    contents: Assortment
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentsResult:
    """Every box filled, boxes alike together, rules at odds, and what each rule came to. faults: what belongs to no box."""

    boxes: tuple[Filled, ...]
    alike: tuple[Alike, ...]
    clashes: tuple[Clash, ...]
    applied: tuple[Applied, ...]
    faults: tuple[str, ...]

    @property
    def conflicts(self) -> tuple[Clash, ...]:
        """Rules at odds that no priority decides."""
        return tuple(clash for clash in self.clashes if clash.equal)

    @property
    def needs(self) -> tuple[str, ...]:
        """What somebody must look at, in words."""
        boxes: Counter[str] = Counter()
        for one in self.boxes:
            for fault in one.faults:
                boxes[fault] += one.boxes
        return (
            *(clash.words for clash in self.conflicts),
            *(f"rule {one.rule} changes no box: {one.why_not}" for one in self.applied if one.why_not),
            *(f"{how_many(count)}: {fault}" for fault, count in boxes.items()),
            *self.faults,
        )

    @property
    def filled(self) -> tuple[tuple[str, Contents], ...]:
        """What each box holds, by its code."""
        return tuple((one.box, one.held) for one in self.boxes)

    @property
    def first_boxes(self) -> int:
        """How many are the first of a subscription."""
        return sum(one.boxes for one in self.boxes if one.first)


def how_many(boxes: int) -> str:
    """Return a number of boxes in words."""
    return f"{boxes:,} box{'' if boxes == 1 else 'es'}"
