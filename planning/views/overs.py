"""How much over: what operations spoil, and how much to have while the count is not known."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from kits.drawing import Drawing as Drawn
from kits.drawing import Style, svg
from kits.measures import CountError, parse_count
from planning import choices, load
from planning.models import BuyFor
from planning.month import Club
from planning.overs import CurvePoint, OversProblem, StockAnswer, plan_overs
from planning.requirements import Kind, code_of, kind_of
from planning.run import Planned
from planning.views import gate, words
from planning.views.curves import Axis, Spot, curve
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

TICKS = 4


@dataclass(frozen=True, slots=True)
class Item:
    """A kit or a material on the list to choose from."""

    code: str
    name: str
    is_shown: bool
    choice: int | None


def overs(request: HttpRequest, month: int) -> HttpResponse:
    """Show the curve of one thing with its table, and keep the buyer's choice."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    planned = load.planned(plan) if plan else None
    asked = request.GET.get("item", "")
    if request.method == "POST" and planned is not None:
        return kept(request, row.pk, asked, planned)
    kept_now = dict(BuyFor.objects.filter(month=row).values_list("item", "quantity"))
    shown = shown_answer(planned, asked) if planned else None
    if shown is not None:
        shown = with_choice(shown, kept_now.get(code_of(shown.code)))
    more = {
        "items": tuple(items(planned, shown, kept_now)) if planned else (),
        "shown": shown,
        "unit": unit_of(shown) if shown else "",
        "choice": kept_now.get(code_of(shown.code)) if shown else None,
    }
    return step_page(request, month, "buying", lambda planned: page(planned, shown, kept_now), "overs", more)


# --- The buyer's choice ---


def kept(request: HttpRequest, month: int, asked: str, planned: Planned) -> HttpResponse:
    """Keep or forget a choice; a quantity that is none is told on the page, with what was typed."""
    answer = shown_answer(planned, asked)
    row = gate.month_or_404(request, month)
    back = f"{reverse('overs', args=[month])}?item={asked}"
    if answer is None:
        return redirect(back)
    code = code_of(answer.code)
    if request.POST.get("act") == "forget":
        choices.keep_quantities(row, {code: None})
        messages.success(request, f"Your choice for {answer.name} is forgotten.")
        return redirect(back)
    try:
        quantity = parse_count(request.POST.get("quantity", ""))
    except CountError as error:
        return refused(request, month, planned, answer, str(error))
    choices.keep_quantities(row, {code: quantity})
    messages.success(
        request,
        f"Kept: {quantity:,} {unit_of(answer)} of {answer.name}. Plan the month again to order for it.",
    )
    return redirect(back)


def refused(
    request: HttpRequest, month: int, planned: Planned, answer: StockAnswer, error: str
) -> HttpResponse:
    """Show the page again with what is wrong about a quantity."""
    more = {
        "items": tuple(items(planned, answer, {})),
        "shown": answer,
        "unit": unit_of(answer),
        "typed": request.POST.get("quantity", ""),
        "error": error,
    }
    made = step_page(request, month, "buying", lambda planned: page(planned, answer, {}), "overs", more)
    made.status_code = 422
    return made


def shown_answer(planned: Planned, asked: str) -> StockAnswer | None:
    """Return the answer the page is about: the one asked for, else the first."""
    answers = planned.plan.overs.stocked
    return next((one for one in answers if one.code == asked), answers[0] if answers else None)


def with_choice(answer: StockAnswer, choice: int | None) -> StockAnswer:
    """Return an answer with the choice as it is kept now, which the plan may not know yet."""
    if answer.question.chosen == choice:
        return answer
    question = replace(answer.question, chosen=choice)
    return plan_overs(OversProblem(stocked=(question,))).stocked[0]


def items(planned: Planned, shown: StockAnswer | None, kept_now: dict[str, int]) -> Iterator[Item]:
    """Yield everything there is a curve for."""
    for one in planned.plan.overs.stocked:
        kind = "whole kits: " if kind_of(one.code) is Kind.KIT else ""
        yield Item(
            one.code,
            f"{kind}{one.name}",
            shown is not None and one.code == shown.code,
            kept_now.get(code_of(one.code)),
        )


def unit_of(answer: StockAnswer) -> str:
    """Return what the answer counts in."""
    return "boxes" if kind_of(answer.code) is Kind.KIT else "units"


# --- The page ---


def page(planned: Planned, shown: StockAnswer | None, kept_now: dict[str, int]) -> Page:
    """Return the page of one thing, with all of them in a table below."""
    sections: list[Section] = []
    if shown is not None:
        sections.append(
            Section(
                f"Expected cost against quantity: {shown.name}",
                tables=(point_table(shown, planned.club),),
                drawings=(
                    Drawing(
                        svg(drawing(shown, planned.club), "overs"),
                        "What having so many is expected to cost: goods, going short, less what is left over.",
                    ),
                ),
            )
        )
    sections += [
        Section("Whole kits and materials", tables=(all_table(planned, kept_now),)),
        Section("Spoiled on the way", tables=(spoilage_table(planned),)),
    ]
    return Page(
        figures=tuple(figures(shown, planned.club)) if shown else (),
        ended=words.sentence(planned.plan.overs.ended) if shown else "",
        sections=tuple(sections),
    )


