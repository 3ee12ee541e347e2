"""PostgreSQL's own programs, run on the database of the settings; its password goes by the environment, unseen."""

import os
import shutil
import subprocess
from pathlib import Path

from django.db import connection

from planning.upkeep.archive import BackupError

PLACES = "/usr/lib/postgresql"  # where Debian keeps programs by version
DUMP = ("--format=custom", "--no-owner", "--no-privileges", "--no-password")
LOAD = ("--exit-on-error", "--single-transaction", "--no-owner", "--no-privileges", "--no-password")


def dump(to: Path) -> None:
    """Dump the database as it is at one moment, while others go on working with it. Raises BackupError."""
    _run("pg_dump", *DUMP, f"--file={to}")


def load(dumped: Path) -> None:
    """Load a dump, all of it or nothing. Raises BackupError."""
    _run("pg_restore", *LOAD, f"--dbname={connection.settings_dict['NAME']}", str(dumped))


def _run(name: str, *words: str) -> None:
    try:
        run = subprocess.run(  # noqa: S603
            [_program(name), *words], env=os.environ | _where(), check=False, capture_output=True, text=True
        )
    except OSError as error:
        raise BackupError(f"{name} cannot be run: {error.strerror}.") from None
    if run.returncode:
        said = run.stderr.strip().splitlines() or [f"status {run.returncode}"]
        raise BackupError(f"PostgreSQL's {name} did not succeed: {said[0]}")


def _program(name: str) -> str:
    newest_first = sorted(map(str, Path(PLACES).glob("*/bin")), reverse=True)
    found = shutil.which(name, path=os.pathsep.join([os.environ.get("PATH", os.defpath), *newest_first]))
    if not found:
        raise BackupError(f"{name} is not installed: it comes with PostgreSQL's client programs.")
    return found


def _where() -> dict[str, str]:
    told = connection.settings_dict
    _, secret = connection.client.settings_to_cmd_args_env(told, [])
    plain = {"PGHOST": "HOST", "PGPORT": "PORT", "PGUSER": "USER", "PGDATABASE": "NAME"}
    known = {name: str(told[key]) for name, key in plain.items() if told[key]}
    return known | {name: str(value) for name, value in (secret or {}).items()}
