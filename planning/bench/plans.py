"""Plans of patterns, case by case: published ones, months of paper, several sheets with prices, few copies of many."""

import random
import time
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from kits.catalogue import Grain
from kits.guillotine import EdgeTrim
from kits.kit import Direction
from kits.measures import INCH, MM
from planning.bench.published import published_cases
from planning.bench.row import Row
from planning.cutting.patterns import ParentSheet, PatternPlan, PatternProblem, Wanted, improve, plan_faults

IN = INCH // 16  # the mark of the ruler in inches
WAYS = {False: Direction.NOT_TURNED, True: Direction.ANY}
MATS = (
    (68, 100),
    (64, 96),
    (48, 80),
    (40, 56),
    (36, 52),
    (32, 48),
    (24, 40),
    (16, 60),
)  # sixteenths of an inch
CARDS = (
    *((105, 148), (74, 105), (98, 134), (62, 93), (120, 170), (55, 85)),
    *((50, 50), (90, 130), (45, 60), (148, 210), (40, 120), (80, 80)),
)  # millimetres
ANY_GRAIN = (Direction.ANY, Direction.GRAIN_ALONG_WIDTH, Direction.GRAIN_ALONG_HEIGHT, Direction.NOT_TURNED)


def plan_rows() -> Iterator[Row]:
    """Yield a row for each case."""
    yield from published_rows()
    for name, optimum, problem in (*_months(), *_priced(), *_few()):
        yield _row(name, optimum, problem)


def published_rows() -> Iterator[Row]:
    """Yield a row for each published case, with pieces as given and with pieces that may turn."""
    for name, optimum, problem in _published():
        yield _row(name, optimum, problem)


def _row(name: str, optimum: int | None, problem: PatternProblem) -> Row:
    begun, first, plan = time.perf_counter(), 0.0, None
    for plan in improve(problem):  # noqa: B007 - the last is the best
        first = first or time.perf_counter() - begun
    seconds = time.perf_counter() - begun
    assert plan is not None  # noqa: S101
    return Row(name, optimum, _whole(plan.cost), _whole(plan.bound), _ended(problem, plan, first), seconds)


def _ended(problem: PatternProblem, plan: PatternPlan, first: float) -> str:
    faults = plan_faults(problem, plan)
    if faults:
        return f"{len(faults)} faults: {faults[0]}"
    return f"{plan.ended}, gap {float(plan.gap):.3%}, {len(plan.patterns)} patterns, first plan {first:.2f} s"


def _whole(figure: Fraction) -> int | Fraction:
    return int(figure) if figure.denominator == 1 else figure


def _published() -> Iterator[tuple[str, int | None, PatternProblem]]:
    """Yield the published cases; where only the sizes are, the numbers wanted are our own."""
    cases = {case["name"]: case for case in published_cases("fewest_sheets")}
    for case in published_cases("best_sheet"):
        name = f"{case['name']}d"
        if case["name"].startswith("gcut") and name not in cases:
            dice = random.Random(name)  # noqa: S311 - the same cases on every run
            pieces = [{**piece, "demand": dice.randint(1, 100)} for piece in case["pieces"]]
            cases[f"{name}, own numbers"] = {**case, "pieces": pieces, "optimum": None}
    for name, case in cases.items():
        for turns in (False, True):
            yield f"{name}{', turned' * turns}", None if turns else case["optimum"], _problem_of(case, turns)


def _problem_of(case: dict[str, Any], turns: bool) -> PatternProblem:
    sheet = ParentSheet(name="sheet", width=case["sheet"]["width"], height=case["sheet"]["height"])
    sizes = [(piece["width"], piece["height"], piece["demand"]) for piece in case["pieces"]]
    return PatternProblem(pieces=_wanted(sizes, WAYS[turns]), sheets=(sheet,))


def _wanted(sizes: list[tuple[int, int, int]], direction: Direction) -> tuple[Wanted, ...]:
    return tuple(
        Wanted(name=f"piece {number}", width=width, height=height, count=count, direction=direction)
        for number, (width, height, count) in enumerate(sizes, 1)
    )


def _months() -> Iterator[tuple[str, None, PatternProblem]]:
    sheets = {
        "25 x 38 in": ParentSheet(name="25 x 38 in", width=25 * INCH, height=38 * INCH),
        "640 x 900 mm": ParentSheet(name="640 x 900 mm", width=640 * MM, height=900 * MM),
    }
    for name, unit, sizes, kits in (
        ("25 x 38 in", IN, MATS, 5000),
        ("640 x 900 mm", MM, CARDS, 1200),
        ("25 x 38 in", IN, None, 1900),
        ("640 x 900 mm", MM, None, 3100),
    ):
        dice = random.Random(f"{name} {kits}")  # noqa: S311
        low, high = (24, 110) if unit == IN else (40, 200)
        drawn = sizes or [(dice.randint(low, high), dice.randint(low, high)) for _ in range(10)]
        listed = [(w * unit, h * unit, kits * dice.randint(1, 4)) for w, h in drawn]
        for turns in (False, True):
            problem = PatternProblem(pieces=_wanted(listed, WAYS[turns]), sheets=(sheets[name],))
            drawn_by = "" if sizes else "drawn, "
            yield f"{kits:,} kits, {drawn_by}{name}{', turned' * turns}", None, problem


def _priced() -> Iterator[tuple[str, None, PatternProblem]]:
    """Three sheets with prices, their grain and an edge trim; pieces that ask for the grain and some that do not."""
    offers: tuple[tuple[str, int, int, tuple[tuple[int, int, int], ...]], ...] = (
        ("3 sheets, 1/16 in", IN, 2, ((400, 608, 231), (368, 560, 197), (304, 416, 119))),
        ("3 sheets, mm", MM, 5, ((640, 900, 31), (700, 1000, 38), (450, 640, 16))),
    )
    for name, unit, trim, sizes in offers:
        for seed in (50, 52):
            dice = random.Random(seed)  # noqa: S311
            low, high = (24, 110) if unit == IN else (40, 200)
            kits = dice.randint(1200, 5000)
            pieces = tuple(
                Wanted(
                    name=f"piece {number}",
                    width=dice.randint(low, high) * unit,
                    height=dice.randint(low, high) * unit,
                    count=kits * dice.randint(1, 4),
                    direction=dice.choice(ANY_GRAIN),
                )
                for number in range(1, 11)
            )
            sheets = tuple(
                ParentSheet(
                    name=f"{width} x {height}",
                    width=width * unit,
                    height=height * unit,
                    price=Fraction(price, 100),
                    grain=Grain.WIDTH if width == sizes[1][0] else Grain.HEIGHT,
                    edge_trim=EdgeTrim(*[trim * unit] * 4),
                )
                for width, height, price in sizes
            )
            yield f"{name}, {kits:,} kits", None, PatternProblem(pieces=pieces, sheets=sheets)


def _few() -> Iterator[tuple[str, None, PatternProblem]]:
    """Many sizes, each wanted once or twice."""
    for side, low, high in ((100, 10, 100), (300, 10, 100), (100, 1, 50)):
        for count in (60, 100):
            dice = random.Random(f"{side} {high} {count}")  # noqa: S311
            sizes = [
                (dice.randint(low, high), dice.randint(low, high), dice.randint(1, 2)) for _ in range(count)
            ]
            sheet = ParentSheet(name="sheet", width=side, height=side)
            for turns in (False, True):
                name = f"{count} sizes {low}-{high} on {side}{', turned' * turns}"
                yield name, None, PatternProblem(pieces=_wanted(sizes, WAYS[turns]), sheets=(sheet,))
