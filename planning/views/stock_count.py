"""What the shelf really holds: a count of many items, or one set right with the reason why."""

from collections.abc import Iterator, Mapping, Sequence

from django.http import HttpRequest, HttpResponse

from kits.models import Month
from planning import ordering
from planning.models import StockBook
from planning.stock import Place, StockError
from planning.stockbook import (
    Counted,
    book_of,
    latest_cost,
    post_adjust,
    post_count,
)
from planning.views import gate, words
from planning.views.forms import Field, Form, Grid, GridRow, Typed, form_key, show_form
from planning.views.orders import around, person
from planning.views.parts import number, text
from planning.views.stock import shelf
from planning.views.stock_issue import PLACE_WORDS, back, coded, in_the_book


def stock_count(request: HttpRequest, month: int) -> HttpResponse:
    """Enter what the shelf really holds."""
    row = gate.month_or_404(request, month)
    book, names = book_of(row), ordering.names_of_items(row)
    held = shelf(book)
    items = sorted({*names, *held}, key=lambda item: (item not in held, names.get(item, item)))
    typed = Typed(request.POST if request.method == "POST" else {})
    problem = ""
    if request.method == "POST":
        counted = list(typed_counts(typed, items, held, book))
        if not counted and not typed.errors:
            problem = "Nothing was counted: fill in at least one line."
        if counted and not typed.errors:
            try:
                posted = post_count(row, counted, person(request), form_key(request), typed.text("note"))
                return in_the_book(request, row, posted.row.serial, is_new=posted.is_new)
            except StockError as error:
                problem = str(error)
    return show_form(
        request, around(row, "stock"), count_form(request, row, items, names, held, typed, problem)
    )


def typed_counts(
    typed: Typed, items: Sequence[str], held: Mapping[str, int], book: StockBook | None
) -> Iterator[Counted]:
    """Yield what was counted; found units cost what is typed, else what the item cost last."""
    for item in items:
        if not typed.text(f"counted-{coded(item)}"):
            continue
        units = typed.count(f"counted-{coded(item)}")
        cost = typed.amount(f"each-{coded(item)}", latest_cost(book, item))
        yield Counted(item, units, cost)


def count_form(
    request: HttpRequest,
    row: Month,
    items: Sequence[str],
    names: Mapping[str, str],
    held: Mapping[str, int],
    typed: Typed,
    problem: str,
) -> Form:
    """Return the form for a count."""

    def field(what: str, label: str, item: str) -> Field:
        name = f"{what}-{coded(item)}"
        return Field(
            name=name,
            label=f"{label}, {names.get(item, item)}",
            value=typed.sent.get(name, ""),
            kind="number",
            error=typed.errors.get(name, ""),
        )

    hint = "Who counted with you, which shelves."
    note = Field(name="note", label="Note", value=typed.sent.get("note", ""), hint=hint)
    return Form(
        title="Count the shelf",
        lede="Type what you counted; lines left empty are not counted. A difference is entered beside the book’s "
        "figure, not over it.",
        button="Enter the count",
        back=back(row),
        failed="Nothing was entered",
        problem=problem,
        key=form_key(request),
        fields=(note,),
        grid=Grid(
            "The shelf by the book, and as counted",
            (
                text("Material or piece"),
                number("By the book"),
                number("Counted"),
                number("Cost each if more", row.currency),
            ),
            tuple(
                GridRow(
                    (
                        names.get(item, item),
                        words.count(held.get(item, 0)),
                        field("counted", "Counted", item),
                        field("each", "Cost each of what is found", item),
                    )
                )
                for item in items
            ),
        ),
        note="Cost each: what one costs if more are found than the book says. Left empty, what the item cost last.",
    )


def stock_adjust(request: HttpRequest, month: int) -> HttpResponse:
    """Set the shelf right by so many, with the reason why."""
    row = gate.month_or_404(request, month)
    book, names = book_of(row), ordering.names_of_items(row)
    held = shelf(book)
    items = sorted({*names, *held}, key=lambda item: names.get(item, item))
    typed = Typed(request.POST if request.method == "POST" else {})
    problem = ""
    if request.method == "POST":
        item, by = typed.choice("item", items), typed.change("by")
        place = typed.choice("place", (Place.SPOILED, Place.DIFFERENCE))
        cost = typed.amount("each", latest_cost(book, item))
        reason = typed.text("reason")
        if not reason:
            typed.errors.setdefault("reason", "Say why: whoever reads the book next year will ask.")
        if not typed.errors:
            try:
                posted = post_adjust(
                    row, item, by, cost, Place(place), person(request), form_key(request), reason
                )
                return in_the_book(request, row, posted.row.serial, is_new=posted.is_new)
            except StockError as error:
                problem = str(error)
    choices = tuple((item, f"{names.get(item, item)}, {held.get(item, 0):,} on the shelf") for item in items)
    return show_form(request, around(row, "stock"), adjust_form(request, row, choices, typed, problem))


def adjust_form(
    request: HttpRequest, row: Month, choices: tuple[tuple[str, str], ...], typed: Typed, problem: str
) -> Form:
    """Return the form for a correction."""

    def field(name: str, label: str, hint: str, kind: str = "number", **more: object) -> Field:
        return Field(
            name=name,
            label=label,
            value=typed.sent.get(name, ""),
            kind=kind,
            hint=hint,
            error=typed.errors.get(name, ""),
            **more,  # type: ignore[arg-type]
        )

    places = tuple(
        (place.value, PLACE_WORDS[place].capitalize()) for place in (Place.SPOILED, Place.DIFFERENCE)
    )
    return Form(
        title="Set the shelf right",
        lede="One item, by so many more or fewer, with the reason why. After a whole count use Count instead.",
        button="Enter the correction",
        back=back(row),
        failed="Nothing was entered",
        problem=problem,
        key=form_key(request),
        fields=(
            field("item", "Material or piece", "", "choice", choices=choices),
            field("by", "By how many", "-3 for three fewer, 12 for twelve more."),
            field("place", "Where fewer went", "", "choice", choices=places),
            field("each", "Cost each of more", "Left empty, what the item cost last."),
            field("reason", "Reason", "It stands in the book beside your name.", "text"),
        ),
    )
