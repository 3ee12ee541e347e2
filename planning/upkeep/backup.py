"""Backing up: the database as it is at one moment, and every paper that lies beside it, in one file (`archive.py`)."""

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.recorder import MigrationRecorder

from planning.models import Artefact
from planning.upkeep import postgresql
from planning.upkeep.archive import PAPERS, BackupError, Contents, write


def back_up(to: Path) -> tuple[Contents, int]:
    """Write a back-up, which appears whole or not at all; return what it holds and how many papers are gone by now.

    The database comes first and papers never change, so each paper it lists is there unless somebody removed it.
    Raises BackupError.
    """
    if to.exists():
        raise BackupError(f"{to} is there already: name another file, or move that one away.")
    if connection.vendor == "sqlite" and not Path(settings.DATABASES["default"]["NAME"]).exists():
        raise BackupError(f"There is no database in {settings.DATA_DIR} yet: nothing to back up.")
    try:
        with TemporaryDirectory(dir=to.parent, prefix=".backup-") as scratch:
            folder = Path(scratch)  # its owner's alone, and so is what is made in it
            migrations, listed = applied(), papers_listed()
            dump(folder / "database")
            contents = Contents(connection.vendor, migrations)
            write(folder / "whole", folder / "database", settings.ARTEFACTS_DIR, contents)
            (folder / "whole").chmod(0o600)  # it holds everybody's address
            to.hardlink_to(folder / "whole")
    except DatabaseError:
        raise BackupError("The database does not answer.") from None
    except OSError as error:
        raise BackupError(f"{to} cannot be written: {error.strerror or error}.") from None
    return contents, sum(PAPERS + path not in contents.files for path in listed)


def dump(to: Path) -> None:
    """Copy the database at one moment, while others go on working with it."""
    if connection.vendor == "postgresql":
        postgresql.dump(to)
        return
    connection.ensure_connection()
    with closing(sqlite3.connect(to)) as copy:
        connection.connection.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file, with nothing beside it


def applied() -> list[str]:
    """Return the migrations the database has."""
    return sorted(f"{app}.{name}" for app, name in MigrationRecorder(connection).applied_migrations())


def papers_listed() -> Iterable[str]:
    """Return the paths of all papers the database knows; none where it is of a version without such a table."""
    table = Artefact._meta.db_table  # noqa: SLF001 - documented, whatever its name
    if table not in connection.introspection.table_names():
        return []
    return list(Artefact.objects.values_list("path", flat=True))
