"""The best use of one sheet against published figures.

Each figure stands beside its source. "computed": an exact programme written apart from this project gave it.
"""

import json
import os
import time
from fractions import Fraction
from math import lcm
from pathlib import Path
from statistics import median
from typing import Any, TypeAlias

import pytest

from kits.guillotine import (
    Ended,
    PieceSize,
    SheetProblem,
    SheetResult,
    Turn,
    best_use,
    check_result,
    count_pieces,
    number_out,
    piece_area,
)
from kits.guillotine.points import side
from kits.measures import INCH, MM

CASES = "PUBLISHED_CUTTING_CASES"


Size: TypeAlias = tuple[str, str]


def out_of(sheet: Size, piece: Size, turn: Turn = Turn.FREE) -> SheetResult:
    """Sizes such as `3 1/7` are taken in the largest unit in which all are whole: not all are on a ruler."""
    exact = [sum((Fraction(part) for part in size.split()), Fraction(0)) for size in (*sheet, *piece)]
    unit = lcm(*(size.denominator for size in exact))
    width, height, piece_width, piece_height = (int(size * unit) for size in exact)
    return number_out(width, height, piece_width, piece_height, turn)


ROBINSON = "Robinson & Abney, The Art and Practice of Silver Printing (1881), ch. VII"
DAWE = "sheets and sizes: Dawe, Paper and Its Uses (1914), p. 139; counts computed"


@pytest.mark.parametrize(
    ("sheet", "piece", "out", "source"),
    [
        (("17", "22"), ("8.5", "11"), 4, "printers' example of counting by cancelling"),
        (("18", "22"), ("3", "3 1/7"), 42, ROBINSON),
        (("18", "22"), ("3", "3 2/3"), 36, ROBINSON),
        (("18", "22"), ("4.5", "2.75"), 32, ROBINSON),
        (("18", "22"), ("4 2/5", "6"), 15, ROBINSON),
        (("52", "38"), ("5", "5"), 70, "practice question of a school entrance test (TEAS), cm"),
        (("54", "1"), ("2.25", "1"), 24, "Lial, Basic College Mathematics, 10th ed., p. 194 no. 20: a strip"),
        (("25.5", "30.5"), ("5", "3"), 50, DAWE),
        (("25.5", "30.5"), ("6", "4"), 30, DAWE),
        (("25.5", "30.5"), ("8", "5"), 18, DAWE),
        (("20.5", "25.5"), ("5", "3"), 33, DAWE),
        (("20.5", "25.5"), ("6", "4"), 20, DAWE),
        (("20.5", "25.5"), ("8", "5"), 12, DAWE),
        (("133", "95"), ("6.5", "4.5"), 429, "sheet and piece: Singapore primary-5 question 1234; computed"),
        (("12", "12"), ("4.25", "6.25"), 3, "worked by hand below"),
    ],
)
def test_the_number_out_is_the_published_one(sheet: Size, piece: Size, out: int, source: str) -> None:
    result = out_of(sheet, piece)

    assert (result.value, result.ended) == (out, Ended.PROVED), source


