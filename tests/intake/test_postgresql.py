"""Everything that is said of an intake, said again of PostgreSQL."""

import os
import subprocess
import sys
from pathlib import Path

from tests.support.effort import thorough

HERE = Path(__file__).parent


@thorough
def test_intakes_keep_their_promises_on_postgresql(postgres_database: str) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-n0", "-q", HERE / "test_intake.py"],
        cwd=HERE.parents[1],
        env=os.environ | {"DATABASE_URL": postgres_database},
        check=False,
        capture_output=True,
        text=True,
    )
    assert run.returncode == 0, run.stdout[-3000:]
