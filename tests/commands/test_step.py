"""`manage.py step`: one pure step as JSON in and JSON out."""

import json
import subprocess
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache
from io import BytesIO, StringIO, TextIOWrapper
from typing import Any

import pytest
from django.core.management import call_command

from planning.problems import (
    allocation_problem,
    buying_problem,
    chances_problem,
    contents_problem,
    cost_problem,
    cutting_problem,
    forecast_problem,
    lots_problem,
    overs_problem,
    packing_problem,
    postage_problem,
    requirements_problem,
    roster_problem,
    shipping_problem,
)
from planning.run import make_plan
from planning.singles import SINGLES
from tests.web.small_month import SMALL_MONTH

Manage = Callable[..., subprocess.CompletedProcess[str]]
INCH = 203_200
CARD = {"name": "card", "width": 5 * INCH // 2, "height": 7 * INCH // 2, "value": 1}
SHEET = {"width": 12 * INCH, "height": 12 * INCH, "pieces": [CARD]}

ALONE = {"sheet", "patterns"}  # steps that are no part of the flow as they stand


def test_it_works(manage: Manage) -> None:
    # 14 and not 12: mixed directions (the project's own example of a sheet best used)
    run = manage("step", "sheet", told=json.dumps(SHEET))
    answer = json.loads(run.stdout)
    assert (answer["value"], answer["bound"], answer["ended"]) == (14, 14, "proved best")
    assert answer["faults"] == []


RULES = {
    "edge_trim": {"left": INCH // 4, "right": 0, "top": INCH // 4, "bottom": 0},
    "spacing": INCH // 8,
    "stages": 2,
    "final_trim": True,
    "first": "level",
    "smallest_strip": INCH,
    "ruler": INCH // 16,
}


def test_a_sheet_is_cut_within_every_rule_that_can_be_asked_for(command: Manage) -> None:
    card = CARD | {"turn": "as given", "limit": 5}
    run = command("step", "sheet", told=json.dumps(SHEET | RULES | {"pieces": [card]}))
    answer = json.loads(run.stdout)
    assert (answer["value"], answer["faults"], answer["tree"]["kind"]) == (5, [], "cut")


def test_the_schema_of_a_sheet_names_every_rule() -> None:
    said = StringIO()
    call_command("step", "sheet", schema=True, stdout=said)
    schema = json.loads(said.getvalue())
    assert {"width", "height", "pieces", *RULES} == schema["problem"]["properties"].keys()
    assert {"limit", "turn", "value"} <= schema["problem"]["$defs"]["PieceSize"]["properties"].keys()
    assert schema["result"]["properties"].keys() == {"tree", "value", "bound", "ended", "faults"}


@pytest.mark.parametrize(
    ("rules", "said"),
    [
        ({"ruler": INCH}, "choose a finer ruler, or change the measures"),
        ({"stages": 0}, "a sheet is cut in at least one stage"),
        ({"first": "sideways"}, "first: Input should be 'upright' or 'level'"),
        ({"spacing": -1}, "the spacing between pieces must not be negative"),
        ({"pieces": []}, "a sheet needs at least one piece to be cut into"),
        ({"pieces": [CARD, CARD]}, "every piece of a sheet needs its own name"),
        ({"pieces": [CARD | {"limit": -1}]}, "the limit of piece 'card' must not be negative"),
        ({"pieces": [CARD | {"limit": 1.5}]}, "pieces.0.limit"),
        ({"pieces": [CARD | {"width": "wide"}]}, "pieces.0.width"),
        ({"pieces": [CARD | {"value": 10**30}, CARD | {"name": "tag"}]}, "choose a larger unit for them"),
        ({"width": 0}, "the edge trims leave nothing of the sheet"),
    ],
)
def test_bad_sheets_are_refused_in_words(
    rules: dict[str, Any], said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    stdin, stderr = BytesIO(json.dumps(SHEET | rules).encode()), StringIO()
    monkeypatch.setattr("sys.stdin", TextIOWrapper(stdin))
    with pytest.raises(SystemExit) as ended:
        call_command("step", "sheet", stderr=stderr)
    assert ended.value.code == 2
    assert said in stderr.getvalue()


@lru_cache
def asked_and_answered() -> dict[str, tuple[Any, Any]]:
    """Return what the flow asks each step of the small month, and what it is answered."""
    month, plan = SMALL_MONTH, make_plan(SMALL_MONTH, 1, datetime(2027, 3, 1, 9, tzinfo=UTC)).plan
    people = replace(roster_problem(month), filled=plan.contents.filled)
    steps = plan.roster, plan.requirements, plan.cutting, plan.buying, plan.packing, plan.shipping
    return {
        "contents": (contents_problem(month, people), plan.contents),
        "roster": (people, plan.roster),
        "requirements": (requirements_problem(month, plan.roster, plan.packing), plan.requirements),
        "cutting": (cutting_problem(month, plan.requirements), plan.cutting),
        "buying": (buying_problem(month, plan.requirements, plan.cutting), plan.buying),
        "packing": (packing_problem(month, plan.roster, plan.contents, plan.cutting), plan.packing),
        "postage": (postage_problem(month, plan.roster, plan.packing), plan.postage),
        "shipping": (
            shipping_problem(month, plan.roster, plan.cutting, plan.buying, plan.packing, plan.postage),
            plan.shipping,
        ),
        "cost": (cost_problem(month, *steps), plan.cost),
        "forecast": (forecast_problem(month), plan.forecast),
        "lots": (lots_problem(month, plan.buying, plan.roster.boxes, plan.forecast), plan.lots),
        "overs": (
            overs_problem(month, plan.requirements, plan.cutting, plan.buying, plan.forecast),
            plan.overs,
        ),
        "chances": (
            chances_problem(month, plan.requirements, plan.cutting, plan.buying, plan.cost, plan.forecast),
            plan.chances,
        ),
        "allocation": (
            allocation_problem(month, people, plan.requirements, plan.cutting, plan.buying, plan.packing),
            plan.allocation,
        ),
    }


@pytest.mark.parametrize("name", sorted(SINGLES.keys() - ALONE))
def test_each_step_gives_the_flows_own_answer(name: str) -> None:
    (problem, answer), step = asked_and_answered()[name], SINGLES[name]
    asked = step.problem.validate_json(step.problem.dump_json(problem), extra="forbid")
    assert asked == problem
    assert step.result.validate_json(step.result.dump_json(step.take(asked))) == answer


def best_sheet(width: int, height: int, pieces: list[dict[str, Any]]) -> Any:
    """Return what the step says of a sheet, from JSON to JSON."""
    step = SINGLES["sheet"]
    told = json.dumps({"width": width, "height": height, "pieces": pieces})
    answer = step.result.dump_json(step.take(step.problem.validate_json(told)))
    return json.loads(answer)


def test_a_published_sheet_with_limits_is_worth_what_was_published() -> None:
    # Christofides & Whitlock, Operations Research 25 (1977) 30-44, problem 1, no turning: worth 244 at best.
    listed = (
        (8, 4, 2, 66),
        (3, 7, 1, 35),
        (8, 2, 3, 24),
        (3, 4, 5, 17),
        (3, 3, 2, 11),
        (3, 2, 2, 8),
        (2, 1, 1, 2),
    )
    pieces = [
        {
            "name": f"{wide} x {high}",
            "width": wide,
            "height": high,
            "limit": most,
            "value": value,
            "turn": "as given",
        }
        for wide, high, most, value in listed
    ]

    answer = best_sheet(15, 10, pieces)

    assert (answer["value"], answer["ended"]) == (244, "proved best")


@pytest.mark.parametrize(
    ("sheet", "piece", "out"),
    [
        # Robinson & Abney, The Art and Practice of Silver Printing (1881), ch. VII, in quarter inches
        ((72, 88), (18, 11), 32),
        # Dawe, Paper and Its Uses (1914), p. 139: sheets and sizes, counts computed; in half inches
        ((51, 61), (10, 6), 50),
        ((41, 51), (16, 10), 12),
    ],
)
def test_the_published_number_out_comes_out(sheet: tuple[int, int], piece: tuple[int, int], out: int) -> None:
    answer = best_sheet(*sheet, [{"name": "piece", "width": piece[0], "height": piece[1], "value": 1}])

    assert (answer["value"], answer["ended"]) == (out, "proved best")


@pytest.mark.parametrize("name", SINGLES)
def test_the_schema_shows_both_sides(name: str) -> None:
    said = StringIO()
    call_command("step", name, schema=True, stdout=said)
    schema = json.loads(said.getvalue())
    assert schema.keys() == {"problem", "result"}


def wrong(command: Manage, told: str) -> list[str]:
    run = command("step", "sheet", told=told)
    assert (run.returncode, run.stdout, "Traceback" in run.stderr) == (2, "", False)
    return run.stderr.splitlines()


def test_everything_that_is_wrong_is_told_with_its_place(command: Manage) -> None:
    said = wrong(command, json.dumps({"width": "wide", "pieces": [CARD], "colour": "red"}))
    assert [line.partition(":")[0] for line in said] == ["width", "height", "colour"]


def test_a_rule_of_the_step_is_told_in_its_own_words(command: Manage) -> None:
    [said] = wrong(command, json.dumps(SHEET | {"width": INCH}))
    assert "does not fit" in said


@pytest.mark.parametrize("told", ["", "[1, 2]"])
def test_what_is_no_json_or_no_question_is_told_so(command: Manage, told: str) -> None:
    assert wrong(command, told)


def test_a_step_nobody_knows_is_told_so(command: Manage) -> None:
    run = command("step", "folding", told="{}")
    assert run.returncode == 2
    assert "invalid choice: 'folding'" in run.stderr
