"""The question and the answer of the allocation step."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum


class AllocationError(ValueError):
    """A question that does not hold together; the message says what."""


class Rule(StrEnum):
    """Who gets what there is too little of."""

    TIER = "tier"  # the tiers in their order; within one, whoever joined first
    JOINED = "joining date"  # whoever joined first; of one day, the tiers in their order
    EVEN = "even"  # of every tier the same share of its boxes; within one, whoever joined first


@dataclass(frozen=True, slots=True, kw_only=True)
class Uses:
    """Units of a material in one box."""

    material: str
    each: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxGroup:
    """Boxes that hold the same and whose subscribers joined on the same day; None for founding members, who come first.

    Boxes of a group are numbered from 1; those with small numbers are served first.
    """

    code: str
    tier: str
    boxes: int
    joined: date | None = None
    uses: tuple[Uses, ...] = ()

    def each(self, material: str) -> int:
        """Return the units of a material in one box."""
        return sum(one.each for one in self.uses if one.material == material)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortMaterial:
    """A material there is too little of, and how many units there are for boxes."""

    material: str
    name: str
    available: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitute:
    """What may go in instead: so many units for one, how many are free for it, what changes, and what one costs."""

    material: str
    instead: str
    name: str
    available: int
    per: int = 1
    changes: tuple[str, ...] = ()
    price: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AllocationProblem:
    """Boxes, what they lack, and the rule. tiers: in their order, the first served first. Substitutes are tried in order."""

    rule: Rule
    tiers: tuple[str, ...]
    groups: tuple[BoxGroup, ...]
    short: tuple[ShortMaterial, ...]
    substitutes: tuple[Substitute, ...] = ()

    def __post_init__(self) -> None:
        for what, codes in (
            ("groups", [one.code for one in self.groups]),
            ("short materials", [one.material for one in self.short]),
            ("tiers", list(self.tiers)),
        ):
            if twice := sorted({code for code in codes if codes.count(code) > 1}):
                raise AllocationError(f"two {what} with one code: {', '.join(twice)}. Give each its own.")
        if strange := sorted({one.tier for one in self.groups} - set(self.tiers)):
            raise AllocationError(
                f"{', '.join(strange)} is not among the tiers. Name every tier in its order."
            )
        short = {one.material for one in self.short}
        for one in self.substitutes:
            if one.material not in short or one.instead in short:
                raise AllocationError(
                    f"{one.instead} cannot stand in for {one.material}: only one is to be short"
                )
            if one.per < 1 or one.available < 0:
                raise AllocationError(
                    f"{one.instead} for {one.material}: at least 1 for one, and none below 0 free"
                )
        for group in self.groups:
            if group.boxes < 0 or any(use.each < 0 for use in group.uses):
                raise AllocationError(f"{group.code}: no count is negative")
        if any(one.available < 0 for one in self.short):
            raise AllocationError("no fewer than no units are available")


@dataclass(frozen=True, slots=True, kw_only=True)
class Got:
    """What a box has of a short material: the thing itself, a substitute, or nothing."""

    material: str
    instead: str | None = None
    is_without: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxes:
    """Boxes of a group by number, from first to last, that fare alike. got: where they differ from what was planned."""

    group: str
    first: int
    last: int
    got: tuple[Got, ...]

    @property
    def count(self) -> int:
        """How many boxes."""
        return self.last - self.first + 1

    @property
    def is_whole(self) -> bool:
        """Whether they hold what was planned."""
        return not self.got

    @property
    def lacks(self) -> tuple[str, ...]:
        """The materials they go without."""
        return tuple(one.material for one in self.got if one.is_without)


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialOutcome:
    """How a short material was given out, in boxes: with it, with each substitute, without; and units left unused."""

    material: str
    name: str
    wanted: int
    available: int
    served: int
    instead: tuple[tuple[str, int], ...]
    without: int
    unused: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AllocationResult:
    """Every box that holds a short material, in runs that fare alike, and each material's outcome.

    groups: theirs, whoever is served first at the front. substitutes: those there were.
    """

    groups: tuple[BoxGroup, ...]
    substitutes: tuple[Substitute, ...]
    boxes: tuple[Boxes, ...]
    materials: tuple[MaterialOutcome, ...]
    ended: str

    @property
    def whole(self) -> int:
        """Boxes that hold what was planned."""
        return counted(one for one in self.boxes if one.is_whole)

    @property
    def changed(self) -> int:
        """Boxes with a substitute that go without nothing."""
        return counted(one for one in self.boxes if one.got and not one.lacks)

    @property
    def lacking(self) -> int:
        """Boxes that go without something."""
        return counted(one for one in self.boxes if one.lacks)

    @property
    def affected(self) -> tuple[Boxes, ...]:
        """The boxes that do not hold what was planned."""
        return tuple(one for one in self.boxes if not one.is_whole)


def counted(boxes: Iterable[Boxes]) -> int:
    """Count boxes."""
    return sum(one.count for one in boxes)
