"""The cost step: what one kit costs, and the month."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from django.http import HttpRequest, HttpResponse

from kits.drawing import Style, svg
from planning import load
from planning.calendar import YearMonth
from planning.cost import ColumnCost, Heading
from planning.money import Side, budget_side, plan_side
from planning.run import Planned
from planning.views import gate, words
from planning.views.cost_around import against, cash_drawing, cash_table, earlier, lot_table
from planning.views.drawings import Part, Row, lying_bars
from planning.views.kept import kept
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Strip, Table, number, text
from planning.views.steps import step_page

TONES = {  # neighbours differ in grey too
    Heading.PAPER: Style.PIECE,
    Heading.CUTTING: Style.CORNER,
    Heading.EXTRAS: Style.PHOTO,
    Heading.PACKAGING: Style.SHEET,
    Heading.PACKING: Style.GAP,
    Heading.POSTAGE: Style.NOTE,
    Heading.SPOILAGE: Style.CORNER,
    Heading.FREIGHT: Style.HATCH,
    Heading.OVERTIME: Style.PIECE,
    Heading.FEES: Style.PHOTO,
    Heading.DAMAGE: Style.SHEET,
    Heading.DESIGN: Style.NOTE,
    Heading.FIXED: Style.GAP,
}


def cost(request: HttpRequest, month: int) -> HttpResponse:
    """Show what the month costs."""
    row = gate.month_or_404(request, month)
    before = earlier(row)
    book = load.without_people(row)
    sides = [("the budget", budget_side(book.aims, book.budget))] if book.budget else []
    if before is not None:
        title = YearMonth.parse(before.month.month).title
        sides.append((title, plan_side(load.planned(before).plan.cost)))
    return step_page(request, month, "cost", lambda planned: whole_page(planned, sides))


def whole_page(planned: Planned, sides: Sequence[tuple[str, Side]]) -> Page:
    """Return the step's page, with what the month is held against."""
    own = kept(page, planned)
    first, *others = own.sections
    return replace(own, sections=(first, *(against(planned, *side) for side in sides), *others))


def strip(planned: Planned) -> Strip:
    """Return the step as the month page shows it."""
    result, club = planned.plan.cost, planned.club
    kits = [column for column in result.columns if column.boxes]
    main = max(kits, key=lambda column: column.boxes, default=None)
    each = "–" if main is None or main.each is None else words.money(main.each, club)
    unit = f"{club.currency} a kit{f', {main.name}' if main else ''}; the month {words.money(result.total, club)}"
    return Strip(
        figure=Figure(each, unit),
        words=" ".join((heading_words(planned), *map(words.sentence, result.notes))),
        drawing=drawing(planned, small=True),
        needs=tuple(
            f"{column.name}: each kit costs {words.money(-column.margin, club)} {club.currency} more than its price."
            for column in kits
            if column.margin is not None and column.margin < 0
        ),
    )


def heading_words(planned: Planned) -> str:
    """Name the headings with most money on them."""
    result, club = planned.plan.cost, planned.club
    totals = sorted(((result.heading_total(one), one) for one in Heading), key=lambda pair: -pair[0])
    return ", ".join(f"{one} {words.money(amount, club)}" for amount, one in totals[:4] if amount) + "."


def page(planned: Planned) -> Page:
    """Return the step's own page."""
    result, club = planned.plan.cost, planned.club
    totals = [words.money(column.total, club) for column in result.columns]
    return Page(
        figures=(
            Figure(
                words.money(result.total, club),
                f"{club.currency} the month",
                words.added(totals, words.money(result.total, club)),
            ),
            *(each_figure(column, planned) for column in result.columns if column.each is not None),
        ),
        sections=(
            Section(
                "By heading and tier", tables=(heading_table(planned),), drawings=(Drawing(drawing(planned)),)
            ),
            Section("Price and margin of one kit", tables=(margin_table(planned),)),
            *([Section("Not in the cost", tables=(short_table(planned),))] if result.short else []),
            Section("The shelf", tables=(shelf_table(planned),)),
            Section(
                "When the money goes out", tables=(cash_table(planned),), drawings=(cash_drawing(planned),)
            ),
            Section("What each lot cost on the shelf", tables=(lot_table(planned),), folded=True),
            Section("Every amount", tables=(entry_table(planned),), folded=True),
        ),
    )


def each_figure(column: ColumnCost, planned: Planned) -> Figure:
    """Return what one kit of a tier costs."""
    club = planned.club
    each = words.money(column.each or Decimal(0), club)
    return Figure(
        each,
        f"{club.currency} a kit, {column.name}",
        f"{words.money(column.total, club)} ÷ {words.counted(column.boxes, 'kit')} = {each}, rounded",
    )


