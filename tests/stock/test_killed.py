"""A process that dies between any two writes leaves a book that balances; everything is said again of PostgreSQL."""

import os
import subprocess
import sys
from pathlib import Path

from tests.support.effort import thorough

HERE = Path(__file__).parent
DEATHS = 3 * 8  # at least: an entry, its moves, the book's row; eight entries
PROGRAM = "import django; django.setup(); from tests.stock.killed_at_every_write import main; main()"


def killed(tmp_path: Path, **environment: str) -> str:
    run = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        cwd=HERE.parents[1],
        env=os.environ
        | {"KITS_DATA_DIR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "planning.settings"}
        | environment,
        check=False,
        capture_output=True,
        text=True,
    )
    assert run.returncode == 0, run.stderr[-3000:]
    return run.stdout


def test_killed_at_any_write_the_book_balances(tmp_path: Path) -> None:
    assert int(killed(tmp_path).split()[0]) >= DEATHS


@thorough
def test_killed_at_any_write_the_book_balances_on_postgresql(tmp_path: Path, postgres_database: str) -> None:
    assert int(killed(tmp_path, DATABASE_URL=postgres_database).split()[0]) >= DEATHS


@thorough
def test_the_book_keeps_its_promises_on_postgresql(postgres_database: str) -> None:
    files = [HERE / "test_rows.py", HERE / "test_together.py", HERE.parent / "web" / "test_stock.py"]
    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-n0", "-q", *files],
        cwd=HERE.parents[1],
        env=os.environ | {"DATABASE_URL": postgres_database},
        check=False,
        capture_output=True,
        text=True,
    )
    assert run.returncode == 0, run.stdout[-3000:]
