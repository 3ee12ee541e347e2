"""The sheet of boxes that go without something, or hold something else instead."""

from collections.abc import Sequence

from planning.documents.short_boxes import ShortBox
from planning.documents.workbook.table import Column, Look, Table

SHORT = "Short boxes"


def short_table(boxes: Sequence[ShortBox]) -> Table[ShortBox]:
    """Return a row for each box and each thing it goes without."""
    col = Column[ShortBox]
    return Table(
        name=SHORT,
        says="Boxes that go without something there is too little of, and what lies in them instead.",
        empty="Every box holds what was planned.",
        rows=tuple(boxes),
        columns=(
            col("box", "Box", lambda row: row.box.code, width=20),
            col("subscriber", "Subscriber", lambda row: row.box.subscriber.reference, width=14),
            col("name", "Name", lambda row: row.box.subscriber.name, width=30),
            col("tier", "Tier", lambda row: row.box.subscriber.tier, width=12),
            col("joined", "Joined", lambda row: row.box.subscriber.joined, Look.DAY, width=12),
            col("wave", "Wave", lambda row: row.box.wave or None, Look.COUNT, width=7),
            col(
                "without",
                "Without",
                lambda row: row.without,
                width=28,
                needs_you=lambda row: not row.instead,
            ),
            col("instead", "Instead", lambda row: row.instead or None, width=28),
        ),
    )
