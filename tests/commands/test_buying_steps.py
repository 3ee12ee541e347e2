"""Lots, overs and allocation as JSON, as another program asks for them."""

import json
from typing import Any

import pytest

from planning.singles import SINGLES


def asked(name: str, problem: Any) -> Any:
    """Return what a step answers, from JSON to JSON."""
    step = SINGLES[name]
    told = step.problem.validate_json(json.dumps(problem), extra="forbid")
    return json.loads(step.result.dump_json(step.take(told)))


def test_lots_of_a_published_season() -> None:
    # Snyder & Shen, Fundamentals of Supply Chain Theory, ex. 3.9, as in the documentation of stockpyl: 1,380
    answer = asked(
        "lots",
        {
            "periods": ["1", "2", "3", "4"],
            "materials": [{"code": "M", "name": "M", "needed": [90, 120, 80, 70], "storage": "2"}],
            "offers": [{"code": "O", "supplier": "S", "material": "M", "setup": "500"}],
        },
    )
    assert (answer["total"], answer["bound"], answer["ended"]) == (
        "1380",
        "1380",
        "proved: no plan costs less",
    )
    assert [(one["period"], one["lines"][0]["quantity"]) for one in answer["orders"]] == [(0, 210), (2, 150)]


def test_overs_of_a_published_newsvendor() -> None:
    # Snyder & Shen, ex. 4.3, as in the documentation of stockpyl: 56.604, 1.9976
    thing = {
        "code": "X",
        "name": "X",
        "parts": [{"count": {"kind": "normal", "mean": "50", "deviation": "8"}}],
        "short": "0.70",
        "keeping": "0.18",
    }
    fold = {"name": "Fold", "make_ready": 40, "percent": "1.1"}
    run = {"code": "R", "name": "R", "good": 1000, "operations": [fold]}
    answer = asked("overs", {"runs": [run], "stocked": [thing]})
    [found] = answer["stocked"]
    assert (found["quantile"], found["quantile_cost"]) == ("56.603956", "1.997605")
    # American Printer, 1 January 1996: a folder spoils 40 sheets and 1.1 %
    assert answer["runs"][0]["start"] == 1051


@pytest.mark.parametrize(("rule", "served"), [("tier", [1, 5]), ("joining date", [1, 5]), ("even", [1, 5])])
def test_allocation_tells_every_box(rule: str, served: list[int]) -> None:
    group = {"code": "G", "tier": "FULL", "boxes": 8, "joined": None, "uses": [{"material": "B", "each": 3}]}
    answer = asked(
        "allocation",
        {
            "rule": rule,
            "tiers": ["FULL"],
            "groups": [group],
            "short": [{"material": "B", "name": "Button", "available": 17}],
        },
    )
    whole = answer["boxes"][0]
    assert [whole["first"], whole["last"]] == served
    assert [(one["first"], one["last"]) for one in answer["boxes"]] == [(1, 5), (6, 8)]
