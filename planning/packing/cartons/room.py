"""What contents need of a carton, and whether one gives it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil

from planning.packing.cartons.model import Carton
from planning.packing.items import PackItem, PackLine

Sides = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Need:
    """What contents need: two flat sides, the shorter first, the height of the stack, and grams at the heaviest."""

    short: int = 0
    long: int = 0
    stack: Fraction = Fraction(0)
    grams: Fraction = Fraction(0)

    def __add__(self, other: "Need") -> "Need":
        return Need(
            max(self.short, other.short),
            max(self.long, other.long),
            self.stack + other.stack,
            self.grams + other.grams,
        )

    def fits(self, carton: Carton, clearance: int) -> bool:
        """Tell whether a carton has the room and carries the weight."""
        sides = sorted(side - clearance for side in carton.container.inside[:2])
        flat = self.short <= sides[0] and self.long <= sides[1]
        carried = carton.most is None or self.grams <= carton.most
        return flat and carried and self.stack <= carton.container.inside[2]


def need(item: PackItem, count: int, tolerance: Decimal) -> Need:
    """Return what some of an item need. An item without a flat size is small enough to lie anywhere."""
    short, long = sorted((item.width or 0, item.height or 0))
    return Need(short, long, item.thickness * count, heaviest(item, tolerance) * count)


def needed(lines: Iterable[PackLine], tolerance: Decimal) -> Need:
    """Return what all lines need together."""
    return sum((need(line.item, line.count, tolerance) for line in lines), Need())


def heaviest(item: PackItem, tolerance: Decimal) -> Fraction:
    """Return the grams one may weigh; only paper may weigh more than it says."""
    return item.weight * (1 + Fraction(tolerance) / 100) if item.paper else item.weight


def outside(carton: Carton, stack: Fraction) -> Sides:
    """Return the outside of a packed carton; a soft one is as thick as its contents make it."""
    length, width, height = carton.container.outside
    return (length, width, ceil(stack) + carton.walls) if carton.soft else (length, width, height)


def best_carton(wanted: Need, cartons: Sequence[Carton], clearance: int) -> Carton | None:
    """Return the cheapest carton that fits, of equal ones the smallest."""
    return min((one for one in cartons if wanted.fits(one, clearance)), key=preference, default=None)


def preference(carton: Carton) -> tuple[Decimal, int, str]:
    """Put the cheaper first, then the smaller."""
    length, width, height = carton.container.outside
    return carton.price, length * width * height, carton.container.item
