"""A roster of a million rows into a month, as the command takes it in: how fast, and in how much memory.

Every run is a process of its own, so that its memory is its own. The limit beside it: the same cells read by the bare csv
module and put into the same table, with its keys, by the quickest way the database has, and nothing looked at. Times are
by the clock, because on PostgreSQL most of the work is another process's.
"""

import csv
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

from django.conf import settings

from planning import save
from planning.bench.row import Row
from planning.bench.scratch import scratch
from planning.demo import demo_month
from planning.demo.people import people
from planning.models import Subscriber
from planning.monthfile.codecs import Habits
from planning.rosterfile.read import SHEET

ROWS = 970_000  # some people get several boxes, and a month has at most a million
PEOPLE = 300  # of the month they come into
MOST_MEMORY = 400  # MiB

LIMIT = """
import csv, os
from django.db import connection
from django.db.transaction import atomic
from kits.models import Month
from planning.intake.rows import FIELDS, PEOPLE
from planning.models import Subscriber

def rows(month):
    with open(os.environ["BENCH_ROSTER"], newline="", encoding="utf-8") as file:
        reader = csv.reader(file)
        next(reader)
        for place, row in enumerate(reader):
            *texts, quantity, active, joined, _, sent, _, note = row
            yield month, place, *texts, quantity, active == "yes", joined or None, "[]", sent or None, "[]", note

columns = ", ".join(("month_id", "position", *FIELDS))
with atomic(), connection.cursor() as cursor:
    Subscriber.objects.all().delete()
    values = rows(Month.objects.get().pk)
    if connection.vendor == "postgresql":
        with cursor.copy(f"COPY {PEOPLE} ({columns}) FROM STDIN") as copy:
            for row in values:
                copy.write_row(row)
    else:
        marks = ", ".join("?" * (len(FIELDS) + 2))
        connection.connection.executemany(f"INSERT INTO {PEOPLE} ({columns}) VALUES ({marks})", values)
"""


@dataclass(frozen=True, slots=True)
class Run:
    """How many seconds a process took, and the most memory it held, in MiB."""

    seconds: float
    memory: int


def roster_rows() -> Iterator[Row]:
    """Yield a row for a roster of new people and one for the same file again."""
    with scratch() as where:
        month = save.month(replace(demo_month(PEOPLE), orders=()))
        file = write_roster(Path(where["KITS_DATA_DIR"], "roster.csv"))
        limit = run(where | {"BENCH_ROSTER": str(file)}, "shell", "-v0", "-c", LIMIT)
        Subscriber.objects.filter(month=month).delete()
        for name in ("all rows new", "the same file again"):
            yield _row(name, run(where, "roster", str(file)), limit)


def write_roster(path: Path) -> Path:
    """Write the file."""
    habits, columns = Habits(), [(column.field, column.codec.write) for column in SHEET.columns]
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow([column.heading for column in SHEET.columns])
        for one, _ in islice(people(), ROWS):
            values = ((getattr(one, field), write) for field, write in columns)
            writer.writerow(["" if value is None else write(value, habits) for value, write in values])
    return path


def run(where: dict[str, str], *words: str) -> Run:
    """Run a command to its end. Raises ValueError with what it said where it fails."""
    begun = time.perf_counter()
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen(  # noqa: S603 - our own command
            [sys.executable, settings.BASE_DIR / "manage.py", *words], env=where, stdout=said, stderr=said
        )
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            said.seek(0)
            raise ValueError(said.read().decode(errors="replace")[-1_000:])
    return Run(time.perf_counter() - begun, usage.ru_maxrss // 1024)


def _row(name: str, ours: Run, limit: Run) -> Row:
    kept = "within" if ours.memory <= MOST_MEMORY else "beyond"
    ended = (
        f"{ours.seconds / limit.seconds:.1f} times as long as bare rows put into the same table; "
        f"{ours.memory} MiB, {kept} {MOST_MEMORY}"
    )
    return Row(f"Roster, {name}, rows/s", None, int(ROWS / ours.seconds), None, ended, ours.seconds)
