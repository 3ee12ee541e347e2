"""A back-up brought back, into an empty database."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from kits.models import Month
from planning.management.database import refused
from planning.models import Plan
from planning.upkeep.archive import PAPERS, BackupError
from planning.upkeep.restore import restore


class Command(BaseCommand):
    """Restore what `manage.py backup` has written."""

    help = "Restore what manage.py backup has written, into a database in which nothing is kept yet."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("file", type=Path, metavar="FILE.tar.gz", help="the back-up")

    def handle(self, *, file: Path, **options: Any) -> None:
        """Restore, and say what was."""
        try:
            contents = restore(file)
        except BackupError as error:
            raise refused(str(error)) from None
        papers = sum(name.startswith(PAPERS) for name in contents.files)
        months, plans = Month.objects.count(), Plan.objects.count()
        self.stdout.write(f"Restored: {months:,} months, {plans:,} plans and {papers:,} files of papers.")
