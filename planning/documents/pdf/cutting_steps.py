"""A ticket's cuts in order as a table on paper."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from kits.measures import Ruler
from planning.documents.cuts import TOO_NARROW, CutRow, Move, cut_rows
from planning.documents.pdf.look import words
from planning.documents.pdf.tables import Cell, Column, Row, table

COLUMNS = (
    Column("Cuts", 17, number=True),
    Column("In hand", 43),
    Column("First turn it", 20),
    Column("At the stop", 19),
    Column("Back gauge, in turn", 46),
    Column("Comes off", 42),
)


def cuts_table(moves: Sequence[Move], ruler: Ruler, width: float) -> Flowable:
    """Return the cuts of one lift: what is in hand, which edge lies at the stop, what stays behind the knife."""
    return table(COLUMNS, [Row(cells(row), need=row.narrow) for row in cut_rows(moves, ruler)], width)


def cells(row: CutRow) -> tuple[Cell, ...]:
    """Return a row's cells."""
    if row.like:
        return row.numbers, row.in_hand, "", "", "", f"cut as {row.like}"
    gauges: list[Flowable] = [words(row.gauges, "strong")]
    off: list[Flowable] = [words(row.off)]
    return (
        row.numbers,
        row.in_hand,
        row.turn,
        row.stop,
        [*gauges, words(TOO_NARROW, "need")] if row.narrow else gauges,
        [*off, words(f"stays: {row.stays}", "small")] if row.stays else off,
    )
