"""An empty month file to fill in, as the app gives it, without the app."""

from pathlib import Path
from typing import Any

from django.core.management import CommandError
from django.core.management.base import BaseCommand, CommandParser

from planning.monthfile import template


class Command(BaseCommand):
    """Write an empty month file."""

    help = "Write an empty month file to fill in: every sheet says above its headings what to type."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("file", type=Path, metavar="MONTH.xlsx", help="the file to make; it must be new")

    def handle(self, *, file: Path, **options: Any) -> None:
        """Write the file, never over another."""
        try:
            with file.open("xb") as new:
                new.write(template())
        except FileExistsError:
            raise CommandError(f"{file} is there already: name a new file.", returncode=2) from None
        except OSError as error:
            raise CommandError(f"{file} cannot be written: {error.strerror}", returncode=1) from None
        self.stdout.write(
            f"Fill in {file.resolve()} in your spreadsheet, then: manage.py plan {file} --out DIR"
        )
