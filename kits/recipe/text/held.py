"""What is in hand while the lines of a sheet are read."""

from dataclasses import dataclass, replace
from typing import TypeAlias

from kits.guillotine import Direction
from kits.measures import Length
from kits.recipe.hand import FIRST_WAY

Sheet: TypeAlias = tuple[str, int]  # role and number


@dataclass(frozen=True, slots=True)
class Room:
    """The size of what is in hand; None where a problem before has left it unknown.

    is_sure: no cut around it has a problem, so what does not fit it is a problem of its own.
    """

    width: Length | None = None
    height: Length | None = None
    is_sure: bool = True

    def along(self, direction: Direction) -> Length | None:
        """The side that cuts of this direction shorten."""
        return self.width if direction is Direction.UPRIGHT else self.height

    def shortened(self, direction: Direction, side: Length | None) -> "Room":
        """The same with that side changed."""
        upright = direction is Direction.UPRIGHT
        return replace(self, width=side) if upright else replace(self, height=side)


@dataclass(frozen=True, slots=True)
class Held:
    """Sheets or parts in hand: of which sheets, how large, how a cut would run, and how many lie around it."""

    sheets: tuple[Sheet, ...]
    room: Room
    direction: Direction = FIRST_WAY
    depth: int = 0

    def with_room(self, room: Room) -> "Held":
        """The same, of another size."""
        return replace(self, room=room)


NOTHING = Held((("", 0),), Room())  # to read on after a problem, for the problems that follow
