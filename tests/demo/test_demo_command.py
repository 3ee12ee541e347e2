"""The first thing a newcomer runs: `manage.py demo --once`, in a process of its own with an empty data folder."""

import csv
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from icalendar import Calendar
from openpyxl import load_workbook
from pypdf import PdfReader

CHECKOUT = Path(__file__).parents[2]


class Ran(NamedTuple):
    """A finished command: what it printed, what it said meanwhile, where its papers lie."""

    printed: str
    said: str
    out: Path


def manage(data: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environment = {
        name: value for name, value in os.environ.items() if name not in ("DATABASE_URL", "REDIS_URL")
    }
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=CHECKOUT,
        env=environment | {"KITS_DATA_DIR": str(data)},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Ran:
    folder = tmp_path_factory.mktemp("demo")
    run = manage(folder / "data", "demo", "--once", "--boxes", "60", "--out", str(folder / "out"))
    assert run.returncode == 0, run.stderr
    return Ran(run.stdout, run.stderr, folder / "out")


def rows(index: Path) -> dict[str, dict[str, str]]:
    with index.open(newline="", encoding="utf-8") as file:
        return {row["file"]: row for row in csv.DictReader(file)}


def numbers(workbook: Path) -> dict[str, list[tuple[object, ...]]]:
    """Return every cell of a workbook sheet by sheet, but those that tell the minute it was made."""
    return {
        sheet.title: [tuple(value for value in row if "UTC" not in str(value)) for row in sheet.values]
        for sheet in load_workbook(workbook)
    }


def test_it_prints_the_plan_as_a_table_and_says_what_it_is_doing(demo: Ran) -> None:
    for words in (
        "Roster",
        "boxes for",
        "Cutting",
        "Buying",
        "Cost",
        "Needs you:",
        "late",
        "Sign in",
    ):
        assert words in demo.printed
    assert "papers ..." in demo.said


def test_every_paper_of_the_index_is_there_and_opens(demo: Ran) -> None:
    papers = rows(demo.out / "index.csv")
    kinds = {Path(name).suffix for name in papers}
    assert kinds == {".pdf", ".xlsx", ".ics", ".csv"}
    for name, row in papers.items():
        path = demo.out / name
        assert path.stat().st_size == int(row["bytes"])
        if path.suffix == ".pdf":
            assert PdfReader(path).pages[0].extract_text()
        elif path.suffix == ".xlsx":
            assert load_workbook(path).sheetnames
        elif path.suffix == ".ics":
            assert Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    assert {path.name for path in demo.out.iterdir()} >= {
        "month-workbook.xlsx",
        "month-file.xlsx",
        "shipping.ics",
    }


def test_planning_the_months_own_file_gives_the_same_numbers(demo: Ran, tmp_path: Path) -> None:
    run = manage(
        tmp_path / "no-data", "plan", str(demo.out / "month-file.xlsx"), "--out", str(tmp_path / "out")
    )
    assert run.returncode == 0, run.stderr
    ours, theirs = rows(demo.out / "index.csv"), rows(tmp_path / "out" / "index.csv")
    assert list(theirs) == [name for name in ours if name != "month-file.xlsx"]
    assert numbers(tmp_path / "out" / "month-workbook.xlsx") == numbers(demo.out / "month-workbook.xlsx")
    assert run.stdout.splitlines()[3:25] == demo.printed.splitlines()[3:25]
    assert not (tmp_path / "no-data" / "db.sqlite3").exists()  # a plan from a file touches no database


def test_a_number_of_boxes_that_is_none_is_refused(tmp_path: Path) -> None:
    run = manage(tmp_path, "demo", "--once", "--boxes", "many")
    assert run.returncode == 2
    assert "'many' is no number of boxes: write one from 1 to 100,000" in run.stderr
