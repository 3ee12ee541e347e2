"""How many boxes the months ahead may send: the fan, by which method and how it did, and what somebody knows better."""

from collections.abc import Iterator
from decimal import Decimal
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from kits import models as kits
from kits.drawing import svg
from planning.forecast import ForecastResult, Method, MonthAhead
from planning.forecast.model import month_of, serial
from planning.models import CountByHand
from planning.run import Planned
from planning.views import gate, words
from planning.views.curves import Axis
from planning.views.fans import Ahead, fan
from planning.views.month_over import month_over
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

SHOWN_PAST = 18  # months of the past in the picture
TICKS = 4


def months_ahead(request: HttpRequest, month: int) -> HttpResponse:
    """Show the months ahead."""
    row = gate.month_or_404(request, month)
    more = {"may_set": gate.may_change(request, "by_hand")}
    over = month_over(row) if "over" in request.GET else ()
    return step_page(request, month, "cost", lambda planned: page(planned, row, over), "months_ahead", more)


def page(planned: Planned, row: kits.Month, over: tuple[Section, ...] = ()) -> Page:
    """Return the page; what is written where there is no past to forecast from. over: what this month adds to it."""
    found = planned.plan.forecast
    if found is None:
        said = "Less than two months are told of. Fill in the sheet Past months, and who stayed if that is known."
        return Page(
            figures=(),
            sections=(*over, Section("Months ahead", tables=(Table("", (text("Month"),), [], empty=said),))),
        )
    return Page(
        figures=tuple(figures(found)),
        ended=" ".join(map(words.sentence, (f"{method_of(found).name}: {found.why}", *found.notes))),
        sections=(
            *over,
            Section(
                "Boxes of the months ahead",
                tables=(month_table(found, row),),
                drawings=(Drawing(drawing(found), CAPTION),),
            ),
            Section("Where each month comes from", tables=(flow_table(found),)),
            Section("How each method did", tables=(method_table(found),)),
            Section("How members stay", tables=(kept_table(found),)),
            Section("The past", tables=(past_table(found),), folded=True),
        ),
    )


CAPTION = (
    "The past as a line, then the middle of the forecast. As many as in the darker band come with 25 to 75 %, in the wider "
    "one with 10 to 90 %."
)


def figures(found: ForecastResult) -> Iterator[Figure]:
    """Yield the next months' counts."""
    for one in found.months[:3]:
        by_hand = f" Set by hand: {one.override.why}." if one.override else ""
        yield Figure(
            words.count(one.boxes(50)),
            f"boxes in {one.month.title}, from {one.boxes(10):,} to {one.boxes(90):,}",
            f"With 10 % no more than {one.boxes(10):,}, with 50 % no more than {one.boxes(50):,}, with 90 % no more than "
            f"{one.boxes(90):,}.{by_hand}",
        )


def method_of(found: ForecastResult) -> Method:
    """Return the method that is followed."""
    return next(one for one in found.methods if one.key == found.method)


def past_of(found: ForecastResult) -> list[tuple[str, int]]:
    """Return the months of the past with their boxes."""
    first = serial(found.months[0].month) - len(found.boxes)
    return [(month_of(first + at).title, boxes) for at, boxes in enumerate(found.boxes)]


def drawing(found: ForecastResult) -> str:
    """Draw the fan."""
    past = [(short(name), boxes) for name, boxes in past_of(found)[-SHOWN_PAST:]]
    ahead = [
        Ahead(
            short(one.month.title),
            (one.boxes(10), one.boxes(25), one.boxes(50), one.boxes(75), one.boxes(90)),
        )
        for one in found.months
    ]
    counts = [*(boxes for _, boxes in past), *(count for one in ahead for count in one.counts)]
    low, high = min(counts), max(*counts, min(counts) + TICKS)
    marks = [round(low + (high - low) * at / (TICKS - 1)) for at in range(TICKS)]
    said = "; ".join(
        f"{one.name}: {one.counts[0]:,} to {one.counts[4]:,}, middle {one.counts[2]:,}" for one in ahead
    )
    y = Axis(low, high, [f"{mark:,}" for mark in marks])
    return svg(fan("Boxes month by month", past, ahead, y, said), "fan")


