"""The bench of single sheets."""

import json
from pathlib import Path

import pytest

from planning.bench.published import CASES
from planning.bench.sheet import own_cases, sheet_rows

CASE = {
    "name": "tiny",
    "kind": "best_sheet",
    "sheet": {"width": 5, "height": 4},
    "pieces": [{"width": 3, "height": 2, "value": 6, "limit": None}],
    "optimum": 12,
}


def test_published_cases_come_from_the_file_named_in_the_environment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "cases.json"
    file.write_text(json.dumps({"cases": [CASE, CASE | {"kind": "fewest_sheets"}]}))
    monkeypatch.setenv(CASES, str(file))

    as_given, turned = sheet_rows()

    # 5 x 4 holds two of 3 x 2 one below the other, and turned one 2 x 3 beside them.
    assert (as_given.case, as_given.optimum, as_given.found, as_given.bound) == ("tiny", 12, 12, 12)
    assert (turned.case, turned.optimum, turned.found) == ("tiny, turned", None, 18)
    assert as_given.ended == turned.ended == "proved best"


def test_a_file_of_something_else_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "cases.json"
    file.write_text("[]")
    monkeypatch.setenv(CASES, str(file))

    with pytest.raises(ValueError, match="not a file of published cases"):
        next(sheet_rows())


def test_cases_of_our_own_are_the_same_on_every_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(CASES, raising=False)

    assert list(own_cases()) == list(own_cases())
    assert next(sheet_rows()).case == "own 250 x 250"
