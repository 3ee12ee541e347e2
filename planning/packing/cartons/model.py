"""The question and the answer of choosing cartons."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil

from kits.measures import MM
from planning.packing.items import Container, PackLine


class CartonError(ValueError):
    """A row of cartons or limits that cannot be; the message says which and what to write instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Carton:
    """A carton one may choose.

    most: grams it carries, None without limit. price: what one costs. soft: it is as thick as what is in it and its own
    walls, as an envelope is; a rigid one is as thick as it is.
    """

    container: Container
    most: Fraction | None = None
    price: Decimal = Decimal(0)
    soft: bool = False

    def __post_init__(self) -> None:
        pairs = zip(self.container.inside, self.container.outside, strict=True)
        if any(inside <= 0 or outside < inside for inside, outside in pairs):
            raise CartonError(
                f"{self.container.name} must be larger outside than inside, and have room inside"
            )

    @property
    def walls(self) -> int:
        """What the carton itself adds to the height of its contents."""
        return self.container.outside[2] - self.container.inside[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class PostLimit:
    """A thickness (length) and a weight (grams) up to which post is cheaper or allowed; None without one."""

    name: str
    thickness: int | None = None
    weight: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPack:
    """What has to leave for one subscriber, under a name for messages. wrapping: what goes into each parcel besides."""

    name: str
    lines: tuple[PackLine, ...]
    wrapping: tuple[PackLine, ...] = ()

    def __post_init__(self) -> None:
        for lines in (self.lines, self.wrapping):
            if len({line.item.item for line in lines}) < len(lines):
                raise CartonError(f"{self.name}: an item stands in two lines; add them up")
        if any(line.count < 1 for line in self.lines + self.wrapping):
            raise CartonError(f"{self.name}: a line of no items; leave it out")


@dataclass(frozen=True, slots=True, kw_only=True)
class CartonsProblem:
    """Contents, the cartons there are, and the limits to keep an eye on.

    clearance: a carton is that much longer and wider inside than what lies flat in it. weight_tolerance: percent by which
    paper may be heavier. near: percent beyond a limit that is called just over it.
    """

    boxes: tuple[ToPack, ...]
    cartons: tuple[Carton, ...]
    clearance: int = 0
    weight_tolerance: Decimal = Decimal(0)
    limits: tuple[PostLimit, ...] = ()
    near: Decimal = Decimal(10)


class Remedy(StrEnum):
    """What may bring a parcel under a limit."""

    CARTON = "another carton"
    FEWER = "fewer of an item"
    THINNER = "thinner paper"
    LIGHTER = "lighter paper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One change that brings a parcel under a limit, all else left as it is.

    carton: item of the carton it then lies in. item: what is changed. amount: how many to take out; the most thickness
    (length) or weight (grams) of one sheet. words: the same for people. loss: what the box then lacks, in grams or in the
    height of its stack: the less, the sooner somebody will do it.
    """

    remedy: Remedy
    carton: str
    words: str
    item: str = ""
    amount: Fraction = Fraction(0)
    loss: Fraction = Fraction(0)


def tenths(value: Fraction) -> str:
    """Return a value to one decimal, rounded up: what is over by a hair is never over by nothing."""
    return f"{Decimal(ceil(value * 10)).scaleb(-1):,}"


@dataclass(frozen=True, slots=True, kw_only=True)
class JustOver:
    """A parcel just over a limit. over: thickness (length) and grams beyond it, 0 where it is kept."""

    limit: PostLimit
    over: tuple[int, Fraction]
    only_if_heavy: bool
    cures: tuple[Cure, ...]

    @property
    def by(self) -> str:
        """By how much it is over."""
        thick, heavy = self.over
        parts = [f"{tenths(Fraction(thick, MM))} mm"] if thick else []
        return " and ".join([*parts, *([f"{tenths(heavy)} g"] if heavy else [])])

    @property
    def nearest(self) -> tuple[Cure, ...]:
        """Of each kind of cure the one that takes least away."""
        kinds = ([cure for cure in self.cures if cure.remedy is remedy] for remedy in Remedy)
        return tuple(min(kind, key=lambda cure: (cure.loss, cure.item)) for kind in kinds if kind)

    @property
    def words(self) -> str:
        """What it is over, by how much, and what would bring it under."""
        what = "may be over" if self.only_if_heavy else "is over"
        cures = "; or ".join(cure.words for cure in self.nearest) or "no single change brings it under"
        return f"{what} {self.limit.name} by {self.by}: {cures}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedParcel:
    """One parcel in its carton.

    weight, heaviest: grams with nominal paper and with paper as heavy as it may be. outside: three lengths, those of a soft
    carton as it is filled.
    """

    lines: tuple[PackLine, ...]
    carton: Carton
    weight: Fraction
    heaviest: Fraction
    stack: Fraction
    outside: tuple[int, int, int]
    just_over: tuple[JustOver, ...] = ()

    @property
    def spare_depth(self) -> Fraction:
        """Room left above the stack."""
        return self.carton.container.inside[2] - self.stack


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedBox:
    """One subscriber's parcels. left: what fits no carton, with why in `faults`. least: no packing has fewer parcels."""

    name: str
    parcels: tuple[PackedParcel, ...]
    left: tuple[PackLine, ...]
    least: int
    faults: tuple[str, ...]

    @property
    def proved(self) -> bool:
        """Whether no packing into these cartons has fewer parcels."""
        return len(self.parcels) == self.least


@dataclass(frozen=True, slots=True, kw_only=True)
class CartonsResult:
    """A packing of every box."""

    boxes: tuple[PackedBox, ...]

    def warnings(self) -> Iterator[str]:
        """Yield what somebody must look at, in words."""
        for box in self.boxes:
            yield from (f"{box.name}: {fault}" for fault in box.faults)
            for number, parcel in enumerate(box.parcels, 1):
                yield from (f"{box.name}, parcel {number}: {one.words}" for one in parcel.just_over)
