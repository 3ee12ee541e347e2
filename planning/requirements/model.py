"""The question and the answer of the requirements step: a bill of materials, exploded and netted level by level."""

from dataclasses import dataclass

from kits.catalogue import Overs
from planning.overs import Operation, spoiled


class RequirementsError(ValueError):
    """A bill that cannot be exploded; the message names the items."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """Units wanted of an item at the top of the bill, below zero where as many less are wanted."""

    item: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One unit of `parent` takes `per` units of `item`."""

    parent: str
    item: str
    per: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """Finished units on the shelf, used before more are made."""

    item: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemOvers:
    """Extra wanted of an item: as its operations spoil it, first to last, or where none are told by its own overs."""

    item: str
    overs: Overs
    operations: tuple[Operation, ...] = ()

    def on(self, good: int) -> int:
        """Return the extra units for a good count."""
        return spoiled(good, self.operations) if self.operations else self.overs.on(good)


@dataclass(frozen=True, slots=True, kw_only=True)
class RequirementsProblem:
    """Demands, the bill below them, and what is on the shelf or spoiled on the way."""

    demands: tuple[Demand, ...]
    bill: tuple[BillLine, ...]
    on_hand: tuple[OnHand, ...] = ()
    overs: tuple[ItemOvers, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One summand of a requirement: `parents` units of the parent, each taking `per`."""

    parent: str
    parents: int
    per: int

    @property
    def total(self) -> int:
        """Units asked for by this parent."""
        return self.parents * self.per


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """Units wanted of one item.

    good: what goes into boxes (or into parents); overs: extra on the good count; from_shelf: taken from finished stock;
    net: still to be made or bought. good + overs = from_shelf + net.
    """

    item: str
    good: int
    overs: int
    from_shelf: int
    net: int
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Units of an item that end in boxes on account of one demand."""

    demand: str
    item: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RequirementsResult:
    """A requirement for every item, parents before their parts, and who the good units are for."""

    lines: tuple[Requirement, ...]
    uses: tuple[Use, ...]

    def of(self, name: str) -> Requirement | None:
        """Return the requirement of one item."""
        return next((line for line in self.lines if line.item == name), None)
