"""`manage.py plan`: a month file in, papers out, nothing set up before."""

import csv
import hashlib
import subprocess
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from planning.month import Month
from planning.monthfile import month_to_workbook
from tests.support.effort import thorough
from tests.web.small_month import SMALL_MONTH

Manage = Callable[..., subprocess.CompletedProcess[str]]
AT = "2027-03-01T09:00Z"


@pytest.fixture
def file(tmp_path: Path) -> Callable[[Month], Path]:
    """Return file(month): the month as a file."""

    def write(month: Month) -> Path:
        path = tmp_path / "month.xlsx"
        path.write_bytes(month_to_workbook(month))
        return path

    return write


def papers_in(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_it_works(manage: Manage, file: Callable[[Month], Path], tmp_path: Path) -> None:
    run = manage("plan", file(SMALL_MONTH), "--out", "papers", "--at", AT)
    assert (run.returncode, "Traceback" in run.stderr) == (0, False), run.stderr
    assert "Reedbed, April 2027, Heron Lane Paper Club" in run.stdout
    assert "version 1, 1 Mar 2027 09:00 UTC" in run.stdout
    assert "Reed Ribbon: should have been ordered by" in run.stdout
    assert run.stdout.rstrip().endswith(f"Papers: {tmp_path / 'papers'}")
    assert run.stderr.splitlines()[0] == "roster ..."  # no terminal, so a line for each stage
    assert not list((tmp_path / "data").glob("*.sqlite3"))  # no database is touched
    papers = papers_in(tmp_path / "papers")
    rows = list(csv.DictReader(papers.pop("index.csv").decode().splitlines()))
    assert {row["file"]: row["SHA-256"] for row in rows} == {
        name: hashlib.sha256(made).hexdigest() for name, made in papers.items()
    }
    assert all(row["plan"].startswith("Plan HERON-2027-04-") for row in rows)


@thorough
def test_the_same_file_and_time_make_the_same_papers(
    command: Manage, file: Callable[[Month], Path], tmp_path: Path
) -> None:
    path = file(SMALL_MONTH)
    for out in ("one", "two"):
        command("plan", path, "--out", out, "--at", AT)
    assert papers_in(tmp_path / "one") == papers_in(tmp_path / "two")


@thorough
def test_papers_an_earlier_plan_left_are_removed_and_other_files_are_not(
    command: Manage, file: Callable[[Month], Path], tmp_path: Path
) -> None:
    command("plan", file(SMALL_MONTH), "--out", "papers", "--at", AT)
    before = papers_in(tmp_path / "papers")
    (tmp_path / "papers" / "notes.txt").write_text("mine")
    one_box = replace(SMALL_MONTH, subscribers=SMALL_MONTH.subscribers[:1], orders=())
    command("plan", file(one_box), "--out", "papers", "--at", AT)
    after = papers_in(tmp_path / "papers")
    assert "notes.txt" in after
    assert before.keys() - after.keys()
    assert sum("slips" in name for name in after) == 1


# --- What cannot be planned ---


def refused(run: subprocess.CompletedProcess[str], tmp_path: Path) -> list[str]:
    """Return what was said, once it is sure that nothing was planned and nothing written."""
    assert run.returncode == 2
    assert run.stdout == ""
    assert "Traceback" not in run.stderr
    assert not (tmp_path / "papers").exists()
    return run.stderr.splitlines()


def test_every_problem_of_the_file_is_told_on_a_line_of_its_own(
    command: Manage, file: Callable[[Month], Path], tmp_path: Path
) -> None:
    [mill, trim] = SMALL_MONTH.suppliers
    wrong = replace(
        SMALL_MONTH,
        suppliers=(mill, replace(trim, code="MILL")),
        subscribers=(replace(SMALL_MONTH.subscribers[0], tier="GOLD"), *SMALL_MONTH.subscribers[1:]),
    )
    said = refused(command("plan", file(wrong), "--out", "papers", "--at", AT), tmp_path)
    assert any("MILL" in line and "already" in line for line in said)
    assert any("GOLD" in line for line in said)


@pytest.mark.parametrize("made", [b"", b"not a workbook", b"PK\x03\x04 half a zip"])
def test_a_file_that_is_no_workbook_is_told_so(command: Manage, tmp_path: Path, made: bytes) -> None:
    (tmp_path / "month.xlsx").write_bytes(made)
    assert len(refused(command("plan", "month.xlsx", "--out", "papers"), tmp_path)) == 1


def test_a_file_that_is_not_there_is_told_so(command: Manage, tmp_path: Path) -> None:
    [said] = refused(command("plan", "nowhere.xlsx", "--out", "papers"), tmp_path)
    assert "nowhere.xlsx" in said


def test_a_folder_that_cannot_be_written_is_told_so(
    command: Manage, file: Callable[[Month], Path], tmp_path: Path
) -> None:
    (tmp_path / "papers").write_text("a file where the folder should be")
    run = command("plan", file(SMALL_MONTH), "--out", "papers", "--at", AT)
    assert run.returncode == 1
    assert "The papers cannot be written" in run.stderr
    assert "Traceback" not in run.stderr


def test_a_time_that_is_none_is_told_so(command: Manage, tmp_path: Path) -> None:
    run = command("plan", "month.xlsx", "--out", "papers", "--at", "yesterday")
    assert run.returncode == 2
    assert "write it as 2027-03-01T09:00Z" in run.stderr


def test_the_day_of_the_plan_is_the_files_own_where_it_names_one(
    command: Manage, file: Callable[[Month], Path]
) -> None:
    club = replace(SMALL_MONTH.club, planned_on=date(2027, 3, 25))
    later = replace(SMALL_MONTH, club=club, open_orders=())
    run = command("plan", file(later), "--out", "papers", "--at", AT)
    assert "Mill & Daughters, late" in run.stdout
