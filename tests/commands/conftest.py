"""Our command line as a person starts it, on data of its own."""

import os
import subprocess
import sys
from collections.abc import Callable
from contextlib import chdir, redirect_stderr, redirect_stdout
from io import BytesIO, StringIO, TextIOWrapper
from pathlib import Path

import pytest
from django.core.management import ManagementUtility

from tests.support.effort import THOROUGH

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


@pytest.fixture
def command(manage: Manage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Manage:
    """Return manage, but in this process, which saves a second, unless there is time: for commands without a database."""

    def run(*words: str | Path, told: str = "") -> subprocess.CompletedProcess[str]:
        monkeypatch.setattr("sys.stdin", TextIOWrapper(BytesIO(told.encode())))
        argv, status = ["manage.py", *map(str, words)], 0
        with chdir(tmp_path), redirect_stdout(StringIO()) as out, redirect_stderr(StringIO()) as err:
            try:
                ManagementUtility(argv).fetch_command(argv[1]).run_from_argv(argv)
            except SystemExit as ended:
                status = int(ended.code or 0)
        return subprocess.CompletedProcess(argv, status, out.getvalue(), err.getvalue())

    return manage if THOROUGH else run
