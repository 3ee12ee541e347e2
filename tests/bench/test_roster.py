"""The bench of rosters runs the command itself, on data of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from planning.bench import roster
from tests.support.effort import thorough

CHECKOUT = Path(__file__).parents[2]
SMALL = """
import django
django.setup()
from planning.bench import roster
roster.ROWS = 500
for row in roster.roster_rows():
    print(row.case, "-", row.ended)
"""


@thorough
@pytest.mark.parametrize("server", ["", "postgres_server"])
def test_a_small_roster_is_taken_in_and_found_the_same(
    server: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    there = {"DATABASE_URL": request.getfixturevalue(server)} if server else {}
    said = {"KITS_DATA_DIR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "planning.settings"}
    run = subprocess.run(
        [sys.executable, "-c", SMALL],
        cwd=CHECKOUT,
        env=os.environ | said | there,
        check=False,
        capture_output=True,
        text=True,
    )
    assert (run.returncode, run.stderr) == (0, "")
    first, second = run.stdout.splitlines()
    assert first.startswith("Roster, all rows new")
    assert second.startswith("Roster, the same file again")
    assert "within 400" in first
    assert "within 400" in second


def test_a_command_that_fails_says_why() -> None:
    with pytest.raises(ValueError, match="Unknown command"):
        roster.run({}, "no-such-command")
