"""The shipping step: which day and service each box leaves by."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from django.http import HttpRequest, HttpResponse

from kits.drawing import svg
from kits.measures import CM
from planning.calendar import DAY, Weekday
from planning.cost import Heading
from planning.names import contents_words
from planning.postage import PostParcel, Quote
from planning.problems.postage import Fares
from planning.run import Planned
from planning.shipping import DayLoad, Load
from planning.views import words
from planning.views.crew_calendar import crew_calendar
from planning.views.drawings import Bar, upright_bars
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Strip, Table, number, text, when
from planning.views.steps import step_page


def shipping(request: HttpRequest, month: int) -> HttpResponse:
    """Show when each box leaves."""
    return step_page(request, month, "shipping", page)


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result = planned.plan.shipping
    late = sum(load.boxes for load in result.late)
    return Strip(
        figure=Figure(
            words.count(result.boxes - late),
            f"in time by {end_of_week(planned)}; {late or 'none'} late",
        ),
        words=words.sentence(result.ended),
        drawing=drawing(planned, small=True) if result.days else "",
        deadline=last_collection(planned),
        needs=tuple(needs(planned)),
    )


def end_of_week(planned: Planned) -> str:
    """Return the last day of the promised week on which parcels arrive, in words."""
    return f"the end of the promised week, {words.weekday(planned.promised)}"


def last_collection(planned: Planned) -> str:
    """Return the day the last box that is in time is collected."""
    days = [load.collected for load in planned.plan.shipping.loads if not load.late]
    return f"Last collection in time {words.weekday(max(days))}" if days else ""


def needs(planned: Planned) -> list[str]:
    """Return what is late and what cannot be sent, by class."""
    result = planned.plan.shipping
    late = [
        f"{words.counted(load.boxes, 'box', 'boxes')} to {load.box_class.destination} would arrive "
        f"{words.weekday(load.arrives)} ({contents_words(load.box_class.contents, planned.names)})."
        for load in result.late
    ]
    stuck = [
        f"{words.counted(one.boxes, 'box', 'boxes')} of {contents_words(one.box_class.contents, planned.names)} to "
        f"{one.box_class.destination} cannot be sent: {one.words}."
        for one in result.unsendable
    ]
    return late + stuck


def class_name(load: Load, planned: Planned) -> str:
    """Return a load's contents and zones in words."""
    return f"{contents_words(load.box_class.contents, planned.names)} to {load.box_class.destination}"


def page(planned: Planned) -> Page:
    """Return the step's own page."""
    result, club = planned.plan.shipping, planned.club
    late = sum(load.boxes for load in result.late)
    early = result.arriving_before(club.promised.day(Weekday.MON))
    return Page(
        figures=(
            Figure(
                words.count(result.boxes - late),
                f"boxes in time, by {end_of_week(planned)}",
                f"{result.boxes:,} with a day and a service − {late:,} late = {result.boxes - late:,}; "
                f"{early:,} of them arrive before the week begins",
            ),
            Figure(words.count(late), "boxes late", words.added((load.boxes for load in result.late), late)),
            Figure(
                words.money(result.postage, club),
                f"{club.currency} postage",
                words.added(postage_sums(planned), words.money(result.postage, club)),
            ),
            *overtime_figure(planned),
        ),
        ended=words.sentence(result.ended),
        sections=(
            Section("The crew's days", tables=(day_table(planned),), drawings=calendar_drawing(planned)),
            Section("What leaves when", tables=(load_table(planned),)),
            Section("What cannot be in time", tables=(late_table(planned), *blame_tables(planned))),
        ),
    )


def overtime_figure(planned: Planned) -> Iterator[Figure]:
    """Yield what overtime costs, where there is any."""
    result, club = planned.plan.shipping, planned.club
    if result.overtime:
        paid = words.money(planned.plan.cost.heading_total(Heading.OVERTIME), club)
        by_day = (f"{words.day(one.day)} {one.overtime:,.0f} min" for one in result.days if one.overtime)
        why = f"{', '.join(by_day)}; at {words.money(result.overtime_cost, club)} an hour"
        yield Figure(paid, f"{club.currency} overtime, {result.overtime:,.0f} min", why)


