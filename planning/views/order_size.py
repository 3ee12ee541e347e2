"""One page for: how many boxes should the goods suffice for, and what should a kit cost?"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits.measures import CountError, parse_count
from kits.models import Month as MonthRow
from planning import choices, load
from planning.curve import scaled_roster
from planning.flow import Decided, decide
from planning.money import TierPrice, promotion_costs, tier_prices
from planning.month import Month
from planning.run import MONTH_ERRORS, Planned
from planning.views import gate, words
from planning.views.parts import Cell, Figure, Line, Page, Section, Table, number, text
from planning.views.steps import step_page

MOST = 1_000_000
Pair = tuple["Size", "Size"]


@dataclass(frozen=True, slots=True)
class Size:
    """A count, the plan it leads to, and the prices it asks for."""

    boxes: int
    done: Decided
    prices: tuple[TierPrice, ...]

    @property
    def income(self) -> Decimal:
        """What its kits bring in."""
        return sum((column.price * column.boxes for column in self.done.cost.columns), Decimal(0))

    @property
    def left(self) -> Decimal:
        """What is left of that."""
        return self.income - self.done.cost.total


def order_size(request: HttpRequest, month: int) -> HttpResponse:
    """Compare two counts; a POST keeps one of them as what the goods are to suffice for."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    planned = load.planned(plan) if plan else None
    if planned is None or not planned.plan.roster.boxes:
        return step_page(request, month, "cost", nothing, "order_size", {"few": "", "many": ""})
    asked = [request.GET.get(name, "") or str(count) for name, count in usual(planned).items()]
    try:
        sizes = sizes_of(load.to_plan_by(row), planned, [count_of(one) for one in asked])
    except (CountError, *MONTH_ERRORS) as error:
        more = {"few": asked[0], "many": asked[1], "error": str(error)}
        return step_page(request, month, "cost", lambda planned: Page(figures=()), "order_size", more)
    if request.method == "POST":
        return keep(request, row, sizes[request.POST.get("order") == "many"])
    shown: dict[str, object] = {"few": sizes[0].boxes, "many": sizes[1].boxes, "kept": True}
    book = load.without_people(row)
    return step_page(request, month, "cost", lambda planned: page(planned, sizes, book), "order_size", shown)


