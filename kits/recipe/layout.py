"""Where pieces lie on a page, and which photo fits a mat: exact sums of lengths."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from kits.measures import INCH, Length, format_length

MOST_PLACES = 99


class NoRoomError(ValueError):
    """What should be placed is larger than the room for it."""

    def __init__(self, needed: Length, room: Length) -> None:
        super().__init__(needed, room)
        self.needed = needed
        self.room = room

    def __str__(self) -> str:
        return (
            f"{format_length(self.needed)} do not fit into {format_length(self.room)}: "
            "take smaller or fewer pieces, or narrower margins and borders"
        )


def centred(room: Length, size: Length) -> Length:
    """Return where something starts that is as far from one end as from the other.

    A half of 1/8 micrometre is left off. Raises NoRoomError.
    """
    return evenly(room, [size])[0]


def even_gap(room: Length, sizes: Sequence[Length], margin: Length | None = None) -> Fraction:
    """Return the exact gap between pieces in a row.

    margin: what stays free at both ends; None makes it a gap as well. Raises NoRoomError.
    """
    ends = 2 * (margin or 0)
    needed = sum(sizes) + ends
    if needed > room:
        raise NoRoomError(needed, room)
    gaps = len(sizes) + (1 if margin is None else -1)
    return Fraction(room - needed, gaps) if gaps else Fraction(0)


def evenly(room: Length, sizes: Sequence[Length], margin: Length | None = None) -> tuple[Length, ...]:
    """Return where each piece of a row starts so that the gaps are equal, each to the 1/8 micrometre below.

    One piece between margins is centred. Raises NoRoomError.
    """
    gap = even_gap(room, sizes, margin)
    if margin is not None and len(sizes) == 1:
        return (centred(room, sizes[0]),)
    before = [0, *accumulate(sizes)][: len(sizes)]
    first = gap if margin is None else Fraction(margin)
    return tuple(int(first + number * gap + length) for number, length in enumerate(before))


@dataclass(frozen=True, slots=True)
class InRow:
    """Where a piece lies in a row of equal ones with equal gaps. number: from 1; the only one of a row is centred."""

    number: int
    places: int

    def start(self, room: Length, size: Length, margin: Length) -> Length:
        """Return where it starts. margin: stays free at both ends of a row of several, if above zero.

        Raises NoRoomError.
        """
        ends = margin if margin and self.places > 1 else None
        return evenly(room, [size] * self.places, ends)[self.number - 1]


def in_row(start: Length, room: Length, size: Length, margin: Length) -> InRow | None:
    """Return the shortest row in which a piece starts there; None if it does in none."""
    for places in range(1, min(MOST_PLACES, room // size) + 1):
        for number in range(1, places + 1):
            with suppress(NoRoomError):  # a margin may be too wide for so many
                if InRow(number, places).start(room, size, margin) == start:
                    return InRow(number, places)
    return None


@dataclass(frozen=True, slots=True)
class PhotoSize:
    """A usual size of photo prints."""

    name: str
    width: Length
    height: Length


# Inch sizes as ISO 1008 and the trade's numbered sizes have them (Wikipedia, "Standard photographic print sizes").
# The millimetres printed beside them are roundings, so they are not converted back.
PHOTO_SIZES = tuple(
    PhotoSize(f"{wide} x {high} in", int(Fraction(wide) * INCH), int(Fraction(high) * INCH))
    for wide, high in (
        ("2", "3"),
        ("2.5", "3.5"),
        ("3.5", "5"),
        ("4", "6"),
        ("5", "7"),
        ("6", "8"),
        ("8", "10"),
    )
)


def photo_on(mat_width: Length, mat_height: Length, border: Length) -> tuple[Length, Length]:
    """Return the photo that leaves this border on every side of a mat. Raises NoRoomError.

    The border is that of one side, so the mat is larger by twice of it.
    """
    for side in (mat_width, mat_height):
        if 2 * border >= side:
            raise NoRoomError(2 * border, side)
    return mat_width - 2 * border, mat_height - 2 * border


def mat_for(photo_width: Length, photo_height: Length, border: Length) -> tuple[Length, Length]:
    """Return the mat that shows this border on every side of a photo."""
    return photo_width + 2 * border, photo_height + 2 * border


def photos_for(mat_width: Length, mat_height: Length, border: Length) -> tuple[PhotoSize, ...]:
    """Return the usual photos that leave at least this border on a mat, the largest first, upright or lying."""
    inner = sorted((mat_width - 2 * border, mat_height - 2 * border))
    fitting = [size for size in PHOTO_SIZES if size.width <= inner[0] and size.height <= inner[1]]
    return tuple(sorted(fitting, key=lambda size: -size.width * size.height))