def calendar_drawing(planned: Planned) -> tuple[Drawing, ...]:
    """Return the crew's days as a calendar, nothing where there are none."""
    days = planned.plan.shipping.days
    return (Drawing(svg(crew_calendar(days, said_of(days)), "crew-calendar")),) if days else ()


def said_of(days: Sequence[DayLoad]) -> str:
    """Return what a drawing of the days shows, in words."""
    return "; ".join(
        f"{words.day(day.day)}: {day.minutes:.0f} of {day.capacity:,} min"
        f"{f', of them {day.overtime:.0f} overtime' if day.overtime else ''}, {day.boxes:,} boxes"
        for day in days
    )


def blame_tables(planned: Planned) -> Iterator[Table]:
    """Yield what is to blame for late boxes, and what one more hour or day would buy."""
    result, club = planned.plan.shipping, planned.club
    if result.blame:
        yield Table(
            "What is to blame",
            (text("Cause"), number("Boxes"), text("Why")),
            [Line((one.cause.capitalize(), words.count(one.boxes), one.words)) for one in result.blame],
        )
    if result.gains:
        yield Table(
            "What one more hour or day would buy, sought anew with it",
            (
                text("With"),
                number("Fewer late", "boxes"),
                number("Fewer days late"),
                number("Saves", club.currency),
                text("Proved"),
            ),
            [
                Line(
                    (
                        one.what,
                        words.count(one.fewer),
                        words.count(one.days),
                        words.money(one.saves, club),
                        "yes" if one.proved else "at least, as far as was sought",
                    )
                )
                for one in result.gains
            ],
        )


def postage_sums(planned: Planned) -> Iterator[str]:
    """Yield the postage of each service."""
    loads = sorted(planned.plan.shipping.loads, key=lambda load: load.service.name)
    for name, together in groupby(loads, key=lambda load: load.service.name):
        amount = sum((load.postage for load in together), start=loads[0].postage * 0)
        yield f"{name} {words.money(amount, planned.club)}"


def drawing(planned: Planned, *, small: bool = False) -> str:
    """Draw each day's work against the crew's minutes, days without work between them left blank."""
    days = planned.plan.shipping.days
    bars = [day_bar(day) for day in every_day(days)]
    said = said_of(days)
    return svg(upright_bars("Packing time against the crew, day by day", bars, said, small=small), "shipping")


def every_day(days: Sequence[DayLoad]) -> Iterator[DayLoad | None]:
    """Yield every calendar day from the first to the last, None where nobody packs."""
    if not days:
        return
    by_day = {one.day: one for one in days}
    day = days[0].day
    while day <= days[-1].day:
        yield by_day.get(day)
        day += DAY


def day_bar(one: DayLoad | None) -> Bar:
    """Return a day as a bar."""
    if one is None:
        return Bar("", 0)
    return Bar(f"{one.day:%a %-d}", float(one.minutes), float(one.capacity))


def day_table(planned: Planned) -> Table:
    """Return the crew's days."""
    days = planned.plan.shipping.days
    return Table(
        "Work against the crew",
        (
            when("Day"),
            number("Boxes"),
            number("Work", "min"),
            number("Crew", "min"),
            number("Overtime", "min"),
            number("Full"),
            number("Due by then", "min"),
            number("Crew by then", "min"),
            number("Short", "min"),
        ),
        [
            Line(
                (
                    words.weekday(one.day),
                    words.count(one.boxes),
                    f"{one.minutes:,.0f}",
                    words.count(one.capacity),
                    f"{one.overtime:,.0f}" if one.limit or one.overtime else "–",
                    words.percent(one.minutes, one.capacity) if one.capacity else "–",
                    f"{one.due:,.0f}",
                    words.count(one.had),
                    f"{one.short:,.0f}" if one.short else "–",
                )
            )
            for one in days
        ],
        foot=("All", words.count(sum(one.boxes for one in days)), "", "", "", "", "", "", ""),
        empty="Nobody packs on any day. Give the crew minutes on the Week sheet.",
    )


