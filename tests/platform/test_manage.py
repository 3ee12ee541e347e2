"""The command line starts from anywhere, and says what to do when it cannot start."""

import os
import subprocess
import sys
from pathlib import Path

MANAGE = Path(__file__).parents[2] / "manage.py"


def manage(*words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"KITS_DATA_DIR": str(cwd / "data")}
    return subprocess.run(
        [sys.executable, *words], check=False, cwd=cwd, env=environment, capture_output=True, text=True
    )


def test_it_works_from_any_folder(tmp_path: Path) -> None:
    run = manage(str(MANAGE), "check", cwd=tmp_path)
    assert (run.returncode, run.stderr) == (0, "")
    assert (tmp_path / "data" / "secret_key").exists()


def test_without_its_libraries_it_names_the_command_that_installs_them(tmp_path: Path) -> None:
    run = manage("-I", "-S", str(MANAGE), "check", cwd=tmp_path)  # -S: no installed library is seen
    assert run.returncode == 1
    assert "lacks django" in run.stderr
    assert "first command in README.md" in run.stderr
    assert "Traceback" not in run.stderr


def test_a_command_nobody_knows_is_told_so(tmp_path: Path) -> None:
    run = manage(str(MANAGE), "fold", cwd=tmp_path)
    assert run.returncode == 1
    assert "Unknown command: 'fold'" in run.stderr
    assert "Traceback" not in run.stderr
