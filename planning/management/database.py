"""The database below the commands: brought up to date, or what is the matter with it said in words."""

from collections.abc import Iterator

from django.apps import apps
from django.conf import settings
from django.core.management import CommandError, call_command
from django.db import DatabaseError, connection
from django.db.migrations.exceptions import InconsistentMigrationHistory
from django.db.migrations.executor import MigrationExecutor

BAD_INPUT = 2


def prepare_database() -> None:
    """Make or bring up to date a database of this machine alone; another's is its keeper's to change.

    Raises CommandError where it cannot be used: no database, out of date, or made by another version of the program.
    """
    try:
        if connection.vendor == "sqlite":
            call_command("migrate", verbosity=0)
        elif is_behind():
            raise refused("The database is not up to date: run manage.py migrate first.")
        amiss = sorted(tables_amiss())
    except (DatabaseError, InconsistentMigrationHistory) as error:
        raise refused(unusable(str(error).strip())) from None
    if amiss:
        raise refused(unusable(f"{', '.join(amiss)} have other columns than this version asks for"))


def is_behind() -> bool:
    """Tell whether migrations wait."""
    executor = MigrationExecutor(connection)
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def tables_amiss() -> Iterator[str]:
    """Yield the tables whose columns are not this version's, whatever the list of migrations says of them."""
    with connection.cursor() as cursor:
        for model in apps.get_models(include_auto_created=True):
            meta = model._meta  # noqa: SLF001 - documented, whatever its name
            found = {
                one.name for one in connection.introspection.get_table_description(cursor, meta.db_table)
            }
            if found != {field.column for field in meta.local_concrete_fields}:
                yield meta.db_table


def unusable(why: str) -> str:
    """Say which database does not do, why, and what to do about it."""
    name = settings.DATABASES["default"]["NAME"]
    if connection.vendor != "sqlite":
        advice = "name an empty database in DATABASE_URL, or run that version"
        return (
            f"The database {name} on the server cannot be used: {why}. If another version made it, {advice}."
        )
    return (
        f"The database {name} cannot be used: {why}. If another version of this program made it, move the folder "
        f"{settings.DATA_DIR} away, or name another in KITS_DATA_DIR, and start again: a new one is made. The month files "
        "of the old one can be saved with the version that made it."
    )


def refused(said: str) -> CommandError:
    """Return the error of a command that did nothing."""
    return CommandError(said, returncode=BAD_INPUT)