def figures(shown: StockAnswer, club: Club) -> Iterator[Figure]:
    """Yield the key figures of one thing."""
    best, unit = shown.best, unit_of(shown)
    yield Figure(
        words.count(best.quantity),
        f"{unit} to have, of which {best.order:,} to order",
        f"Expected are {plain(shown.mean)}. One more pays up to a chance of {percent(shown.ratio)} of being enough, which "
        f"{plain(shown.quantile)} reach; of what is sold, {best.quantity:,} cost least.",
    )
    yield Figure(percent(best.enough), "chance that it is enough")
    yield Figure(
        words.money(best.cost, club),
        f"{club.currency} expected cost",
        f"Goods {words.money(best.goods, club)}, {plain(best.short)} {unit} expected short and {plain(best.left)} left.",
    )
    if shown.chosen is not None:
        yield Figure(
            words.count(shown.chosen.quantity),
            f"your choice, {words.money(shown.choice_costs, club)} {club.currency} above the least",
        )


def drawing(shown: StockAnswer, club: Club) -> Drawn:
    """Draw the curve with the best point and the buyer's."""
    points = [(float(one.quantity), float(one.cost)) for one in shown.curve]
    lows, highs = (
        [min(axis) for axis in zip(*points, strict=True)],
        [max(axis) for axis in zip(*points, strict=True)],
    )
    x = axis_of(lows[0], highs[0], lambda value: f"{value:,.0f}")
    y = axis_of(lows[1], highs[1], lambda value: words.money(Decimal(round(value, 2)), club))
    spots = [
        Spot(
            f"least: {shown.best.quantity:,}", float(shown.best.quantity), float(shown.best.cost), Style.NOTE
        )
    ]
    if shown.chosen is not None:
        chosen = shown.chosen
        spots.append(
            Spot(
                f"yours: {chosen.quantity:,}",
                float(chosen.quantity),
                float(chosen.cost),
                Style.CORNER,
                above=False,
            )
        )
    said = "; ".join(f"{one.quantity:,}: {words.money(one.cost, club)}" for one in shown.curve)
    return curve(f"Expected cost of {shown.name} against quantity", points, spots, x, y, said)


def axis_of(low: float, high: float, written: Callable[[float], str]) -> Axis:
    """Return an axis between two values, with room where they are the same."""
    high = high if high > low else low + 1
    marks = [low + (high - low) * at / (TICKS - 1) for at in range(TICKS)]
    return Axis(low, high, [written(mark) for mark in marks])


def point_table(shown: StockAnswer, club: Club) -> Table:
    """Return the points of the curve as lines."""
    chosen = shown.chosen.quantity if shown.chosen else None
    return Table(
        f"So many to have, in {unit_of(shown)}",
        (
            number("To have"),
            number("To order"),
            number("Short", "expected"),
            number("Left over", "expected"),
            number("Enough"),
            number("Cost", club.currency),
        ),
        [point_line(one, shown.best.quantity, chosen, club) for one in thinned(shown)],
    )


def thinned(shown: StockAnswer) -> Sequence[CurvePoint]:
    """Return every other point of a curve, and those that are named."""
    named = {shown.best.quantity, shown.chosen.quantity if shown.chosen else None}
    return [one for at, one in enumerate(shown.curve) if at % 2 == 0 or one.quantity in named]


def point_line(one: CurvePoint, best: int, chosen: int | None, club: Club) -> Line:
    """Return one point as a line; the best and the buyer's are named."""
    marks = ["least"] * (one.quantity == best) + ["yours"] * (one.quantity == chosen)
    return Line(
        (
            words.count(one.quantity) + (f" ({', '.join(marks)})" if marks else ""),
            words.count(one.order),
            plain(one.short),
            plain(one.left),
            percent(one.enough),
            words.money(one.cost, club),
        )
    )


def all_table(planned: Planned, kept_now: dict[str, int]) -> Table:
    """Return a line for everything there is a curve for."""
    club = planned.club
    return Table(
        "What to have at the least expected cost",
        (
            text("Kit or material"),
            number("Expected"),
            number("Pays up to"),
            number("Least cost at"),
            number("To order"),
            number("Enough"),
            number("Yours"),
        ),
        [
            Line(
                (
                    Cell(one.name, sum=worked_out(one, club)),
                    plain(one.mean),
                    percent(one.ratio),
                    words.count(one.best.quantity),
                    words.count(one.best.order),
                    percent(one.best.enough),
                    words.count(kept_now[code_of(one.code)]) if code_of(one.code) in kept_now else "–",
                )
            )
            for one in planned.plan.overs.stocked
        ],
        empty="No tier’s count is uncertain. Add it to the sheet Count outlook of the month file, or fill in Past months.",
    )


def worked_out(one: StockAnswer, club: Club) -> str:
    """Return the sum behind what to have."""
    return (
        f"The quantile of {percent(one.ratio)} is {plain(one.quantile)} {unit_of(one)}. At {one.best.quantity:,}: "
        f"{words.money(one.best.goods, club)} for the goods, {plain(one.best.short)} short and {plain(one.best.left)} left "
        f"over as expected, {words.money(one.best.cost, club)} in all."
    )


def spoilage_table(planned: Planned) -> Table:
    """Return a line for each operation of each item."""
    return Table(
        "Operation by operation, the first at the top",
        (text("Item"), text("Operation"), number("Taken in"), number("Spoiled"), number("Come out good")),
        [
            Line(
                (
                    run.name,
                    one.operation,
                    words.count(one.start),
                    words.count(one.spoiled),
                    words.count(one.good),
                )
            )
            for run in planned.plan.overs.runs
            for one in run.passes
        ],
        empty="No item is told by its operations; materials and pre-cuts have a percentage and a count each. "
        "Add rows to the sheet Spoilage of the month file.",
    )


def plain(figure: Decimal) -> str:
    """Return an expected count to one decimal."""
    return f"{figure:,.1f}"


def percent(chance: Decimal) -> str:
    """Return a chance in percent."""
    return f"{100 * chance:.1f} %"
