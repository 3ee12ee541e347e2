"""The rule of the cost curve: the month decided anew for each count, by the steps of the flow themselves.

Nothing is drawn between two points and nothing is guessed: each is what `plan_month` costs with that roster, the
sheets cut by the patterns that are known, and boxes packed by the plain rule. Prices, packs, suppliers, sheets to cut from,
overs, services and late boxes are all decided anew.
"""

from collections.abc import Callable
from decimal import Decimal

from planning.curve.jumps import choices_of, jumps
from planning.curve.model import LEAST, MOST, NEXT, CurvePoint, CurveProblem, CurveResult
from planning.curve.scale import scaled_roster
from planning.flow import Decided, decide

At = Callable[[int], CurvePoint]


def plan_curve(problem: CurveProblem) -> CurveResult:
    """Cost the month at each count. A roster without boxes has no curve."""
    at = problem.roster.boxes
    looked = [(point_of(done, problem), choices_of(done, problem.month)) for done in decided(problem)]
    points = [point for point, _ in looked]

    def point(boxes: int) -> CurvePoint:
        return point_of(decided_at(problem, boxes), problem)

    return CurveResult(
        points=tuple(points),
        at=at,
        jumps=tuple(jumps(looked)),
        break_even=break_even(points, point),
        next_boxes=NEXT,
        next_cost=point(at + NEXT).total - point(at).total if at else None,
    )


def decided(problem: CurveProblem) -> list[Decided]:
    """Decide the month at each count."""
    return [decided_at(problem, boxes) for boxes in counts(problem)]


def decided_at(problem: CurveProblem, boxes: int) -> Decided:
    """Decide the month with so many boxes."""
    roster = scaled_roster(problem.roster, boxes)
    return decide(problem.month, problem.contents, roster, known=problem.known)


def counts(problem: CurveProblem) -> list[int]:
    """Return the counts to look at, the roster's own among them."""
    boxes = problem.roster.boxes
    if not boxes:
        return []
    low, high = -(-boxes // LEAST), boxes * MOST
    steps = max(1, problem.points - 1)
    return sorted({*(low + (high - low) * step // steps for step in range(steps + 1)), boxes})


def point_of(done: Decided, problem: CurveProblem) -> CurvePoint:
    """Return what one count comes to."""
    return CurvePoint(
        boxes=done.roster.boxes,
        total=done.cost.total,
        income=sum((column.price * column.boxes for column in done.cost.columns), Decimal(0)),
        late=sum(load.boxes for load in done.shipping.late)
        + sum(one.boxes for one in done.shipping.unsendable),
        exponent=done.cost.columns[0].exponent if done.cost.columns else 2,
    )


def break_even(points: list[CurvePoint], at: At) -> int | None:
    """Return the least count from which on no point loses money, to the box between the two points on either side."""
    losing = [place for place, one in enumerate(points) if one.profit < 0]
    if not points or (losing and losing[-1] == len(points) - 1):
        return None
    if not losing:
        return points[0].boxes
    low, high = points[losing[-1]].boxes, points[losing[-1] + 1].boxes
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if at(middle).profit < 0 else (low, middle)
    return high
