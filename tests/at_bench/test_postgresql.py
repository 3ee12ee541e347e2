"""Everything that is said of benches, said again of PostgreSQL."""

import os
import subprocess
import sys
from pathlib import Path

from tests.support.effort import thorough

HERE = Path(__file__).parent


@thorough
def test_benches_keep_their_promises_on_postgresql(postgres_database: str) -> None:
    files = [HERE / name for name in ("test_acts.py", "test_desk.py", "test_together.py")]
    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-n0", "-q", *files, HERE.parent / "web" / "test_tracking.py"],
        cwd=HERE.parents[1],
        env=os.environ | {"DATABASE_URL": postgres_database},
        check=False,
        capture_output=True,
        text=True,
    )
    assert run.returncode == 0, run.stdout[-3000:]
