"""The cost curve of the demo month, and one variant beside it, against their limits in the processor's seconds."""

from collections.abc import Iterator
from time import process_time

from planning.bench.row import Row
from planning.cost.rows import ChangeKind, VariantLine
from planning.curve import CurveProblem, plan_curve, what_if
from planning.demo import demo_month
from planning.flow import plan_month
from planning.problems import roster_problem

COUNTS, MOST_SECONDS = 200, 1


def curve_rows() -> Iterator[Row]:
    """Yield a row for the curve and one for a variant; the plan they follow from is not counted."""
    month = demo_month()
    plan = plan_month(month, quick=True)
    asked = CurveProblem(
        month=month, contents=plan.contents, roster=plan.roster, known=plan.cutting, points=COUNTS
    )
    begun = process_time()
    found = plan_curve(asked)
    seconds = process_time() - begun
    told = f"{len(found.jumps)} decisions change; {limit(seconds)}"
    yield Row("cost curve, counts", None, len(found.points), None, told, seconds)
    lines = (VariantLine(variant="more", change=ChangeKind.BOXES, value="1500"),)
    begun = process_time()
    other = what_if("more", lines, month, roster_problem(month), plan.cutting)
    seconds = process_time() - begun
    told = f"{len(other.changed)} figures differ; {limit(seconds)}"
    yield Row("what if, boxes", None, other.boxes, None, told, seconds)


def limit(seconds: float) -> str:
    """Say whether the limit is kept."""
    return f"at most {MOST_SECONDS} s: {'reached' if seconds <= MOST_SECONDS else 'MISSED'}"
