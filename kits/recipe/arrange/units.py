"""What is laid as one: a piece, or several that are kept together so that fewer selections need a look."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from kits.guillotine import Direction, Offcut, Part
from kits.measures import Area, Length
from kits.recipe.arrange.lattice import Lattice, Unit
from kits.recipe.arrange.lay import Layer, cost_of, in_strips
from kits.recipe.arrange.sides import NEVER, Sides, Whole
from kits.recipe.design import PagePiece

BUNDLE_EFFORT = 200

Way = tuple[Length, Length, bool]  # width, height, turned


@dataclass(frozen=True, slots=True, eq=False)
class PieceUnit:
    """One piece and the ways it may lie."""

    name: str
    ways: tuple[Way, ...]
    area: Area
    narrow: Whole
    low: Whole

    @classmethod
    def of(cls, name: str, ways: tuple[Way, ...], sides: Sides) -> "PieceUnit":
        """Return a piece with its least widths and heights."""
        narrow: Whole = np.full(len(sides.heights), NEVER, np.int32)
        for width, height, _ in ways:
            narrow[sides.heights >= height] = np.minimum(narrow[sides.heights >= height], width)
        return cls(name, ways, ways[0][0] * ways[0][1], narrow, sides.low(narrow))

    def lay(self, width: Length, height: Length, direction: Direction) -> Part:
        """Return it in the near corner of a room."""
        fitting = [way for way in self.ways if way[0] <= width and way[1] <= height]
        laid = [self._laid(way, width, height, direction) for way in fitting]
        return min(laid, key=lambda part: cost_of(part, direction))

    def _laid(self, way: Way, width: Length, height: Length, direction: Direction) -> Part:
        part: Part = PagePiece(self.name, way[0], way[1], way[2])
        right, below = width - way[0], height - way[1]
        if (
            direction is Direction.UPRIGHT
        ):  # the last cut made around it here is the first one made at the trimmer
            part = in_strips(Direction.LEVEL, (part, Offcut(way[0], below))) if below else part
            return in_strips(Direction.UPRIGHT, (part, Offcut(right, height))) if right else part
        part = in_strips(Direction.UPRIGHT, (part, Offcut(right, way[1]))) if right else part
        return in_strips(Direction.LEVEL, (part, Offcut(width, below))) if below else part


@dataclass(frozen=True, slots=True)
class Hole:
    """An offcut of a certain size, laid like a piece."""

    width: Length
    height: Length

    @property
    def area(self) -> Area:
        """Its area."""
        return self.width * self.height

    @property
    def ways(self) -> tuple[Way, ...]:
        """The one way it lies."""
        return ((self.width, self.height, False),)

    def lay(self, width: Length, height: Length, direction: Direction) -> Part:
        """Return it, as large as the room."""
        return Offcut(width, height)


@dataclass(frozen=True, slots=True, eq=False)
class Bundle:
    """Units that are always kept together."""

    lattice: Lattice
    area: Area
    narrow: Whole
    low: Whole
    _layer: Layer = field(repr=False)

    @classmethod
    def of(cls, units: Sequence[tuple[Unit, int]], sides: Sides) -> "Bundle":
        """Return these copies of units as one."""
        lattice = Lattice(units, sides)
        full, layer = lattice.full, Layer(lattice, BUNDLE_EFFORT)
        return cls(lattice, int(lattice.area[full]), lattice.narrow[full], lattice.low[full], layer)

    @property
    def fits(self) -> bool:
        """Whether one sheet holds it."""
        return bool(self.lattice.fits[self.lattice.full])

    def lay(self, width: Length, height: Length, direction: Direction) -> Part:
        """Return it in a room."""
        return self._layer.lay(self.lattice.full, width, height, direction).part
