"""The question and the answer of the packing step."""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planning.packing.cartons import Carton, PackedParcel, PostLimit
from planning.packing.items import Container, PackItem, PackLine
from planning.roster import Contents


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra:
    """`count` of a box's items that are not of its tier's kit. why: the occasion; instead: what it is there for, by name."""

    item: PackItem
    count: int
    why: str
    instead: str = ""

    @property
    def words(self) -> str:
        """What it is, its count apart."""
        return f"{self.item.name}{f' instead of {self.instead}' if self.instead else ''} ({self.why})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Without:
    """`count` of something that the tier's kit holds and this box does not, by name, and why."""

    name: str
    count: int
    why: str

    @property
    def words(self) -> str:
        """What it is, its count apart."""
        return f"{self.name} ({self.why})"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxProblem:
    """Boxes of the same contents: how many, what is in one, which cartons it may go into.

    wrapping: what goes into each of its parcels besides. signature: of what lies in it (`planning.contents`). extras are
    counted among the lines, too; without: what is not there and has no substitute.
    """

    contents: Contents
    boxes: int
    lines: tuple[PackLine, ...]
    wrapping: tuple[PackLine, ...] = ()
    cartons: tuple[Carton, ...] = ()
    signature: str = ""
    extras: tuple[Extra, ...] = ()
    without: tuple[Without, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingProblem:
    """All different boxes of the month and the bench's own figures (see planning.month.Club).

    limits: what to keep parcels under; near: percent beyond one that is called just over it.
    """

    boxes: tuple[BoxProblem, ...]
    flat_clearance: int = 0
    weight_tolerance: Decimal = Decimal(0)
    minutes_per_box: Decimal = Decimal(0)
    minutes_per_line: Decimal = Decimal(0)
    minutes_per_parcel: Decimal = Decimal(0)
    limits: tuple[PostLimit, ...] = ()
    near: Decimal = Decimal(10)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSpec:
    """One box worked out: all that leaves for a subscriber at once, in one parcel or several.

    lines: everything in its parcels but their cartons. weight, heaviest: grams of all parcels, with nominal paper and with
    paper as heavy as it may be. least: no packing has fewer parcels. faults: why it does not fit, in words; it is then
    packed into the roomiest carton all the same. signature, extras, without: as in the question.
    """

    contents: Contents
    boxes: int
    lines: tuple[PackLine, ...]
    parcels: tuple[PackedParcel, ...]
    least: int
    minutes: Decimal
    faults: tuple[str, ...]
    signature: str = ""
    extras: tuple[Extra, ...] = ()
    without: tuple[Without, ...] = ()

    @property
    def weight(self) -> Fraction:
        """Nominal grams of all parcels."""
        return sum((one.weight for one in self.parcels), Fraction(0))

    @property
    def heaviest(self) -> Fraction:
        """Grams of all parcels at most."""
        return sum((one.heaviest for one in self.parcels), Fraction(0))

    @property
    def fullest(self) -> PackedParcel | None:
        """The parcel with the least room left above its stack."""
        return min(self.parcels, key=lambda one: one.spare_depth, default=None)

    @property
    def stack(self) -> Fraction:
        """Height of the stack in the fullest parcel, every piece counted as a layer."""
        return self.fullest.stack if self.fullest else Fraction(0)

    @property
    def spare_depth(self) -> Fraction | None:
        """The room left above that stack."""
        return self.fullest.spare_depth if self.fullest else None

    @property
    def cartons(self) -> Counter[Container]:
        """The cartons of one box, and how many of each."""
        return Counter(one.carton.container for one in self.parcels)

    @property
    def packed_in(self) -> str:
        """The cartons of one box in words."""
        return " + ".join(
            f"{count} x {one.name}" if count > 1 else one.name for one, count in self.cartons.items()
        )

    @property
    def held(self) -> Counter[str]:
        """How many of each item one box takes, its cartons included."""
        held = Counter({line.item.item: line.count for line in self.lines})
        for one, count in self.cartons.items():
            held[one.item] += count
        return held


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingResult:
    """A specification for every different box."""

    boxes: tuple[BoxSpec, ...]

    def of(self, contents: Contents) -> BoxSpec:
        """Return the specification of some contents."""
        return next(spec for spec in self.boxes if spec.contents == contents)

    @property
    def minutes(self) -> Decimal:
        """Minutes at the bench in all."""
        return sum((spec.minutes * spec.boxes for spec in self.boxes), Decimal(0))

    @property
    def parcels(self) -> int:
        """Parcels of all boxes."""
        return sum(len(spec.parcels) * spec.boxes for spec in self.boxes)

    @property
    def faults(self) -> tuple[str, ...]:
        """Every box that does not fit, in words."""
        return tuple(f"{spec.contents.name}: {fault}" for spec in self.boxes for fault in spec.faults)

    @property
    def just_over(self) -> tuple[str, ...]:
        """Every parcel just over a limit, in words."""
        return tuple(
            f"{spec.contents.name}{f', parcel {number}' if len(spec.parcels) > 1 else ''}: {one.words}"
            for spec in self.boxes
            for number, parcel in enumerate(spec.parcels, 1)
            for one in parcel.just_over
        )
