"""A back-up of everything the program keeps, in one file."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planning.management.database import refused
from planning.upkeep.archive import PAPERS, BackupError
from planning.upkeep.backup import back_up


class Command(BaseCommand):
    """Write the database and all papers into one file."""

    help = (
        "Write the database and all papers into one file, while the program runs. Keep it somewhere else, and as safe as "
        "the roster: it holds every address. The secret key is not in it."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("file", type=Path, metavar="FILE.tar.gz", help="the file to write")

    def handle(self, *, file: Path, **options: Any) -> None:
        """Back up, and say what was."""
        try:
            contents, gone = back_up(file.absolute())
        except BackupError as error:
            raise refused(str(error)) from None
        papers = sum(name.startswith(PAPERS) for name in contents.files)
        self.stdout.write(f"Backed up the database and {papers:,} files of papers: {file}")
        if gone:
            self.stderr.write(f"{gone:,} papers that the database lists are not in the folder of papers.")
