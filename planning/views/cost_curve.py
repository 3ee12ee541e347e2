"""What a kit costs at other counts of boxes: the curve with its jumps, and each jump in words."""

from collections.abc import Iterator
from itertools import pairwise

from django.http import HttpRequest, HttpResponse

from kits.drawing import Style, svg
from planning.curve import CurvePoint, CurveResult
from planning.run import Planned
from planning.views import words
from planning.views.curves import Axis, Spot, curve
from planning.views.parts import Drawing, Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

SAID = (
    "Each count is planned by the steps of the flow: prices, packs, suppliers, sheets to cut from, overs and services are "
    "decided anew. Sheets that several sizes share are cut by this plan's own patterns, and a crew that is too short packs "
    "by a plain rule; a search at that very count may come to a little less."
)
TICKS, NAMED = 4, 4
APART = 0.13  # of the curve's width, between counts that are named


def cost_curve(request: HttpRequest, month: int) -> HttpResponse:
    """Show the cost curve."""
    return step_page(request, month, "cost", page, "cost_curve")


def page(planned: Planned) -> Page:
    """Return the page."""
    result = planned.curve
    if result is None or not result.points:
        empty = Table(
            "Cost by count", (), (), empty="No curve yet: plan the month, with at least one box, to see it."
        )
        return Page(figures=(), sections=(Section("Cost by count", tables=(empty,)),))
    return Page(
        figures=tuple(figures(result, planned)),
        ended=SAID,
        sections=(
            Section(
                "Cost of one box by count",
                tables=(point_table(result, planned),),
                drawings=(drawing(result, planned),),
            ),
            Section("Where it jumps, and why", tables=(jump_table(result, planned),)),
        ),
    )


def figures(result: CurveResult, planned: Planned) -> Iterator[Figure]:
    """Yield the key figures."""
    club = planned.club
    here = result.near(result.at)
    if here is not None:
        yield Figure(
            words.money(here.each, club),
            f"{club.currency} a box at {words.count(here.boxes)}",
            f"{words.money(here.total, club)} ÷ {words.count(here.boxes)} = {words.money(here.each, club)}, rounded",
        )
    yield Figure(
        "–" if result.break_even is None else words.count(result.break_even),
        "boxes to break even" if result.break_even is not None else "no count here breaks even",
    )
    if result.next_cost is not None:
        yield Figure(
            words.money(result.next_cost, club),
            f"{club.currency} for the next {result.next_boxes:,} boxes",
            f"what {words.counted(result.at + result.next_boxes, 'box')} cost, less what "
            f"{words.counted(result.at, 'box')} do",
        )


def drawing(result: CurveResult, planned: Planned) -> Drawing:
    """Draw the curve from a quarter of the roster on, the roster's own count and the largest jumps named."""
    club = planned.club
    shown = [one for one in result.points if one.boxes * 4 >= result.at]
    points = [(float(one.boxes), float(one.each)) for one in shown]
    low, high = min(y for _, y in points), max(y for _, y in points)
    room = (high - low) * 0.15 or 1.0
    x = axis(points[0][0], points[-1][0] + (len(points) == 1), "{:,.0f}")
    y = axis(low - room, high + room, "{:,.2f}")
    spots = [
        Spot(f"{one.boxes:,}", one.boxes, float(one.each), Style.GAP, above=True)
        for one in largest(result, (points[-1][0] - points[0][0]) * APART)
    ]
    if (here := result.near(result.at)) is not None:
        name = f"now {here.boxes:,}: {words.money(here.each, club)}"
        spots.append(Spot(name, here.boxes, float(here.each), Style.NOTE, above=False))
    every = max(1, len(shown) // 10)
    said = "; ".join(f"{one.boxes:,} boxes at {one.each:,.2f}" for one in shown[::every])
    title = f"Cost of one box by count, in {club.currency}"
    return Drawing(
        svg(curve(title, points, spots, x, y, said), "cost-curve"), f"{title}; the largest jumps are marked."
    )


def axis(low: float, high: float, pattern: str) -> Axis:
    """Return an axis with evenly spread values."""
    return Axis(low, high, [pattern.format(low + (high - low) * at / TICKS) for at in range(TICKS + 1)])


def largest(result: CurveResult, apart: float) -> list[CurvePoint]:
    """Return the counts at which a decision moves the cost of a box most, so far from each other that words have room."""
    decided = {jump.boxes for jump in result.jumps}
    moves = [
        (abs(after.each - before.each), after)
        for before, after in pairwise(result.points)
        if after.boxes in decided and after.boxes * 3 > result.at
    ]
    found: list[CurvePoint] = []
    for _, one in sorted(moves, key=lambda move: (-move[0], move[1].boxes)):
        others = [result.at, *(each.boxes for each in found)]
        if len(found) < NAMED and all(abs(one.boxes - other) >= apart for other in others):
            found.append(one)
    return found


def point_table(result: CurveResult, planned: Planned) -> Table:
    """Return a line for about a dozen counts."""
    club = planned.club
    every = max(1, len(result.points) // 14)
    shown = [one for at, one in enumerate(result.points) if at % every == 0 or one.boxes == result.at]
    return Table(
        "Counts that were looked at",
        (
            number("Boxes"),
            number("One box", club.currency),
            number("The month", club.currency),
            number("Left of the prices", club.currency),
            number("Late"),
        ),
        [point_line(one, planned) for one in shown],
    )


def point_line(one: CurvePoint, planned: Planned) -> Line:
    """Return one count."""
    club = planned.club
    return Line(
        (
            words.count(one.boxes),
            words.money(one.each, club),
            words.money(one.total, club),
            words.money(one.profit, club),
            words.count(one.late),
        )
    )


def jump_table(result: CurveResult, planned: Planned) -> Table:
    """Return every decision that changes along the curve."""
    at = {one.boxes: one for one in result.points}
    club = planned.club
    return Table(
        "What is decided otherwise, from the count it was first seen at",
        (
            text("What changes"),
            number("Not yet at"),
            number("One box before", club.currency),
            number("and after"),
        ),
        [
            Line(
                (
                    words.sentence(jump.words),
                    words.count(jump.before),
                    words.money(at[jump.before].each, club),
                    words.money(at[jump.boxes].each, club),
                )
            )
            for jump in result.jumps
        ],
        empty="Every count looked at is decided alike.",
    )
