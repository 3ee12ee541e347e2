"""What lies in a box, set as a list: one column where it fits, two smaller ones where not, else on more slips."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from planning.documents.pdf.fonts import STRONG, TEXT, printable
from planning.documents.pdf.typeset import wrap
from planning.packing import BoxSpec

GAP = 12.0  # points between two columns
COUNT_SHARE = 2.6  # room for a count, in sizes of the type
LEADING = 1.26


@dataclass(frozen=True, slots=True)
class Setting:
    """A size of type and a number of columns."""

    size: float
    columns: int

    def column_width(self, width: float) -> float:
        """Return how wide one column is."""
        return (width - GAP * (self.columns - 1)) / self.columns

    def rows(self, height: float) -> int:
        """Return how many lines stand below each other."""
        return int(height / (self.size * LEADING))


SETTINGS = (Setting(10.5, 1), Setting(9.5, 1), Setting(8.5, 1), Setting(8.5, 2), Setting(7.5, 2))


@dataclass(frozen=True, slots=True)
class ContentLine:
    """A count and what it counts; without a count, a heading or the rest of a name that takes more than one line."""

    count: str
    name: str
    heading: bool = False


Column = tuple[ContentLine, ...]


@dataclass(frozen=True, slots=True)
class ContentSheet:
    """The columns that one slip holds."""

    setting: Setting
    columns: tuple[Column, ...]


def content_lines(spec: BoxSpec) -> tuple[ContentLine, ...]:
    """Return a box's contents in words and counts: the kit, what is besides, what is not there, and the wrapping last.

    What goes into several parcels is told parcel by parcel.
    """
    if len(spec.parcels) > 1:
        return parcel_lines(spec)
    besides = Counter[str]()
    for extra in spec.extras:
        besides[extra.item.item] += extra.count
    goods = [
        (line.count - besides[line.item.item], line.item.name)
        for line in spec.lines
        if not line.item.packaging
    ]
    wrapping = [
        (f"{line.count - besides[line.item.item]:,}", line.item.name)
        for line in spec.lines
        if line.item.packaging and line.count > besides[line.item.item]
    ]
    wrapping = [(f"{count:,}", one.name) for one, count in spec.cartons.items()] + wrapping
    return (
        *(ContentLine(f"{count:,}", printable(name)) for count, name in goods if count),
        *headed("Besides", ((f"{one.count:,}", one.words) for one in spec.extras)),
        *headed("Not in this box", ((f"{one.count:,}", one.words) for one in spec.without)),
        *headed("Wrapping", wrapping),
    )


def parcel_lines(spec: BoxSpec) -> tuple[ContentLine, ...]:
    """Return the contents of a box of several parcels: each with its carton, and then what of it is besides the kit."""
    parcels = (
        line
        for number, one in enumerate(spec.parcels, 1)
        for line in headed(
            f"Parcel {number} of {len(spec.parcels)}, {printable(one.carton.container.name)}",
            ((f"{line.count:,}", line.item.name) for line in one.lines),
        )
    )
    return (
        *parcels,
        *headed("Besides the kit, counted above", ((f"{one.count:,}", one.words) for one in spec.extras)),
        *headed("Not in this box", ((f"{one.count:,}", one.words) for one in spec.without)),
    )


def headed(heading: str, lines: Iterable[tuple[str, str]]) -> Iterator[ContentLine]:
    """Yield counts and names below a heading, nothing where there are none."""
    for at, (count, name) in enumerate(lines):
        if at == 0:
            yield ContentLine("", heading, heading=True)
        yield ContentLine(count, printable(name))


def set_contents(lines: Sequence[ContentLine], width: float, height: float) -> list[ContentSheet]:
    """Set the lines into a room (points): the first setting that takes them all, else the last on several sheets."""
    for setting in SETTINGS:
        columns = list(fill_columns(lines, setting, width, height))
        if len(columns) <= setting.columns:
            break
    step = setting.columns
    return [ContentSheet(setting, tuple(columns[at : at + step])) for at in range(0, len(columns), step)]


def fill_columns(
    lines: Sequence[ContentLine], setting: Setting, width: float, height: float
) -> Iterator[Column]:
    """Yield full columns; a name of several lines stays together."""
    rows, column = setting.rows(height), list[ContentLine]()
    for line in lines:
        broken = list(break_line(line, setting, width))[:rows]
        if len(column) + len(broken) > rows:
            yield tuple(column)
            column = []
        column += broken
    yield tuple(column)


def break_line(line: ContentLine, setting: Setting, width: float) -> Iterator[ContentLine]:
    """Yield a line in as many lines as its name takes."""
    room = setting.column_width(width) - setting.size * COUNT_SHARE
    font = STRONG if line.heading else TEXT
    first, *rest = wrap(line.name, font, setting.size, room)
    yield ContentLine(line.count, first, line.heading)
    yield from (ContentLine("", part) for part in rest)
