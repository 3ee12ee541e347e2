"""The bench of a large month, at a size that takes seconds."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from planning.bench.machine import machine
from planning.bench.rates import within
from tests.support.effort import thorough

CHECKOUT = Path(__file__).parents[2]


def test_a_figure_is_said_with_the_most_it_may_be() -> None:
    assert within(1.5, 1.5) == "1.50 (reached: at most 1.5)"
    assert within(51, 50) == "51.00 (missed: at most 50)"


@pytest.mark.django_db
def test_the_machine_is_named() -> None:
    assert f"{os.cpu_count()} cores, " in machine()
    assert f"Python {sys.version.split()[0]}, " in machine()


@thorough
def test_a_month_is_planned_listed_looked_at_and_printed_though_workers_are_killed(
    postgres_server: str, tmp_path: Path
) -> None:
    run = subprocess.run(
        [sys.executable, "manage.py", "bench", "large", "--boxes", "400", "--printed", "150"],
        cwd=CHECKOUT,
        env=os.environ | {"KITS_DATA_DIR": str(tmp_path), "DATABASE_URL": postgres_server},
        check=False,
        capture_output=True,
        text=True,
    )
    assert (run.returncode, run.stderr) == (0, "")
    assert "FAULT" not in run.stdout
    rows = [line[:36].strip() for line in run.stdout.splitlines()[3:] if not line.startswith("Page ")]
    assert rows == [
        "Planning 400 boxes, ms",
        "Listing 400 boxes, rows/s",
        "Pages, 95th percentile, ms",
        "Whole run of 150 boxes, boxes/s",
        "Memory of a worker, MiB",
        "Killed workers, s to go on",
    ]