def usual(planned: Planned) -> dict[str, int]:
    """Return the counts to begin with: the roster's, and a quarter more in whole hundreds."""
    boxes = planned.plan.roster.boxes
    return {"few": boxes, "many": max(boxes + 1, -(-boxes * 5 // 400) * 100)}


def count_of(typed: str) -> int:
    """Return a count of boxes from 1 on. Raises CountError."""
    boxes = parse_count(typed)
    if not 1 <= boxes <= MOST:
        raise CountError(typed, f"it is not from 1 to {MOST:,}")
    return boxes


def sizes_of(book: Month, planned: Planned, counts: list[int]) -> Pair:
    """Decide the month at both counts, as its rows stand now."""
    few, many = (size_of(book, planned, boxes) for boxes in counts)
    return few, many


def size_of(book: Month, planned: Planned, boxes: int) -> Size:
    """Decide the month at one count."""
    plan = planned.plan
    done = decide(book, plan.contents, scaled_roster(plan.roster, boxes), known=plan.cutting)
    prices = tier_prices(done.cost, book.aims, book.charges, book.price_points)
    return Size(boxes, done, tuple(prices))


def keep(request: HttpRequest, row: MonthRow, size: Size) -> HttpResponse:
    """Keep how many kits of each tier the goods are to suffice for."""
    kits: dict[str, int | None] = {
        column.code: column.boxes for column in size.done.cost.columns if column.boxes
    }
    choices.keep_quantities(row, kits)
    messages.success(
        request, f"Kept: goods for {words.counted(size.boxes, 'box', 'boxes')}. Plan the month again."
    )
    return redirect("order_size", month=row.pk)


def nothing(planned: Planned) -> Page:
    """Return the page of a month without boxes."""
    empty = Table("Two counts", (), (), empty="This month sends no box, so there is nothing to compare.")
    return Page(figures=(), sections=(Section("Two counts", tables=(empty,)),))


def page(planned: Planned, sizes: Pair, book: Month) -> Page:
    """Return the page."""
    return Page(
        figures=tuple(figures(planned, sizes)),
        ended="Both counts keep the roster's proportions and are planned as the month's rows stand now; sheets are cut by "
        "this plan's patterns.",
        sections=(
            Section("Side by side", tables=(compared(planned, sizes),)),
            *uncertain(planned, sizes),
            Section("What to charge", tables=(price_table(planned, sizes, book),)),
            Section(
                "How much may come off, and when postage can be free",
                tables=(threshold_table(planned, sizes),),
            ),
            Section("What promotions cost", tables=(promotion_table(planned, sizes, book),)),
        ),
    )


def figures(planned: Planned, sizes: Pair) -> Iterator[Figure]:
    """Yield the answer in figures."""
    club, (few, many) = planned.club, sizes
    for size in sizes:
        each = size.done.cost.total / size.boxes
        yield Figure(
            words.money(each, club),
            f"{club.currency} a box at {words.count(size.boxes)}",
            f"{words.money(size.done.cost.total, club)} ÷ {words.count(size.boxes)}, rounded",
        )
    more = many.left - few.left
    yield Figure(
        words.money(abs(more), club),
        f"{club.currency} {'more' if more >= 0 else 'less'} left at {words.count(many.boxes)}, if all are sold",
        f"{words.money(many.left, club)} − {words.money(few.left, club)} = {words.money(more, club)}",
    )
    if planned.curve and planned.curve.break_even is not None:
        yield Figure(words.count(planned.curve.break_even), "boxes to break even at today's prices")


def compared(planned: Planned, sizes: Pair) -> Table:
    """Return the figures of both counts."""
    club = planned.club

    def line(name: str, few: Decimal, many: Decimal, why: str = "") -> Line:
        return Line(
            (
                Cell(name, why),
                words.money(few, club),
                words.money(many, club),
                words.money(many - few, club),
            )
        )

    few, many = sizes
    costs = (few.done.cost, many.done.cost)
    for_more = max(money_out(many) - money_out(few), Decimal(0))
    return Table(
        "Both counts, and the difference",
        (
            text("Figure"),
            number(words.counted(few.boxes, "box", "boxes"), club.currency),
            number(words.counted(many.boxes, "box", "boxes"), club.currency),
            number("Difference", club.currency),
        ),
        [
            line("Cost of the month", costs[0].total, costs[1].total),
            line("Price of all kits", few.income, many.income),
            line("Left", few.left, many.left, "price of all kits less cost of the month"),
            line(
                "To order now",
                money_out(few),
                money_out(many),
                "goods, set-up and freight of this month's orders",
            ),
            line("Left on the shelf, at cost", costs[0].closing, costs[1].closing),
            *(
                line(f"One kit, {column.name}", column.each, other.each)
                for column, other in zip(costs[0].columns, costs[1].columns, strict=False)
                if column.code == other.code and column.each is not None and other.each is not None
            ),
            line(
                f"Left if only {words.counted(few.boxes, 'box', 'boxes')} are sold",
                few.left,
                few.left - for_more,
                "the larger order bought, and none of what lies over ever used: the worst it can come to",
            ),
        ],
    )


def uncertain(planned: Planned, sizes: Pair) -> Iterator[Section]:
    """Yield what is known of the count and of the chances, where the month's rows tell of them."""
    lines: list[Line] = []
    ahead = planned.plan.forecast
    months = [one for one in ahead.months if one.month == planned.club.month] if ahead else []
    for one in months[:1]:
        counts = " / ".join(words.count(one.boxes(percent)) for percent in (10, 50, 90))
        lines.append(Line(("Boxes by the forecast, at 10, 50 and 90 %", counts)))
        for size in sizes:
            short = next((percent for percent in range(101) if one.boxes(percent) >= size.boxes), 101)
            asked = f"Chance that {words.counted(size.boxes, 'box', 'boxes')} or more are wanted"
            lines.append(Line((asked, f"about {max(0, 100 - short)} %")))
    if (chances := planned.plan.chances) is not None:
        lines.append(Line(("Chance that the month loses money, as planned", f"{chances.loss} %")))
        names = {column.code: column.name for column in planned.plan.cost.columns}
        for tier in chances.orders:
            enough = f"Kits that pay for the risk, {names.get(tier.code, tier.code)}"
            lines.append(Line((enough, words.count(int(tier.newsvendor)))))
    if lines:
        table = Table(
            "From the forecast and the chances of this plan", (text("What"), number("Value")), lines
        )
        yield Section("How sure the count is", tables=(table,))


def money_out(size: Size) -> Decimal:
    """Return what the orders of a count cost."""
    return sum((one.goods + one.setup + one.freight for one in size.done.buying.orders), Decimal(0))


def price_table(planned: Planned, sizes: Pair, book: Month) -> Table:
    """Return the prices that leave the aim, at both counts."""
    club, other = planned.club, {one.tier: one for one in sizes[1].prices}

    def price(amount: Decimal | None) -> str:
        return "–" if amount is None else words.money(amount, club)

    pairs = [(one, other[one.tier]) for one in sizes[0].prices if one.tier in other]
    return Table(
        "Lowest price points that leave what you aim at (sheets Aims and Price points)",
        (
            text("Tier"),
            number("Today", club.currency),
            number(f"Member, {words.count(sizes[0].boxes)}", club.currency),
            number(f"Member, {words.count(sizes[1].boxes)}", club.currency),
            number(f"Single, {words.count(sizes[0].boxes)}", club.currency),
            number(f"Single, {words.count(sizes[1].boxes)}", club.currency),
        ),
        [
            Line(
                (
                    Cell(few.name, price_words(few, planned)),
                    price(few.price),
                    price(few.member),
                    price(many.member),
                    price(few.single),
                    price(many.single),
                ),
                needs="Below its aim" if few.member is not None and few.price < few.member else "",
            )
            for few, many in pairs
        ],
        empty="No tier sends a kit at both counts.",
    )


def price_words(one: TierPrice, planned: Planned) -> str:
    """Say how a price is worked out."""
    cost = words.money(one.cost, planned.club)
    return (
        f"one costs {cost} without the fee on its price; fee {one.fee.normalize():f} % and the aim are taken of the price, "
        "the rest must pay that, rounded up to a price point"
    )


def threshold_table(planned: Planned, sizes: Pair) -> Table:
    """Return how low prices may go."""
    return Table(
        f"At {words.counted(sizes[0].boxes, 'box', 'boxes')} and today's prices",
        (
            text("Tier"),
            number("Off, aim kept", "%"),
            number("Off, nothing lost", "%"),
            number("Free postage from", "kits in a parcel"),
        ),
        [
            Line(
                (
                    one.name,
                    "none" if one.most_off is None else f"{one.most_off}",
                    "none" if one.at_cost is None else f"{one.at_cost}",
                    "–" if one.free_from is None else words.count(one.free_from),
                )
            )
            for one in sizes[0].prices
        ],
        empty="No tier sends a kit.",
    )


def promotion_table(planned: Planned, sizes: Pair, book: Month) -> Table:
    """Return what the club's promotions cost."""
    club = planned.club
    found = promotion_costs(sizes[0].done.cost, book.promotions, book.charges)
    return Table(
        f"At {words.counted(sizes[0].boxes, 'box', 'boxes')}; a kit more adds its cost without design and fixed costs",
        (
            text("Promotion"),
            number("Off a kit", club.currency),
            number("Given away", club.currency),
            number("Kits besides"),
            number("They bring", club.currency),
            number("It costs", club.currency),
            number("Made good by", "kits besides"),
        ),
        [
            Line(
                (
                    f"{one.name}, {one.tier}",
                    words.money(one.off, club),
                    words.money(one.given, club),
                    words.count(one.extra),
                    words.money(one.brings, club),
                    words.money(one.cost, club),
                    "never" if one.enough is None else words.count(one.enough),
                )
            )
            for one in found
        ],
        empty="No promotions yet: write them on the sheet Promotions.",
    )
