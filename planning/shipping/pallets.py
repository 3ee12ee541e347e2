"""How many cartons of a kind stand on a pallet: lying flat, all turned alike, in layers, up to its height and its load."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Ends(StrEnum):
    """What keeps another carton off the pallet."""

    DECK = "larger than the deck"
    HEIGHT = "height"
    LOAD = "weight"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pallet:
    """Length and width of the deck and height of what stands on it (lengths), and grams it may carry."""

    length: int
    width: int
    height: int
    load: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Stacked:
    """Cartons of one kind on pallets. each: on a full pallet, 0 where none can stand on it; last: on the last one."""

    cartons: int
    a_layer: int
    layers: int
    each: int
    pallets: int
    ends: Ends

    @property
    def last(self) -> int:
        """Cartons on the last pallet."""
        return self.cartons - (self.pallets - 1) * self.each if self.pallets else 0


def stack_on(pallet: Pallet, outside: tuple[int, int, int], grams: Fraction, cartons: int) -> Stacked:
    """Stack so many cartons of one size and weight (at most). Other patterns of a layer may hold more."""
    long, wide, deep = outside
    ways = ((long, wide), (wide, long))
    a_layer = max((pallet.length // one) * (pallet.width // other) for one, other in ways)
    by_height = a_layer * (pallet.height // deep)
    by_load = int(pallet.load // grams) if grams else by_height
    each = min(by_height, by_load)
    in_room = Ends.HEIGHT if by_height <= by_load else Ends.LOAD
    return Stacked(
        cartons=cartons,
        a_layer=a_layer,
        layers=-(-each // a_layer) if a_layer else 0,
        each=each,
        pallets=-(-cartons // each) if each else 0,
        ends=in_room if a_layer else Ends.DECK,
    )
