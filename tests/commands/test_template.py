"""`manage.py template`: an empty month file, never over another."""

import subprocess
from collections.abc import Callable
from pathlib import Path

from planning.monthfile import template

Manage = Callable[..., subprocess.CompletedProcess[str]]


def test_an_empty_month_file_is_written_once(manage: Manage, command: Manage, tmp_path: Path) -> None:
    first, second = manage("template", "month.xlsx"), command("template", "month.xlsx")
    assert first.returncode == 0, first.stderr
    assert "manage.py plan month.xlsx --out DIR" in first.stdout
    assert (tmp_path / "month.xlsx").read_bytes() == template()
    assert (second.returncode, "is there already" in second.stderr) == (2, True)
    assert "Traceback" not in second.stderr
