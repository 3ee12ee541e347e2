"""What the program is measured by, each figure with its limit from the same run, in a table that grows meanwhile."""

import sys
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planning.bench.ahead import ahead_rows
from planning.bench.buying import buying_rows
from planning.bench.curve import curve_rows
from planning.bench.faults import fault_rows
from planning.bench.large.run import BOXES, PRINTED, large_rows
from planning.bench.lists import list_rows
from planning.bench.machine import machine
from planning.bench.plans import plan_rows
from planning.bench.roster import roster_rows
from planning.bench.row import HEADING, Row, reference
from planning.bench.schedule import schedule_rows
from planning.bench.sheet import sheet_rows
from planning.bench.slips import slip_rows

Bench = Callable[[], Iterator[Row]]

BENCHES: dict[str, Bench] = {
    "large": large_rows,
    "faults": partial(fault_rows, PRINTED),
    "slips": slip_rows,
    "lists": list_rows,
    "roster": roster_rows,
    "ahead": ahead_rows,
    "curve": curve_rows,
    "sheet": sheet_rows,
    "cutting": plan_rows,
    "buying": buying_rows,
    "schedule": schedule_rows,
}
ALL = (
    "large",
    "slips",
    "lists",
    "roster",
    "ahead",
    "curve",
    "schedule",
)  # what has an aim of its own; the others tell case by case how good plans are
BAD_INPUT = 2


class Command(BaseCommand):
    """Measure, and print what came of it."""

    help = (
        "Without a name: every figure that has an aim, and whether it is reached. With one: cases of that kind, each with "
        "its published optimum, what was found, the bound, how it ended and the seconds it took, also as a ratio to a fixed "
        "computation on the same machine. Large months use a new database on the server of DATABASE_URL, or SQLite. "
        "Published cases are read from the file that PUBLISHED_CUTTING_CASES names; without it cases of our own are taken."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument(
            "name", nargs="?", choices=BENCHES, metavar="NAME", help=f"one of {', '.join(BENCHES)}"
        )
        parser.add_argument(
            "--boxes",
            type=int,
            default=BOXES,
            metavar="N",
            help=f"of the month planned and listed ({BOXES:,})",
        )
        parser.add_argument(
            "--printed", type=int, default=PRINTED, metavar="N", help=f"of the month printed ({PRINTED:,})"
        )

    def handle(self, *, name: str | None, boxes: int, printed: int, **options: Any) -> None:
        """Print a line for each case as soon as it is done."""
        benches = BENCHES | {
            "large": partial(large_rows, boxes, printed),
            "faults": partial(fault_rows, printed),
        }
        unit = reference()
        self.stdout.write(machine())
        self.stdout.write(f"reference computation: {unit:.3f} s")
        self.stdout.write(HEADING)
        try:
            for each in [name] if name else ALL:
                for row in benches[each]():
                    self.stdout.write(row.line(unit))
                    self.stdout.flush()
        except (OSError, ValueError) as error:
            self.stderr.write(str(error))
            sys.exit(BAD_INPUT)
