"""What is in hand at the trimmer: one sheet or part, or several of equal size that are cut as one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from kits.guillotine import Cut, Direction, Part, divide
from kits.measures import Length
from kits.recipe.design import CutSheet, Lift

FIRST_WAY = Direction.UPRIGHT  # a sheet comes to hand with its left edge at the fence


@dataclass(frozen=True, slots=True)
class Hand:
    """Parts of some sheets, one on the other, and the direction that a cut would have without a turn."""

    sheets: tuple[CutSheet, ...]
    parts: tuple[Part, ...]
    direction: Direction = FIRST_WAY

    @property
    def leaf(self) -> Part | None:
        """What every part is, if that is the same piece or offcut."""
        first = self.parts[0]
        same = not isinstance(first, Cut) and all(part == first for part in self.parts)
        return first if same else None

    @property
    def mark(self) -> Length:
        """The mark of the next cut, the far one of those that run the same way."""
        return _cut(self.parts[0]).marks[-1]

    @property
    def needs_turn(self) -> bool:
        """Whether the next cut runs the other way."""
        return _cut(self.parts[0]).direction is not self.direction

    def turned(self) -> "Hand":
        """Return the same after a quarter turn."""
        return replace(self, direction=self.direction.across)

    def apart(self) -> tuple["Hand", ...]:
        """Return those that share what happens next; one only where all still do."""
        alike: dict[object, list[int]] = {}
        for index, part in enumerate(self.parts):
            key = (part.direction, part.marks[-1]) if isinstance(part, Cut) else part
            alike.setdefault(key, []).append(index)
        if len(alike) == 1:
            return (self,)
        return tuple(self._some(indices) for indices in alike.values())

    def cut_off(self) -> tuple["Hand", "Hand"]:
        """Make the next cut: return what comes off, and what stays at the fence."""
        off = tuple(_cut(part).parts[-1] for part in self.parts)
        kept = tuple(_kept(_cut(part)) for part in self.parts)
        return replace(self, parts=off), replace(self, parts=kept)

    def _some(self, indices: Sequence[int]) -> "Hand":
        sheets, parts = self.sheets, self.parts
        return Hand(tuple(sheets[i] for i in indices), tuple(parts[i] for i in indices), self.direction)


def in_hand(lift: Lift) -> Hand:
    """Return the sheets of a lift before the first cut."""
    return Hand(lift.sheets, tuple(sheet.tree for sheet in lift.sheets))


def _kept(cut: Cut) -> Part:
    if len(cut.marks) == 1:
        return cut.parts[0]
    mark, upright = cut.marks[-1], cut.direction is Direction.UPRIGHT
    width, height = (mark, cut.height) if upright else (cut.width, mark)
    return Cut(width, height, cut.direction, cut.marks[:-1], cut.parts[:-1])


def _cut(part: Part) -> Cut:
    if not isinstance(part, Cut):
        raise TypeError("there is nothing left to cut here")
    return part


def joined(direction: Direction, kept: Part, off: Sequence[Part]) -> Part:
    """Return the part from which those in `off` were cut, nearest first, until `kept` was left."""
    if not off:
        return kept
    near = kept.parts if isinstance(kept, Cut) and kept.direction is direction else (kept,)
    return divide(direction, [*near, *off])
