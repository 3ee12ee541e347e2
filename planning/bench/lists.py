"""The lists of a wave, against openpyxl's quickest writer with the same figures."""

from collections.abc import Iterator
from datetime import UTC, datetime
from fractions import Fraction
from functools import partial
from io import BytesIO
from itertools import cycle, islice
from typing import Any

from openpyxl import Workbook

from planning.bench.rates import cpu_medians, reached
from planning.bench.row import Row
from planning.demo import demo_month
from planning.documents.listing import list_boxes
from planning.documents.lists import Listed, write_lists
from planning.documents.lists.labels import Sending, labels_of
from planning.documents.lists.packing import packing_table
from planning.documents.stamp import Stamp
from planning.documents.workbook import binding_of
from planning.documents.workbook.table import Table
from planning.documents.workbook.write import Binding
from planning.flow import MonthPlan, plan_month
from planning.month import Month

PEOPLE = 1_000
ROWS = 20_000
AIM = 5  # times as fast

STAMP = Stamp(plan_id="BENCH-2027-04-0", version=1, made_at=datetime(2027, 3, 1, tzinfo=UTC))


def list_rows() -> Iterator[Row]:
    """Yield a row for each sheet: how many times as many rows a second as openpyxl's write-only mode."""
    month = demo_month(PEOPLE)
    return compared(month, plan_month(month), ROWS)


def compared(month: Month, plan: MonthPlan, count: int) -> Iterator[Row]:
    """Yield the rows for lists of so many boxes of a month."""
    boxes = list(islice(cycle(box for box in list_boxes(month, plan) if box.wave), count))
    specs = {spec.contents: spec for spec in plan.packing.boxes}
    binding = binding_of(month.club, STAMP)
    wave, labels = plan.waves[0], labels_of(month, plan)
    sheets: tuple[tuple[Table[Any], list[Any]], ...] = (
        (packing_table(month, specs, wave), boxes),
        (labels.table(Sending(wave.service, wave.collected), ""), list(labels.rows(boxes))),
    )
    for table, rows in sheets:
        own, other = cpu_medians(partial(listed, table, rows, binding), partial(write_only, table, rows))
        theirs = f"openpyxl write-only, which writes {int(count / other):,} rows/s"
        ended = f"{reached(other / own, AIM)} times {theirs}"
        yield Row(f"{table.name}, rows/s", None, int(count / own), None, ended, own)


def listed(table: Table[Any], rows: list[Any], binding: Binding) -> None:
    """Write a list as the papers do."""
    write_lists([Listed(table, rows)], binding, BytesIO())


def write_only(table: Table[Any], rows: list[Any]) -> None:
    """Write the same figures by openpyxl, without any of the looks."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet(table.name)
    figures = [column.figure for column in table.columns]
    for row in rows:
        sheet.append([plain(figure(row)) for figure in figures])
    book.save(BytesIO())


def plain(value: Any) -> Any:
    """Return a figure as openpyxl takes it."""
    return float(value) if isinstance(value, Fraction) else value
