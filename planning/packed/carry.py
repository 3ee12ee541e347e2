"""Which packed boxes count when a later version of the plan is packed: one box of the same person with the same contents."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Listed:
    """A box of a plan. reference: whose it is; signature: what is in it."""

    serial: int
    reference: str
    signature: str


@dataclass(frozen=True, slots=True)
class Carried:
    """pairs: serials of packed boxes with those they stand for now; astray: packed boxes that nobody gets now."""

    pairs: tuple[tuple[int, int], ...]
    astray: tuple[Listed, ...]


def carry_over(packed: Iterable[Listed], listed: Iterable[Listed]) -> Carried:
    """Let every packed box stand for at most one of those listed now, in the order of their serials."""
    waiting: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    for one in sorted(listed, reverse=True):
        waiting[one.reference, one.signature].append(one.serial)
    pairs, astray = [], []
    for one in sorted(packed):
        alike = waiting[one.reference, one.signature]
        if alike:
            pairs.append((one.serial, alike.pop()))
        else:
            astray.append(one)
    return Carried(tuple(pairs), tuple(astray))
