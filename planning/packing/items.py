"""What lies in boxes, and the cartons it lies in."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction


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


def merged(lines: Iterable[PackLine]) -> tuple[PackLine, ...]:
    """Return lines with those of one item added up, in the order they come."""
    found: dict[str, PackLine] = {}
    for line in lines:
        before = found.get(line.item.item)
        found[line.item.item] = line if before is None else replace(before, count=before.count + line.count)
    return tuple(found.values())
