"""Our command line as a person starts it, on data of its own."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

MANAGE = Path(__file__).parents[2] / "manage.py"
Manage = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def manage(tmp_path: Path) -> Manage:
    """Return manage(*words, told=""): what a command says, and how it ends."""

    def run(*words: str | Path, told: str = "") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, MANAGE, *words],
            cwd=tmp_path,
            env=os.environ | {"KITS_DATA_DIR": str(tmp_path / "data")},
            input=told,
            check=False,
            capture_output=True,
            text=True,
            timeout=300,
        )

    return run
