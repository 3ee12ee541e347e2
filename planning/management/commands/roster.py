"""A roster of any length into a month that is kept, by the references the club gives its people."""

import sys
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from kits.models import Month
from planning import intake
from planning.management.database import prepare_database
from planning.models import Intake, Step
from planning.progress import Progress

BAD_INPUT = 2  # exit status: nothing was changed
NOT_WRITTEN = 1


class Command(BaseCommand):
    """Look through a roster, say what would change, and change it."""

    help = (
        "Take a roster (CSV in UTF-8, or an .xlsx workbook) into a month: people with a new reference are added, those "
        "who differ are changed, all others stay. Faulty rows are left out and written to a file with what is wrong; "
        "that file can be put right and taken in. The same file twice changes nothing."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument(
            "file", type=Path, metavar="FILE", help="the roster, with the month file's headings"
        )
        parser.add_argument(
            "--month", metavar="CLUB-2027-04", help="which month; needed where several are kept"
        )
        parser.add_argument(
            "--preview", action="store_true", help="say what would change, and change nothing"
        )
        parser.add_argument(
            "--faults", type=Path, metavar="OUT.xlsx", help="where to write the rows left out"
        )

    def handle(
        self, *, file: Path, month: str | None, preview: bool, faults: Path | None, **options: Any
    ) -> None:
        """Look, say, and take in."""
        prepare_database()
        row = self.month(month)
        refused = faults or file.with_name(f"{file.stem}-faults.xlsx")
        mine = Intake.objects.create(month=row, name=file.name)
        try:
            self.look(mine, file, refused)
            self.say(mine, refused)
            if not preview:
                self.take(mine)
        finally:
            intake.drop(mine)

    def month(self, name: str | None) -> Month:
        """Return the month that was named, or the only one there is."""
        kept = {f"{one.code}-{one.month}": one for one in Month.objects.all()}
        if not kept:
            self.refuse("No month is kept here yet: add one in the app, or run manage.py demo --once.")
        if name is None and len(kept) == 1:
            [name] = kept
        if name not in kept:
            said = "Several months are kept" if name is None else f"No month {name} is kept"
            self.refuse(f"{said}: name one with --month, of {', '.join(sorted(kept))}.")
        return kept[name]

    def look(self, mine: Intake, file: Path, refused: Path) -> None:
        """Look through the file, or say why it cannot be read."""
        with Progress(self.stderr) as progress:
            progress.stage("looking through the roster")
            try:
                intake.look(mine, file, refused, lambda rows: progress.count(rows, rows))
            except OSError as error:
                self.refuse(f"{error.filename or file}: {error.strerror or error}.", NOT_WRITTEN)
        mine.refresh_from_db()
        if mine.step == Step.REFUSED:
            self.refuse(mine.error)

    def say(self, mine: Intake, refused: Path) -> None:
        """Print what would change."""
        said = (
            (mine.new, "new", "to be added"),
            (mine.changed, "changed", "to be changed"),
            (mine.same, "same", "as they are already"),
            (mine.faulty, "faulty", f"left out: see {refused}" if mine.faulty else "left out"),
            (mine.kept, "not in the file", "stay as they are"),
        )
        self.stdout.write(f"{mine.name} for {mine.month}: {mine.rows:,} rows")
        for count, what, then in said:
            self.stdout.write(f"  {count:>9,}  {what:<16}{then}")

    def take(self, mine: Intake) -> None:
        """Change the month, or say that there is nothing to change."""
        if not mine.new and not mine.changed:
            self.stdout.write("Nothing to change.")
            return
        Intake.objects.filter(pk=mine.pk, step=Step.LOOKED_AT).update(step=Step.AGREED)
        try:
            intake.take(mine)
        except intake.ChangedMonthError:
            self.refuse(
                f"{mine.month} was changed by somebody else meanwhile. Nothing was taken in: run this again."
            )
        self.stdout.write(f"Taken in: {mine.new:,} added, {mine.changed:,} changed.")

    def refuse(self, said: str, status: int = BAD_INPUT) -> NoReturn:
        """Say why nothing was changed and end."""
        self.stderr.write(said)
        sys.exit(status)
