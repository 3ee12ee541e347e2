"""What pages are made of, as data: figures, tables, strips of the month page. Templates only set them out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

WIDEST_BESIDE = 5  # columns of a table that stands beside a drawing


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table. kind: how its cells are set. unit: stands under the heading.

    sort: where its heading leads to sort all of a long table by it; sorted: which way it is sorted now, for aria-sort.
    """

    heading: str
    unit: str = ""
    kind: str = ""
    sort: str = ""
    sorted: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell with more to it: how the line's figures were worked out (its first cell), or where it leads."""

    text: str
    sum: str = ""
    href: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A row of a table. needs: it waits for somebody, and the first cell says so in words."""

    cells: tuple[str | Cell, ...]
    needs: str = ""


@dataclass(frozen=True, slots=True)
class Pages:
    """Which lines of a long table are shown: those of one numbered page. name: what the URL calls the number.

    query: what else the URL asks for, with & at its end.
    """

    name: str
    number: int
    all: int
    size: int = 100
    query: str = ""

    @property
    def first(self) -> int:
        """The first line shown, counted from 1."""
        return (self.number - 1) * self.size + 1

    @property
    def last(self) -> int:
        """The last line shown."""
        return min(self.number * self.size, self.all)

    @property
    def count(self) -> int:
        """How many pages there are."""
        return max(1, -(-self.all // self.size))

    @property
    def numbers(self) -> list[int]:
        """The pages to lead to: the ends and those nearby; 0 stands for those left out between."""
        near = sorted(
            {1, self.count} | {n for n in range(self.number - 2, self.number + 3) if 1 <= n <= self.count}
        )
        return [
            n
            for before, after in zip([0, *near], near, strict=False)
            for n in ([0] * (after - before > 1) + [after])
        ]


@dataclass(frozen=True, slots=True)
class Table:
    """A table as shown. empty: what is said instead of a table without lines, and what to do next."""

    caption: str
    columns: tuple[Column, ...]
    lines: Sequence[Line]
    foot: tuple[str, ...] = ()
    empty: str = "Nothing this month."
    pages: Pages | None = None

    def body(self) -> Iterator[tuple[Line, list[tuple[Column, Cell]]]]:
        """Yield each line with its cells beside their columns."""
        for line in self.lines:
            cells = (cell if isinstance(cell, Cell) else Cell(cell) for cell in line.cells)
            yield line, list(zip(self.columns, cells, strict=True))

    def footer(self) -> list[tuple[Column, str]]:
        """Return the totals beside their columns."""
        return list(zip(self.columns, self.foot, strict=True)) if self.foot else []


@dataclass(frozen=True, slots=True)
class Figure:
    """A number people look for: its value, what it counts, and the sum it came from."""

    value: str
    unit: str
    sum: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """An SVG with what it shows in words, for a caption."""

    svg: str
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Strip:
    """A step as the month page shows it: key figure, what is to say of it, next deadline.

    needs: what waits for somebody. blocked: which earlier step it waits for, and why.
    """

    figure: Figure
    words: str
    drawing: str = ""
    deadline: str = ""
    needs: tuple[str, ...] = ()
    blocked: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Part of a step's page: a drawing and its table side by side, or tables alone.

    folded: opened when asked for. href: where more of it is, and link what that is called.
    """

    title: str
    tables: tuple[Table, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    folded: bool = False
    href: str = ""
    link: str = ""

    @property
    def beside(self) -> bool:
        """Whether drawing and tables have room side by side."""
        return bool(self.drawings) and all(len(table.columns) <= WIDEST_BESIDE for table in self.tables)


@dataclass(frozen=True, slots=True)
class Page:
    """A step's page: key figures, what is proved of the answer, what to take care of, and its sections."""

    figures: tuple[Figure, ...]
    ended: str = ""
    sections: tuple[Section, ...] = ()
    caution: str = ""


def text(heading: str) -> Column:
    """Return a column of words."""
    return Column(heading)


def why(heading: str) -> Column:
    """Return a column of reasons, which keeps some width between others."""
    return Column(heading, kind="why")


def number(heading: str, unit: str = "") -> Column:
    """Return a column of numbers."""
    return Column(heading, unit, "number")


def when(heading: str) -> Column:
    """Return a column of dates."""
    return Column(heading, kind="when")