def test_a_mat_of_4_1_4_by_6_1_4_comes_three_times_out_of_12_by_12() -> None:
    # In quarter inches 17 x 25 on 48 x 48. For four, a part with two of them would have to lie on one side of the
    # first cut; it is 25 to 31 across and leaves at most 23, which holds one.
    assert number_out(12 * INCH, 12 * INCH, 17 * INCH // 4, 25 * INCH // 4).value == 3


def test_one_way_round_only_gives_the_schoolbook_product() -> None:
    # Singapore primary-5 question 1234: 133 x 95 cm into 6.5 x 4.5 cm, 20 x 21 of them.
    assert out_of(("133", "95"), ("6.5", "4.5"), Turn.NONE).value == 420
    # Index board 20.5 x 25.5 in, 5 x 3 in pieces one way round: 32 (computed).
    assert out_of(("25.5", "20.5"), ("3", "5"), Turn.NONE).value == 32


@pytest.mark.parametrize(
    ("sheet", "piece", "as_given", "turned", "best"),
    [
        (("25", "38"), ("8.5", "11"), 6, 8, 8),
        (("23", "35"), ("8.5", "11"), 6, 8, 8),
        (("17", "22"), ("5.5", "8.5"), 6, 8, 8),
        (("12", "18"), ("4", "6"), 9, 8, 9),
        (("12", "12"), ("4", "6"), 6, 6, 6),
        (("12", "12"), ("3", "4"), 12, 12, 12),
        (("12", "12"), ("4.25", "5.5"), 4, 4, 4),
        (("12", "12"), ("2.5", "3.5"), 12, 12, 14),
        (("8.5", "11"), ("4", "6"), 2, 2, 3),
        (("8.5", "11"), ("4.25", "5.5"), 4, 2, 4),
        (("20", "26"), ("8.5", "11"), 4, 3, 5),
        (("26", "40"), ("8.5", "11"), 9, 8, 10),
        (("25", "38"), ("6", "9"), 16, 12, 16),
        (("25", "38"), ("4", "6"), 36, 36, 38),
        (("320", "450"), ("210", "297"), 1, 2, 2),
        (("297", "420"), ("105", "148"), 4, 8, 8),
        (("210", "297"), ("105", "148"), 4, 2, 4),
        (("297", "420"), ("102", "152"), 4, 4, 6),
    ],
)
def test_mixed_ways_round_reach_the_computed_number_out(
    sheet: Size, piece: Size, as_given: int, turned: int, best: int
) -> None:
    # The rule of the two products: Spicers, two-way division of a sheet; all three columns computed.
    assert out_of(sheet, piece, Turn.NONE).value == as_given
    assert out_of(sheet, piece, Turn.QUARTER).value == turned
    result = out_of(sheet, piece)
    assert (result.value, result.ended) == (best, Ended.PROVED)


def phidias(turn: Turn) -> SheetProblem:
    """IOI 2004, Athens, second day, task Phidias: a marble slab into blocks."""
    sizes = ((10, 4), (6, 2), (7, 5), (15, 10))
    return SheetProblem(21, 11, tuple(PieceSize(f"{w} x {h}", w, h, turn=turn) for w, h in sizes))


def test_the_marble_of_phidias_leaves_10() -> None:
    result = best_use(phidias(Turn.NONE))

    assert (21 * 11 - result.value, result.ended) == (10, Ended.PROVED)  # the task's own example


def test_the_doubled_marble_of_phidias_leaves_40_with_3_3_2_0() -> None:
    # From a public collection of worked problems: 42 x 22 into 12 x 4, 14 x 10, 20 x 8, 30 x 20.
    listed = tuple(PieceSize(f"{w}", w, h, turn=Turn.NONE) for w, h in ((12, 4), (14, 10), (20, 8), (30, 20)))

    result = best_use(SheetProblem(42, 22, listed))

    assert (42 * 22 - result.value, result.ended) == (40, Ended.PROVED)
    assert count_pieces(result.tree) == {"12": 3, "14": 3, "20": 2}


def test_the_marble_of_phidias_leaves_6_where_blocks_may_turn() -> None:
    assert 21 * 11 - best_use(phidias(Turn.FREE)).value == 6  # computed


def test_lengths_in_inches_and_millimetres_give_the_same_as_plain_numbers() -> None:
    assert number_out(12 * INCH, 12 * INCH, 5 * INCH // 2, 7 * INCH // 2).value == 14
    assert number_out(297 * MM, 420 * MM, 102 * MM, 152 * MM).value == 6


# --- Cases with many pieces, from a file named in the environment ---


@pytest.fixture(scope="module")
def published() -> dict[str, dict[str, Any]]:
    path = os.environ.get(CASES, "")
    if not path:
        reason = f"{CASES} does not name the file of published cutting cases"
        pytest.fail(reason) if os.environ.get("REQUIRE_ALL") == "1" else pytest.skip(reason)
    return {case["name"]: case for case in json.loads(Path(path).read_text())["cases"]}


def problem_of(case: dict[str, Any], turn: Turn) -> SheetProblem:
    listed = tuple(
        PieceSize(f"piece {number}", each["width"], each["height"], each["value"], turn, each["limit"])
        for number, each in enumerate(case["pieces"], 1)
    )
    return SheetProblem(case["sheet"]["width"], case["sheet"]["height"], listed)


@pytest.mark.parametrize("number", range(1, 13))
def test_the_best_use_of_beasleys_sheets_is_the_published_one(
    published: dict[str, dict[str, Any]], number: int
) -> None:
    # Beasley, J. Oper. Res. Soc. 36 (1985) 297-306; Cintra et al., Eur. J. Oper. Res. 191 (2008) 61-85.
    case = published[f"gcut{number}"]
    problem = problem_of(case, Turn.NONE)

    result = best_use(problem)

    assert (result.value, result.ended) == (case["optimum"], Ended.PROVED)
    assert piece_area(result.tree) == result.value
    assert check_result(problem, result) == ()


@pytest.mark.parametrize("turn", [Turn.NONE, Turn.FREE])
def test_each_of_beasleys_first_twelve_sheets_takes_at_most_a_twentieth_of_a_second(
    published: dict[str, dict[str, Any]], turn: Turn
) -> None:
    for number in range(1, 13):
        problem = problem_of(published[f"gcut{number}"], turn)
        assert shortest_time(problem) <= 0.05, number


# Optima proved in Furini, Malaguti & Thomopulos, INFORMS J. Comput. 28 (2016), as the file of cases says.
@pytest.mark.parametrize("name", ["cgcut1", "cgcut2", "cgcut3", "OF1", "OF2", "wang20", "A1", "A2", "A3"])
def test_the_best_use_within_limits_is_the_published_one(
    published: dict[str, dict[str, Any]], name: str
) -> None:
    case = published[name]
    problem = problem_of(case, Turn.NONE)

    result = best_use(problem)

    assert (result.value, result.ended) == (case["optimum"], Ended.PROVED)
    assert check_result(problem, result) == ()


@pytest.mark.parametrize("turn", [Turn.NONE, Turn.FREE])
def test_the_published_sheets_with_limits_take_at_most_ten_seconds_and_half_of_them_half_a_second(
    published: dict[str, dict[str, Any]], turn: Turn
) -> None:
    limited = [
        case for case in published.values() if case["kind"] == "best_sheet" and case["pieces"][0]["limit"]
    ]
    assert limited

    times = [shortest_time(problem_of(case, turn)) for case in limited]

    assert max(times) <= 10
    assert median(times) <= 0.5


def shortest_time(problem: SheetProblem) -> float:
    """The shortest of three: what else the machine does at the moment is no part of it."""
    times = []
    for _ in range(3):
        side.cache_clear()
        start = time.perf_counter()
        best_use(problem)
        times.append(time.perf_counter() - start)
    return min(times)
