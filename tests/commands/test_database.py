"""A database that does not fit is told in words: nothing is served or planned, and nothing in it is changed."""

import sqlite3
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from django.core.management import CommandError
from django.db import connection

from planning.management.database import prepare_database, tables_amiss
from tests.support.effort import thorough

Manage = Callable[..., subprocess.CompletedProcess[str]]


def told(run: subprocess.CompletedProcess[str]) -> str:
    assert run.returncode == 2, run.stderr
    assert "Traceback" not in run.stderr
    assert "cannot be used" in run.stderr
    assert "move the folder" in run.stderr
    return run.stderr


def test_the_demo_says_what_to_do_about_an_older_versions_data_folder(manage: Manage, tmp_path: Path) -> None:
    """An earlier version had some of the tables, and knew its migrations by other names."""
    (tmp_path / "data").mkdir()
    with sqlite3.connect(tmp_path / "data" / "kits.sqlite3") as old:
        old.execute("create table kits_month (id integer primary key)")
    assert "kits_month" in told(manage("demo", "--once", "--boxes", "5"))


@thorough
@pytest.mark.parametrize("command", ["serve", "work"])
def test_a_file_that_is_no_database_is_told_so(manage: Manage, tmp_path: Path, command: str) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "kits.sqlite3").write_bytes(
        b"no database at all, but long enough to be read as one" * 9
    )
    assert "not a database" in told(manage(command))


@pytest.mark.django_db
def test_tables_with_other_columns_are_found_though_the_migrations_are_listed_as_done() -> None:
    assert list(tables_amiss()) == []
    with connection.cursor() as cursor:
        cursor.execute("alter table kits_recipe drop column text")
        cursor.execute("alter table kits_tier add column colour text")
    assert sorted(tables_amiss()) == ["kits_recipe", "kits_tier"]
    with pytest.raises(CommandError, match=r"kits_recipe, kits_tier have other columns"):
        prepare_database()
