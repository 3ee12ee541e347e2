"""The question and the answer of the packing step."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planning.roster import Contents


@dataclass(frozen=True, slots=True, kw_only=True)
class PackItem:
    """Something that goes into boxes, as the bench sees it.

    weight: grams each. paper: its weight is nominal and may be off by the paper's tolerance. width, height: flat size.
    thickness: what one adds to the stack. packaging: wrapping, not something the subscriber keeps.
    """

    item: str
    name: str
    weight: Fraction = Fraction(0)
    paper: bool = False
    width: int | None = None
    height: int | None = None
    thickness: Fraction = Fraction(0)
    packaging: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Container:
    """A carton: its own weight, its room inside, its size outside (lengths)."""

    item: str
    name: str
    weight: Fraction
    inside: tuple[int, int, int]
    outside: tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class PackLine:
    """`count` of an item in one box."""

    item: PackItem
    count: int


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
    """Boxes of the same contents: how many, what is in one, which carton.

    signature: of what lies in it (`planning.contents`). extras are counted among the lines, too; without: what is not there
    and has no substitute.
    """

    contents: Contents
    boxes: int
    lines: tuple[PackLine, ...]
    container: Container | None
    signature: str = ""
    extras: tuple[Extra, ...] = ()
    without: tuple[Without, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingProblem:
    """All different boxes of the month and the bench's own figures (see planning.month.Club)."""

    boxes: tuple[BoxProblem, ...]
    flat_clearance: int = 0
    weight_tolerance: Decimal = Decimal(0)
    minutes_per_box: Decimal = Decimal(0)
    minutes_per_line: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSpec:
    """One box worked out.

    weight: grams, nominal; heaviest: grams, with the paper as heavy as its tolerance allows. stack: height of the
    contents, every piece counted as a layer. spare_depth: inside depth less stack. faults: why it does not fit, in words.
    signature, extras, without: as in the question.
    """

    contents: Contents
    boxes: int
    lines: tuple[PackLine, ...]
    container: Container | None
    weight: Fraction
    heaviest: Fraction
    stack: Fraction
    minutes: Decimal
    faults: tuple[str, ...]
    signature: str = ""
    extras: tuple[Extra, ...] = ()
    without: tuple[Without, ...] = ()

    @property
    def spare_depth(self) -> Fraction | None:
        """Room left above the stack."""
        return None if self.container is None else self.container.inside[2] - self.stack


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
    def faults(self) -> tuple[str, ...]:
        """Every box that does not fit, in words."""
        return tuple(f"{spec.contents.name}: {fault}" for spec in self.boxes for fault in spec.faults)
