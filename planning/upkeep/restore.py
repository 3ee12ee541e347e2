"""Restoring a back-up into an empty database: all of it is looked at first; papers come before the rows that list them."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from itertools import chain
from pathlib import Path
from tempfile import NamedTemporaryFile, TemporaryDirectory
from typing import IO

from django.apps import apps
from django.conf import settings
from django.contrib.auth.models import User
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.loader import MigrationLoader
from django.db.models import Model
from django.db.transaction import atomic

from planning.upkeep import postgresql
from planning.upkeep.archive import DATABASE, PAPERS, BackupError, Contents, members, read_contents

OUR_FUNCTIONS = """
SELECT p.oid::regprocedure::text FROM pg_proc p WHERE p.pronamespace = current_schema()::regnamespace
AND NOT EXISTS (SELECT FROM pg_depend d WHERE d.objid = p.oid AND d.deptype = 'e')
"""  # those of an extension stay


def restore(path: Path) -> Contents:
    """Restore a back-up, bring its tables up to date, and return what it held. Raises BackupError; then nothing was kept
    but papers, which do no harm.
    """
    contents = read_contents(path)
    try:
        refuse_unlike(contents)
        refuse_full()
        with TemporaryDirectory(dir=settings.DATA_DIR, prefix=".restore-") as scratch:
            database = Path(scratch, DATABASE)
            unpack(path, database)
            load(database)
        call_command("migrate", verbosity=0)
    except DatabaseError as error:
        raise BackupError(f"The database cannot be restored: {str(error).strip()}") from None
    except OSError as error:
        raise BackupError(f"The papers cannot be written: {error.strerror or error}.") from None
    return contents


def refuse_unlike(contents: Contents) -> None:
    """Raise BackupError where this program, or this kind of database, cannot take it."""
    if contents.vendor != connection.vendor:
        named = (
            "DATABASE_URL names" if contents.vendor == "postgresql" else "there is no DATABASE_URL that names"
        )
        raise BackupError(
            f"It is a back-up of a {contents.vendor} database, and this is {connection.vendor}: restore it where "
            f"{named} a PostgreSQL."
        )
    known = {f"{app}.{name}" for app, name in MigrationLoader(connection).disk_migrations}
    if set(contents.migrations) - known:
        raise BackupError(
            "It was made by another version of this program, most likely a newer one: use that one."
        )


def refuse_full() -> None:
    """Raise BackupError unless nobody has begun to work with this database."""
    if held := sorted(tables_with_rows()):
        raise BackupError(
            f"This database is not empty ({', '.join(held)}): restore into an empty one, which another KITS_DATA_DIR or "
            "DATABASE_URL names. Nothing was changed."
        )


def tables_with_rows() -> Iterator[str]:
    """Yield the tables in which anything of the club's lies."""
    there = set(connection.introspection.table_names())
    kept = chain(apps.get_app_config("kits").get_models(), apps.get_app_config("planning").get_models())
    for table in (table_of(User), *map(table_of, kept)):
        if table in there:
            with connection.cursor() as cursor:
                cursor.execute(f"SELECT 1 FROM {connection.ops.quote_name(table)} LIMIT 1")  # noqa: S608
                if cursor.fetchone():
                    yield table


def table_of(model: type[Model]) -> str:
    """Return the name of a model's table."""
    return model._meta.db_table  # noqa: SLF001 - documented, whatever its name


def unpack(path: Path, database: Path) -> None:
    """Write the dumped database where it is asked for, and the papers to their places, each whole or not at all."""
    with members(path) as files:
        for name, file in files:
            if name == DATABASE:
                with database.open("wb") as copy:
                    shutil.copyfileobj(file, copy)
            elif name.startswith(PAPERS):
                put(file, settings.ARTEFACTS_DIR / name.removeprefix(PAPERS))


def put(file: IO[bytes], place: Path) -> None:
    """Write a file under another name, and rename it once it is whole."""
    place.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=place.parent, prefix=".", suffix=".part", delete=False) as part:
        shutil.copyfileobj(file, part)
    Path(part.name).chmod(0o644)
    Path(part.name).replace(place)


def load(database: Path) -> None:
    """Put the database in place of the empty one."""
    if connection.vendor == "postgresql":
        drop_what_is_made()
        connection.close()
        postgresql.load(database)
        return
    connection.ensure_connection()
    with closing(sqlite3.connect(database)) as copy:
        copy.backup(connection.connection)
    connection.close()


def drop_what_is_made() -> None:
    """Drop the empty tables that this version has made, and its functions: the dump brings its own."""
    tables = {table_of(model) for model in apps.get_models(include_auto_created=True)} | {"django_migrations"}
    there = sorted(tables & set(connection.introspection.table_names()))
    with atomic(), connection.cursor() as cursor:
        if there:
            cursor.execute(f"DROP TABLE {', '.join(map(connection.ops.quote_name, there))} CASCADE")
        cursor.execute(OUR_FUNCTIONS)
        for (function,) in cursor.fetchall():
            cursor.execute(f"DROP FUNCTION {function}")
