"""Cases to be cut, timed, in a table that grows while they are worked on."""

import sys
from collections.abc import Callable, Iterator
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planning.bench.buying import buying_rows
from planning.bench.lists import list_rows
from planning.bench.plans import plan_rows
from planning.bench.roster import roster_rows
from planning.bench.row import HEADING, Row, reference
from planning.bench.sheet import sheet_rows
from planning.bench.slips import slip_rows

BENCHES: dict[str, Callable[[], Iterator[Row]]] = {
    "sheet": sheet_rows,
    "cutting": plan_rows,
    "lists": list_rows,
    "slips": slip_rows,
    "buying": buying_rows,
    "roster": roster_rows,
}
BAD_INPUT = 2


class Command(BaseCommand):
    """Work on every case of one kind and print what came of it."""

    help = (
        "Print for each case its published optimum, what was found, the bound, how it ended and the seconds it "
        "took, also as a ratio to a fixed computation on the same machine. Published cases are read from the "
        "file that PUBLISHED_CUTTING_CASES names; without it cases of our own are taken."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("name", choices=BENCHES, metavar="NAME", help=f"one of {', '.join(BENCHES)}")

    def handle(self, *, name: str, **options: Any) -> None:
        """Print a line for each case as soon as it is done."""
        unit = reference()
        self.stdout.write(f"reference computation: {unit:.3f} s")
        self.stdout.write(HEADING)
        try:
            for row in BENCHES[name]():
                self.stdout.write(row.line(unit))
                self.stdout.flush()
        except (OSError, ValueError) as error:
            self.stderr.write(str(error))
            sys.exit(BAD_INPUT)
