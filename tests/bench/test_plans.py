"""The bench of plans of patterns."""

import json
from pathlib import Path

import pytest

from planning.bench.plans import published_rows
from planning.bench.published import CASES

CASE = {
    "name": "tinyd",
    "kind": "fewest_sheets",
    "sheet": {"width": 10, "height": 10},
    "pieces": [{"width": 6, "height": 10, "demand": 3}, {"width": 10, "height": 4, "demand": 3}],
    "optimum": 5,
}


def test_published_cases_are_cut_as_given_and_turned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "cases.json"
    file.write_text(json.dumps({"cases": [CASE]}))
    monkeypatch.setenv(CASES, str(file))

    as_given, turned = published_rows()

    # As given, a sheet holds one of the first or two of the second: 3 + 2. Turned, both fill it together: 3.
    assert (as_given.case, as_given.optimum, as_given.found, as_given.bound) == ("tinyd", 5, 5, 5)
    assert (turned.case, turned.optimum, turned.found, turned.bound) == ("tinyd, turned", None, 3, 3)
    assert as_given.ended.startswith("proved cheapest")
