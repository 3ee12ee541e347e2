"""A database and a folder for a bench alone, made new and then gone, on the server of the settings or as an SQLite file."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import uuid4

from django.conf import settings
from django.db import connection


@contextmanager
def scratch() -> Iterator[dict[str, str]]:
    """Work in a new database and folder until the block ends; give the environment of processes that shall do so too."""
    told, before = connection.settings_dict, settings.ARTEFACTS_DIR
    kept = str(told["NAME"])
    with TemporaryDirectory(prefix="kits-bench-") as folder:
        on_a_server = connection.vendor == "postgresql"
        name = f"bench_{uuid4().hex[:12]}" if on_a_server else str(Path(folder, "kits.sqlite3"))
        told["TEST"]["NAME"] = name
        settings.ARTEFACTS_DIR = Path(folder, "artefacts")
        connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
        server = str(settings.DATABASE_URL).rpartition("/")[0]
        there = {"DATABASE_URL": f"{server}/{name}"} if on_a_server else {}
        try:
            yield os.environ | {"KITS_DATA_DIR": folder} | there
        finally:
            connection.creation.destroy_test_db(kept, verbosity=0)
            settings.ARTEFACTS_DIR = before