def load_table(planned: Planned) -> Table:
    """Return the loads by day and service."""
    club, fares = planned.club, Fares(planned.plan.postage)
    loads = planned.plan.shipping.loads
    return Table(
        "Boxes of one class, packed on one day for one service",
        (
            text("Contents and zones"),
            when("Pack on"),
            text("Service"),
            number("Boxes"),
            when("Collected"),
            when("Arrives"),
            number("Postage each", club.currency),
            number("Postage", club.currency),
        ),
        [
            Line(
                (
                    Cell(class_name(load, planned), sum=worked_out(load, fares, planned)),
                    words.day(load.day),
                    load.service.name,
                    words.count(load.boxes),
                    words.day(load.collected),
                    words.day(load.arrives),
                    words.money(load.postage_each, club),
                    words.money(load.postage, club),
                ),
                needs="Late" if load.late else "",
            )
            for load in loads
        ],
        foot=(
            "All",
            "",
            "",
            words.count(sum(load.boxes for load in loads)),
            "",
            "",
            "",
            words.money(planned.plan.shipping.postage, club),
        ),
        empty="Nothing leaves this month.",
    )


def worked_out(load: Load, fares: Fares, planned: Planned) -> str:
    """Return the sum behind the postage of one box of a load: each parcel's weight, what is charged, and what that costs."""
    spec = planned.plan.packing.of(load.box_class.contents)
    quotes = fares.quotes(load.box_class, spec, load.service.code, load.collected)
    parcels = [parcel_sum(one.parcel, quote, planned) for one, quote in quotes]
    if len(parcels) == 1:
        return parcels[0]
    each = "; ".join(f"parcel {number}: {one}" for number, one in enumerate(parcels, 1))
    return f"{each}; together {words.money(load.postage_each, planned.club)}"


def parcel_sum(parcel: PostParcel, quote: Quote, planned: Planned) -> str:
    """Return the sum behind one parcel's postage."""
    size = " × ".join(words.tenths(Fraction(side, CM)) for side in parcel.outside or ())
    by_size = f", {size} cm count as {words.weight(quote.counted)}" if quote.counted else ""
    charged = f"charged as {words.weight(quote.charged)} to {quote.zone}, up to {words.weight(Fraction(quote.up_to))}"
    extra = "".join(f" + {name} {words.money(amount, planned.club)}" for name, amount in quote.surcharges)
    total = f" = {words.money(quote.total, planned.club)}" if extra else ""
    weighs, postage = words.weight(parcel.weight), words.money(quote.postage, planned.club)
    return f"at most {weighs}{by_size}; {charged}: {postage}{extra}{total}"


def late_table(planned: Planned) -> Table:
    """Return what misses the promise, and what no service takes."""
    result = planned.plan.shipping
    late = [
        Line(
            (
                class_name(load, planned),
                words.count(load.boxes),
                words.weekday(load.arrives),
                "after the promised week",
            ),
            "Late",
        )
        for load in result.late
    ]
    stuck = [
        Line(
            (
                f"{contents_words(one.box_class.contents, planned.names)} to {one.box_class.destination}",
                words.count(one.boxes),
                "–",
                one.why,
            ),
            "Not sent",
        )
        for one in result.unsendable
    ]
    return Table(
        "By class, with the day it would arrive",
        (text("Contents and zones"), number("Boxes"), when("Arrives"), text("Why")),
        late + stuck,
        empty=f"Every box arrives by {end_of_week(planned)}.",
    )