def drawing(planned: Planned, *, small: bool = False) -> str:
    """Draw each tier's cost by heading."""
    columns = [column for column in planned.plan.cost.columns if column.total]
    rows = [Row(column.name, parts(column)) for column in columns]
    said = "; ".join(
        f"{column.name}: "
        + ", ".join(
            f"{one} {words.money(amount, planned.club)}" for one, amount in column.by_heading if amount
        )
        for column in columns
    )
    return svg(lying_bars("Cost by heading", rows, said or "no cost", small=small), "cost")


def parts(column: ColumnCost) -> tuple[Part, ...]:
    """Return a tier's cost as a bar."""
    return tuple(Part(str(heading), float(amount), TONES[heading]) for heading, amount in column.by_heading)


def heading_table(planned: Planned) -> Table:
    """Return the headings against the tiers."""
    result, club = planned.plan.cost, planned.club
    return Table(
        "Parts sum exactly to the month's total",
        (
            text("Heading"),
            *(number(column.name, club.currency) for column in result.columns),
            number("Month", club.currency),
        ),
        [
            Line(
                (
                    str(heading),
                    *(words.money(dict(column.by_heading)[heading], club) for column in result.columns),
                    words.money(result.heading_total(heading), club),
                )
            )
            for heading in Heading
            if result.heading_total(heading)
        ],
        foot=(
            "All",
            *(words.money(column.total, club) for column in result.columns),
            words.money(result.total, club),
        ),
    )


def margin_table(planned: Planned) -> Table:
    """Return price, cost and margin of one kit of each tier."""
    club = planned.club
    return Table(
        "One kit",
        (
            text("Tier"),
            number("Kits"),
            number("Price", club.currency),
            number("Cost", club.currency),
            number("Margin", club.currency),
            number("Of price"),
        ),
        [margin_line(column, planned) for column in planned.plan.cost.columns if column.each is not None],
        empty="No kits are sent this month.",
    )


def margin_line(column: ColumnCost, planned: Planned) -> Line:
    """Return one tier's margin."""
    club, margin = planned.club, column.margin or Decimal(0)
    return Line(
        (
            column.name,
            words.count(column.boxes),
            words.money(column.price, club),
            words.money(column.each or Decimal(0), club),
            words.money(margin, club),
            words.percent(margin, column.price),
        ),
        needs="Costs more than its price" if margin < 0 else "",
    )


def short_table(planned: Planned) -> Table:
    """Return the goods that are short, and what they might add."""
    club = planned.club
    return Table(
        "Goods nobody sells enough of, at the last price known",
        (
            text("Material"),
            number("Short"),
            number("Price each", club.currency),
            number("Would add", club.currency),
            text("To a kit"),
            text("Boxes"),
        ),
        [
            Line(
                (
                    one.name,
                    words.count(one.units),
                    "–" if one.price is None else words.price(one.price, club),
                    "–" if one.missing is None else words.money(one.missing, club),
                    ", ".join(f"{tier} {words.money(each, club)}" for tier, each in one.each) or "–",
                    words.sentence(one.held),
                ),
                needs="Short",
            )
            for one in planned.plan.cost.short
        ],
    )


def shelf_table(planned: Planned) -> Table:
    """Return how the shelf's value moves through the month."""
    result, club = planned.plan.cost, planned.club
    used = result.opening + result.bought - result.closing
    lines = (
        ("On the shelf before", result.opening),
        ("Bought this month, and open orders counted on", result.bought),
        ("Used up by the month", -used),
    )
    return Table(
        "What is left over and kept goes to the shelf at its cost",
        (text("Value"), number("Amount", club.currency)),
        [Line((name, words.money(amount, club))) for name, amount in lines],
        foot=("On the shelf after", words.money(result.closing, club)),
    )


def entry_table(planned: Planned) -> Table:
    """Return every entry the table adds up from."""
    club, names = planned.club, {column.code: column.name for column in planned.plan.cost.columns}
    return Table(
        "Each amount, split by largest remainder over the tiers that use it",
        (text("Heading"), text("What"), text("Tier"), number("Amount", club.currency)),
        [
            Line(
                (
                    Cell(str(one.heading), one.sum),
                    one.what,
                    names.get(one.column, one.column),
                    words.money(one.amount, club),
                )
            )
            for one in planned.plan.cost.entries
        ],
        foot=("All", "", "", words.money(planned.plan.cost.total, club)),
    )
