"""The rule: what lies in a parcel, summed up by code and origin, wrapping left out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from kits.measures import round_money
from planning.packing.items import PackLine


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemFact:
    """What a declaration says of one piece of an item. value: exact, in the club's money."""

    words: str
    hs_code: str
    origin: str
    value: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomsLine:
    """Goods of one code and origin in a parcel: how many pieces, grams, and what they are worth."""

    words: str
    hs_code: str
    origin: str
    pieces: int
    weight: Fraction
    value: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Declaration:
    """The customs lines of a parcel, and by name what lies in it without a fact."""

    lines: tuple[CustomsLine, ...]
    missing: tuple[str, ...] = ()

    @property
    def value(self) -> Decimal:
        """What all of it is worth: the lines as they are written, added up."""
        return sum((line.value for line in self.lines), Decimal(0))


def declare(lines: Iterable[PackLine], facts: Mapping[str, ItemFact], exponent: int) -> Declaration:
    """Declare what lies in a parcel. facts: by item; exponent: decimals of the club's money.

    A line is worth at least the smallest coin, for nothing that is sent is worth nothing to a customs officer.
    """
    goods = [line for line in lines if not line.item.packaging]
    found: dict[tuple[str, str], list[tuple[PackLine, ItemFact]]] = {}
    for line in goods:
        if fact := facts.get(line.item.item):
            found.setdefault((fact.hs_code, fact.origin), []).append((line, fact))
    return Declaration(
        lines=tuple(summed(alike, exponent) for alike in found.values()),
        missing=tuple(line.item.name for line in goods if line.item.item not in facts),
    )


def summed(alike: list[tuple[PackLine, ItemFact]], exponent: int) -> CustomsLine:
    """Add up goods of one code and origin."""
    worth = sum((line.count * fact.value for line, fact in alike), Fraction(0))
    first = alike[0][1]
    return CustomsLine(
        words=", ".join(dict.fromkeys(fact.words for _, fact in alike)),
        hs_code=first.hs_code,
        origin=first.origin,
        pieces=sum(line.count for line, _ in alike),
        weight=sum((line.count * line.item.weight for line, _ in alike), Fraction(0)),
        value=max(round_money(worth, exponent), Decimal(1).scaleb(-exponent)),
    )


def part_of(fact: ItemFact, share: Fraction) -> ItemFact:
    """Return the fact of a part of something."""
    return replace(fact, value=fact.value * share)
