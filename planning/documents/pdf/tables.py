"""Tables as papers have them: heads again on every page, no row torn apart, figures one below the other."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable, Table

from planning.documents.pdf.fonts import TEXT
from planning.documents.pdf.look import FAINT, HAIRLINE, INK, NEED, RULE, Look, words

Cell = str | Flowable | list[Flowable]
Command = tuple[str, tuple[int, int], tuple[int, int], *tuple[Any, ...]]


@dataclass(frozen=True, slots=True)
class Column:
    """A head and its share of the width. number: set to the right. write: left free for a pen."""

    head: str
    share: float
    number: bool = False
    write: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A row's cells. need: marked at the left. strong: a sum. group: its first cell heads what follows."""

    cells: tuple[Cell, ...]
    need: bool = False
    strong: bool = False
    group: bool = False


def table(columns: Sequence[Column], rows: Sequence[Row], width: float) -> Table:
    """Set rows under their heads over the width given, in points."""
    shares = sum(column.share for column in columns)
    head = [words(column.head, "number head" if column.number else "head") for column in columns]
    return Table(
        [head, *(set_row(columns, row) for row in rows)],
        colWidths=[width * column.share / shares for column in columns],
        repeatRows=1,
        style=[
            *FRAME,
            *writing(columns),
            *(mark for at, row in enumerate(rows, 1) for mark in marks(at, row)),
        ],
        hAlign="LEFT",
        spaceBefore=2,
        spaceAfter=6,
    )


def facts(pairs: Sequence[tuple[str, Cell]], width: float, label: float = 0.36) -> Table:
    """Set names and values side by side; `label` is the names' share of the width."""
    return Table(
        [[words(name, "small"), words(value) if isinstance(value, str) else value] for name, value in pairs],
        colWidths=[width * label, width * (1 - label)],
        style=[*CLOSE, ("LINEBELOW", (0, 0), (-1, -1), HAIRLINE, RULE)],
        hAlign="LEFT",
    )


def side_by_side(
    left: Sequence[Flowable], right: Sequence[Flowable], width: float, share: float = 0.5
) -> Table:
    """Set two stacks of things beside each other; `share` is the left one's part of the width."""
    widths = [width * share, width * (1 - share)]
    return Table([[list(left), list(right)]], colWidths=widths, style=[*CLOSE, *GUTTER], hAlign="LEFT")


def notice(texts: Iterable[str], width: float) -> list[Flowable]:
    """Set what needs someone apart by a bar at its left, so that it is seen in grey as well; nothing, no bar."""
    lines = [words(text, "need") for text in texts]
    if not lines:
        return []
    bar: list[Command] = [("LINEBEFORE", (0, 0), (0, -1), 2, NEED), ("LEFTPADDING", (0, 0), (-1, -1), 8)]
    block = Table([[line] for line in lines], colWidths=[width], style=[*CLOSE, *bar], hAlign="LEFT")
    block.spaceBefore = 8
    return [block]


class CheckBox(Flowable):
    """A small empty square to tick with a pen."""

    def __init__(self) -> None:
        super().__init__()
        self.width = self.height = 9.0

    def draw(self) -> None:
        """Draw it where the page has come to."""
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(0.8)
        self.canv.rect(0, -1.5, self.width, self.height)


# A table names a font for every cell, even where the cells are set already: never one that is not embedded.
OUR_FONT: Command = ("FONTNAME", (0, 0), (-1, -1), TEXT)
CLOSE: tuple[Command, ...] = (
    OUR_FONT,
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
)
GUTTER: tuple[Command, ...] = (("RIGHTPADDING", (0, 0), (0, -1), 14),)
FRAME: tuple[Command, ...] = (
    OUR_FONT,
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 4),
    ("RIGHTPADDING", (0, 0), (-1, -1), 4),
    ("TOPPADDING", (0, 0), (-1, -1), 1.8),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.8),
    ("BACKGROUND", (0, 0), (-1, 0), FAINT),
    ("LINEBELOW", (0, 0), (-1, 0), HAIRLINE, INK),
    ("LINEBELOW", (0, 1), (-1, -1), HAIRLINE, RULE),
)


def writing(columns: Sequence[Column]) -> Iterator[Command]:
    """Yield what makes room for a pen."""
    for at, column in enumerate(columns):
        if column.write:
            yield ("LINEBEFORE", (at, 1), (at, -1), HAIRLINE, RULE)
            yield ("TOPPADDING", (0, 1), (-1, -1), 6)
            yield ("BOTTOMPADDING", (0, 1), (-1, -1), 6)


def marks(at: int, row: Row) -> Iterator[Command]:
    """Yield what sets a row apart, besides its words."""
    if row.need:
        yield ("LINEBEFORE", (0, at), (0, at), 2, NEED)
    if row.strong:
        yield ("LINEABOVE", (0, at), (-1, at), HAIRLINE, INK)
    if row.group:
        yield ("SPAN", (0, at), (-1, at))
        yield ("TOPPADDING", (0, at), (-1, at), 6)
        yield ("NOSPLIT", (0, at), (-1, at + 1))


def set_row(columns: Sequence[Column], row: Row) -> list[Flowable | list[Flowable]]:
    """Set a row's cells."""
    return [set_cell(cell, column, row) for cell, column in zip(row.cells, columns, strict=True)]


def set_cell(cell: Cell, column: Column, row: Row) -> Flowable | list[Flowable]:
    """Set a cell's words; what is set already stays as it is."""
    if not isinstance(cell, str):
        return cell
    looks: tuple[Look, Look] = ("strong", "strong number") if row.strong or row.group else ("text", "number")
    return words(cell, looks[column.number])
