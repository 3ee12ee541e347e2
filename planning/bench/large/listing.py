"""Listing the boxes of a plan, against the quickest way the same rows get into the same table with its keys.

On PostgreSQL that is COPY in its binary form, on SQLite executemany. Times are by the clock, since the work is the
database's; each round begins with an empty table.
"""

from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from django.db import connection
from django.db.transaction import atomic

from kits.models import Month
from planning.bench.large.planning import decided
from planning.bench.rates import ROUNDS, within
from planning.bench.row import Row, timed
from planning.listing import list_chunk, listing_faults, start_listing
from planning.models import Box, Job, Plan, State
from planning.run import Planned
from planning.save import begun

MOST = 3  # times as long
PIECE = 2**20
COLUMNS = ("plan_id", "serial", "box_class", "wave", "place", "reference")
TABLE = Box._meta.db_table  # noqa: SLF001 - documented, whatever its name


def listing_rows(month: Month, boxes: int) -> Iterator[Row]:
    """Yield one row, and leave the plan with its boxes for pages to be looked at."""
    planned, counted = decided(month)
    job = Job.objects.create(key="listing", kind="plan", month=month, state=State.DONE)
    plan = begun(job, planned)
    start_listing(plan, planned.plan, counted)
    ours, theirs = [], []
    with TemporaryDirectory() as folder:
        rows = Path(folder, "rows")
        for _ in range(ROUNDS):
            empty()
            ours.append(timed(lambda: list_all(plan))[1])
            save_rows(rows)
            empty()
            theirs.append(timed(lambda: put_rows(rows))[1])
    seconds, limit = median(ours), median(theirs)
    ended = f"{within(seconds / limit, MOST)} times as long as {limit_of()}{amiss(plan, planned)}"
    Plan.every.filter(pk=plan.pk).update(ready=True)
    yield Row(
        f"Listing {boxes:,} boxes, rows/s", None, int(Box.objects.count() / seconds), None, ended, seconds
    )


def list_all(plan: Plan) -> None:
    """List chunk after chunk, each in a transaction of its own, as one worker does."""
    for chunk in plan.listing.chunks:
        with atomic():
            list_chunk(plan, chunk)


def limit_of() -> str:
    """Say what the limit is."""
    return (
        "a binary COPY of the same rows"
        if connection.vendor == "postgresql"
        else "executemany of the same rows"
    )


def amiss(plan: Plan, planned: Planned) -> str:
    """Say what the check of the listing finds wrong."""
    return "".join(f"; FAULT: {fault}" for fault in listing_faults(plan, planned.plan))


# --- The same rows by the quickest way ---


def empty() -> None:
    """Empty the table of boxes."""
    with connection.cursor() as cursor:
        cursor.execute(f"TRUNCATE {TABLE}" if connection.vendor == "postgresql" else f"DELETE FROM {TABLE}")  # noqa: S608


def save_rows(path: Path) -> None:
    """Put the rows of the table into a file, on SQLite into a table without keys, where nothing has to be made of them."""
    with connection.cursor() as cursor:
        if connection.vendor != "postgresql":
            cursor.execute("DROP TABLE IF EXISTS bench_rows")
            cursor.execute(f"CREATE TABLE bench_rows AS SELECT {', '.join(COLUMNS)} FROM {TABLE}")  # noqa: S608
            return
        with path.open("wb") as file, cursor.copy(f"COPY {TABLE} TO STDOUT (FORMAT BINARY)") as copy:
            for piece in copy:
                file.write(piece)


def put_rows(path: Path) -> None:
    """Put the rows back."""
    columns = ", ".join(COLUMNS)
    with atomic(), connection.cursor() as cursor:
        if connection.vendor != "postgresql":
            cursor.execute(f"SELECT {columns} FROM bench_rows")  # noqa: S608
            marks = ", ".join("%s" for _ in COLUMNS)
            cursor.connection.executemany(
                f"INSERT INTO {TABLE} ({columns}) VALUES ({marks.replace('%s', '?')})",  # noqa: S608
                cursor.fetchall(),
            )
            return
        with path.open("rb") as file, cursor.copy(f"COPY {TABLE} FROM STDIN (FORMAT BINARY)") as copy:
            while piece := file.read(PIECE):
                copy.write(piece)