def month_table(found: ForecastResult, row: kits.Month) -> Table:
    """Return a line for each month ahead."""
    by_hand = CountByHand.objects.filter(month=row)
    kept = {str(when): place for when, place in by_hand.values_list("in_month", "position")}
    return Table(
        "Boxes not passed with this chance",
        (text("Month"), number("10 %"), number("50 %"), number("90 %"), text("By hand")),
        [month_line(one, kept.get(str(one.month)), row) for one in found.months],
    )


def month_line(one: MonthAhead, place: int | None, row: kits.Month) -> Line:
    """Return a month as a line, with where somebody says what they know better."""
    asked = {"sheet": "by_hand"} | (
        {"at": str(place)}
        if place is not None
        else {
            "in_month": str(one.month),
            "low": str(one.boxes(5)),
            "likely": str(one.boxes(50)),
            "high": str(one.boxes(95)),
        }
    )
    said = (
        f"{one.override.why}"
        if one.override
        else "set by hand from the next plan on"
        if place is not None
        else "set by hand"
    )
    return Line(
        (
            one.month.title,
            *(words.count(one.boxes(percent)) for percent in (10, 50, 90)),
            Cell(said, href=f"{reverse('row', args=[row.pk])}?{urlencode(asked)}"),
        )
    )


def flow_table(found: ForecastResult) -> Table:
    """Return what is expected to join and to leave, and what was found before anybody knew better."""
    return Table(
        "As expected on the average of all that may come",
        (
            text("Month"),
            number("Join"),
            number("Leave"),
            number("Announced"),
            number("Boxes"),
            number("10 to 90 %"),
            number("By hand", "low, likely, high"),
        ),
        [
            Line(
                (
                    one.month.title,
                    plain(one.joins),
                    plain(one.leaves),
                    f"{one.announced:+,}" if one.announced else "–",
                    plain(one.mean),
                    f"{int(one.found.points[10].count):,} to {int(one.found.points[90].count):,}",
                    f"{one.override.low:,}, {one.override.likely:,}, {one.override.high:,}"
                    if one.override
                    else "–",
                )
            )
            for one in found.months
        ],
    )


def method_table(found: ForecastResult) -> Table:
    """Return a line for each method with how it did, told only what was known by then."""
    return Table(
        "Tried on the last year's months, told only what was known before each",
        (
            text("Method"),
            number("Tries"),
            number("Off on average", "boxes"),
            number("Of naive"),
            number("Within 10 to 90 %"),
        ),
        [
            Line(
                (
                    one.name + (" (followed)" if one.key == found.method else ""),
                    words.count(one.tries) if one.tries else "–",
                    "–" if one.error is None else plain(one.error),
                    "–" if one.share is None else f"{one.share:.0f} %",
                    "–" if one.held is None else f"{one.held:.0f} %",
                )
            )
            for one in found.methods
        ],
    )


def kept_table(found: ForecastResult) -> Table:
    """Return the two ways in which members stay."""
    kept = found.kept
    lines = [Line(("One rate of loss for all", f"{kept.flat} % a month", figure(kept.flat_log_likelihood)))]
    if kept.alpha is not None and kept.beta is not None:
        first = 100 * kept.alpha / (kept.alpha + kept.beta) if kept.alpha + kept.beta else Decimal(0)
        edge = "; the past says no more than that all are alike" if kept.at_edge else ""
        shape = f"alpha {kept.alpha:.3f}, beta {kept.beta:.3f}: {first:.1f} % lost in the first month{edge}"
        lines.append(
            Line(("Each a rate of their own (shifted beta-geometric)", shape, figure(kept.log_likelihood)))
        )
    return Table("Of greatest likelihood", (text("Way"), text("Shape"), number("Log-likelihood")), lines)


def past_table(found: ForecastResult) -> Table:
    """Return the past month by month."""
    return Table(
        "Boxes sent",
        (text("Month"), number("Boxes")),
        [Line((name, words.count(boxes))) for name, boxes in reversed(past_of(found))],
    )


def short(title: str) -> str:
    """Return a month's title with its name in three letters, for the picture."""
    name, year = title.split()
    return f"{name[:3]} {year}"


def plain(value: Decimal) -> str:
    """Return an expected count to one decimal."""
    return f"{value:,.1f}"


def figure(value: Decimal | None) -> str:
    """Return a figure that may not be there."""
    return "–" if value is None else f"{value:,.2f}"
