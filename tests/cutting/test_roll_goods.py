"""Many lengths from rolls of one length: published cases, each planned with proof.

A roll is a sheet one unit high, and a length a piece that is not turned.
"""

import pytest

from kits.kit import Direction
from planning.cutting.patterns import Ended, ParentSheet, PatternProblem, Wanted, plan_faults, plan_patterns

Lengths = list[tuple[int, int]]  # length and how many


def rolls(roll: int, lengths: Lengths) -> PatternProblem:
    pieces = (
        Wanted(name=f"{length}", width=length, height=1, count=count, direction=Direction.NOT_TURNED)
        for length, count in lengths
    )
    return PatternProblem(sheets=(ParentSheet(name="roll", width=roll, height=1),), pieces=tuple(pieces))


# Wikipedia, "Cutting stock problem" (a copy of it; recomputed): 5,600 mm
PAPER_MILL: Lengths = [
    *((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20)),
    *((2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)),
]


@pytest.mark.parametrize(
    ("roll", "lengths", "fewest"),
    [
        (5_600, PAPER_MILL, 73),
        # Chvatal, Linear Programming (1983), in half inches, as at neos-guide.org; a rounding heuristic reports 454
        (200, [(90, 97), (72, 610), (62, 395), (28, 211)], 453),
        # Fourer, Gay & Kernighan, AMPL: data in a course's problem set, recomputed
        (110, [(20, 48), (45, 35), (50, 24), (55, 10), (75, 8)], 47),
        # an exercise in linear programming, data as printed at brainmass 13144, recomputed
        (100, [(60, 30), (48, 50), (36, 25), (24, 90)], 77),
    ],
)
def test_the_fewest_rolls_published_are_found_and_proved(roll: int, lengths: Lengths, fewest: int) -> None:
    problem = rolls(roll, lengths)
    plan = plan_patterns(problem)
    assert (plan.sheets, int(plan.bound), plan.ended) == (fewest, fewest, Ended.PROVED)
    assert plan_faults(problem, plan) == ()


def test_the_paper_mill_wastes_no_more_than_was_published() -> None:
    # 0.401 %: 407,160 mm of 73 x 5,600
    plan = plan_patterns(rolls(5_600, PAPER_MILL))
    wanted = sum(length * count for length, count in PAPER_MILL)
    assert wanted == 407_160
    assert round(100 * (1 - wanted / (plan.sheets * 5_600)), 3) == 0.401


def test_lengths_are_cut_from_single_rolls_and_never_pooled() -> None:
    # computed: 14 in from 10 rolls of 10 yd (360 in): 25 each, so 250, where the pooled length says 257
    assert plan_patterns(rolls(360, [(14, 250)])).sheets == 10
    assert plan_patterns(rolls(360, [(14, 257)])).sheets == 11
