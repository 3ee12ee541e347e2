"""The best use of one sheet, case by case, each with pieces as given and with pieces that may turn."""

import random
from collections.abc import Iterator
from typing import Any

from kits.guillotine import PieceSize, SheetProblem, Turn, best_use, check_result
from planning.bench.published import published_cases
from planning.bench.row import Row, timed

OWN_SHEETS = (
    (250, 250, 10, None),
    (500, 500, 20, None),
    (1000, 1000, 50, None),
    (70, 40, 20, 3),
    (130, 100, 20, 2),
)


def sheet_rows() -> Iterator[Row]:
    """Yield a row for each published case, or for cases of our own where none are at hand."""
    for case in published_cases("best_sheet") or own_cases():
        for turn in (Turn.NONE, Turn.FREE):
            yield _row(case, turn)


def own_cases() -> Iterator[dict[str, Any]]:
    """Yield cases like the published ones: sides of a quarter to three quarters of the sheet's, worth by area.

    Where there is a limit, sides are down to a tenth of the sheet's, or else no limit would matter.
    """
    dice = random.Random(4)  # noqa: S311 - the same cases on every run
    for width, height, count, limit in OWN_SHEETS:
        share = 10 if limit else 4
        sizes = [(_side(dice, width, share), _side(dice, height, share)) for _ in range(count)]
        pieces = [{"width": w, "height": h, "value": w * h, "limit": limit} for w, h in sizes]
        sheet = {"width": width, "height": height}
        yield {"name": f"own {width} x {height}", "sheet": sheet, "pieces": pieces, "optimum": None}


def problem_of(case: dict[str, Any], turn: Turn) -> SheetProblem:
    """Return the question that a case asks."""
    listed = tuple(
        PieceSize(f"piece {number}", each["width"], each["height"], each["value"], turn, each["limit"])
        for number, each in enumerate(case["pieces"], 1)
    )
    return SheetProblem(case["sheet"]["width"], case["sheet"]["height"], listed)


def _row(case: dict[str, Any], turn: Turn) -> Row:
    problem = problem_of(case, turn)
    result, seconds = timed(lambda: best_use(problem))
    faults = check_result(problem, result)
    ended = f"{len(faults)} faults: {faults[0]}" if faults else str(result.ended)
    optimum = case["optimum"] if turn is Turn.NONE else None
    name = case["name"] if turn is Turn.NONE else f"{case['name']}, turned"
    return Row(name, optimum, result.value, result.bound, ended, seconds)


def _side(dice: random.Random, length: int, share: int) -> int:
    return dice.randint(length // share, 3 * length // 4)
