"""`manage.py roster`: a roster into a month that is kept."""

import subprocess
from collections.abc import Callable
from pathlib import Path

import openpyxl

from planning.monthfile import month_to_workbook
from tests.support.effort import thorough
from tests.web.small_month import SMALL_MONTH

Manage = Callable[..., subprocess.CompletedProcess[str]]

ROSTER = """\
Reference;Name;Address line 1;City;Country;Tier
N1;Ann;1 Elm;Leeds;GB;FULL
N2;Bo;2 Oak;Leeds;XX;FULL
"""
KEEP = """\
from datetime import date
from pathlib import Path
from planning import save
from planning.monthfile import read_month
save.month(read_month(Path("month.xlsx"), date(2027, 3, 1)))
"""


@thorough
def test_a_roster_is_previewed_and_taken_in_and_the_same_file_changes_nothing(
    manage: Manage, tmp_path: Path
) -> None:
    (tmp_path / "roster.csv").write_text(ROSTER)
    nothing = manage("roster", "roster.csv")
    assert (nothing.returncode, "No month is kept here yet" in nothing.stderr) == (2, True)

    (tmp_path / "month.xlsx").write_bytes(month_to_workbook(SMALL_MONTH))
    assert manage("shell", "-c", KEEP).returncode == 0
    preview, first, second = (manage("roster", "roster.csv", *more) for more in (["--preview"], [], []))
    assert [run.returncode for run in (preview, first, second)] == [0, 0, 0], first.stderr
    assert "1  new             to be added" in preview.stdout
    assert "1  faulty          left out: see roster-faults.xlsx" in preview.stdout
    assert "Taken in" not in preview.stdout
    assert "Taken in: 1 added, 0 changed." in first.stdout
    assert "Nothing to change." in second.stdout
    refused = openpyxl.load_workbook(tmp_path / "roster-faults.xlsx").worksheets[0]
    assert [refused["A4"].value, refused["C4"].value] == [3, "N2"]

    (tmp_path / "roster.csv").write_bytes(ROSTER.replace("Ann", "Änn").encode("cp1252"))
    wrong = manage("roster", "roster.csv", "--month", "HERON-2027-04")
    assert (wrong.returncode, "Windows-1252" in wrong.stderr, "Traceback" in wrong.stderr) == (2, True, False)
    unknown = manage("roster", "roster.csv", "--month", "HERON-2027-05")
    assert (unknown.returncode, "of HERON-2027-04." in unknown.stderr) == (2, True)
