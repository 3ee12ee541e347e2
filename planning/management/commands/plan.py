"""A month file in, the papers out. Nothing has to be set up before, and no database is touched."""

import sys
from argparse import ArgumentTypeError
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from planning import run
from planning.month import Month
from planning.progress import Progress
from planning.run import MONTH_ERRORS, Planned
from planning.summary import summary

BAD_INPUT = 2  # exit status: nothing was planned, nothing was written
NOT_WRITTEN = 1


class Command(BaseCommand):
    """Plan a month from its file and write its papers."""

    help = "Plan a month from its file and write every paper of it into a folder."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("file", type=Path, metavar="MONTH.xlsx", help="the month file")
        parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the papers")
        parser.add_argument(
            "--at", type=moment, metavar="TIME", help="when the plan is made, such as 2027-03-01T09:00Z"
        )

    def handle(self, *, file: Path, out: Path, at: datetime | None, **options: Any) -> None:
        """Read, plan, write, and print the plan's table."""
        made_at = at or datetime.now(UTC).replace(microsecond=0)
        month = self.read(file, made_at)
        with Progress(self.stderr) as progress:
            planned = self.plan(month, made_at, progress)
            self.write(month, planned, out, progress)
        self.stdout.write(summary(planned), ending="")
        self.stdout.write(f"\nPapers: {out.resolve()}")

    def read(self, file: Path, made_at: datetime) -> Month:
        """Read the month file; with a single problem every problem is told, and nothing is planned."""
        from planning.monthfile import MonthFileError, read_month

        try:
            return read_month(file, made_at.date())
        except MonthFileError as error:
            self.refuse([str(problem) for problem in error.problems])
        except OSError as error:
            self.refuse([f"{file} cannot be read: {error.strerror or error}."])

    def plan(self, month: Month, made_at: datetime, progress: Progress) -> Planned:
        """Plan the month, or say why it cannot be."""
        try:
            planned = run.make_plan(month, 1, made_at, progress.stage)
            progress.stage(run.OTHER_COUNTS)
            return run.costed(month, planned)
        except MONTH_ERRORS as error:
            progress.clear()
            self.refuse([str(error)])

    def write(self, month: Month, planned: Planned, out: Path, progress: Progress) -> None:
        """Write the papers, or say why they cannot be."""
        from planning.documents.papers import papers

        progress.stage("papers")
        try:
            run.write_papers(
                papers(month, planned.plan, planned.stamp, planned.curve), out, planned.stamp, progress.count
            )
        except OSError as error:
            progress.clear()
            where = error.filename or out
            self.refuse([f"The papers cannot be written: {where}: {error.strerror or error}."], NOT_WRITTEN)

    def refuse(self, said: list[str], status: int = BAD_INPUT) -> NoReturn:
        """Say each thing on a line of its own and end."""
        for each in said:
            self.stderr.write(each)
        sys.exit(status)


def moment(text: str) -> datetime:
    """Read a time; without a zone it is UTC."""
    try:
        read = datetime.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"{text!r} is no time: write it as 2027-03-01T09:00Z") from None
    return (read if read.tzinfo else read.replace(tzinfo=UTC)).astimezone(UTC)
