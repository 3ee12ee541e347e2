"""The stock book as one reads it: what lies where and what it cost, the lots of an item, every entry."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from copy import copy
from decimal import Decimal
from urllib.parse import urlencode
from uuid import uuid4

from django.contrib import messages
from django.db.models import Count, QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from kits.models import Month
from planning import load, ordering
from planning.models import StockBook, StockEntry
from planning.orders import due
from planning.stock import EntryKind, Place, StockError, balance_faults, book_faults
from planning.stockbook import (
    Balance,
    Counted,
    balances,
    book_of,
    entries,
    entry_of,
    holdings,
    is_counted,
    money,
    post_count,
    whole_book,
)
from planning.views import gate, words
from planning.views.forms import form_key
from planning.views.orders import around, order_url, person
from planning.views.parts import Cell, Figure, Line, Pages, Table, number, text, when

PLACES = (Place.SHELF, Place.CUTTING, Place.BOXES, Place.SHOP, Place.SPOILED)
A_PAGE = 50
KIND_WORDS = {
    EntryKind.RECEIVE: "Received",
    EntryKind.ISSUE: "Issued",
    EntryKind.CUT: "Cut",
    EntryKind.COUNT: "Counted",
    EntryKind.ADJUST: "Set right",
    EntryKind.REVERSE: "Taken back",
}


def item_url(month: Month, item: str) -> str:
    """Return where an item's lots and entries are."""
    return f"{reverse('stock_item', args=[month.pk])}?{urlencode({'item': item})}"


def entry_url(month: Month, serial: int) -> str:
    """Return where an entry is."""
    return f"{reverse('stock_entry', args=[month.pk])}?entry={serial}"


def in_its_money(row: Month, book: StockBook | None) -> Month:
    """Return the month, never to be saved, with the currency of its club's book, in which the book's amounts are told."""
    shown = copy(row)
    shown.currency = book.currency if book else row.currency
    return shown


def stock(request: HttpRequest, month: int) -> HttpResponse:
    """Show balances by material and place; begin the book from the month's Stock sheet."""
    row = gate.month_or_404(request, month)
    if request.method == "POST":
        return begun(request, row)
    book, names = book_of(row), ordering.names_of_items(row)
    is_other_money = book is not None and book.currency != row.currency
    row = in_its_money(row, book)
    held = balances(book)
    typed = () if is_counted(row) else tuple(load.rows("stock", row))
    shown = around(row, "stock") | {
        "other_money": is_other_money,
        "key": uuid4().hex,
        "typed": [(names.get(one.item, one.item), one.on_hand) for one in typed if one.on_hand],
        "figures": figures(row, held) if held else (),
        "table": balance_table(row, names, held, on_order(row)),
        "entries": entry_table(row, names, list(entries(book)[:8])) if book else None,
        "taken": ordering.taken_at(row),
    }
    return render(request, "planning/stock.html", shown)


def begun(request: HttpRequest, row: Month) -> HttpResponse:
    """Begin the book with what the month's Stock sheet says."""
    counted = [
        Counted(one.item, one.on_hand, one.value_each) for one in load.rows("stock", row) if one.on_hand
    ]
    try:
        posted = post_count(row, counted, person(request), form_key(request), "From the month’s Stock sheet")
        messages.success(request, f"The book begins with entry {posted.row.serial}.")
    except StockError as error:
        messages.error(request, str(error))
    return redirect("stock", month=row.pk)


def shelf(book: StockBook | None, place: Place = Place.SHELF) -> dict[str, int]:
    """Return how many units of each item a place holds, the shelf if none is named."""
    return {one.item: one.quantity for one in balances(book) if one.place is place and one.quantity}


def on_order(row: Month) -> Mapping[str, int]:
    """Return how many units of each material are still to come."""
    coming: defaultdict[str, int] = defaultdict(int)
    for one in ordering.all_orders(row):
        if one.placed.is_open:
            rest = due(one.order, one.received)
            for line in one.order.goods:
                coming[line.material] += rest[line.key]
    return coming


def figures(row: Month, held: Sequence[Balance]) -> tuple[Figure, ...]:
    """Return what the shelf is worth, what is in boxes, what was spoiled and missed."""
    values: defaultdict[Place, int] = defaultdict(int)
    for one in held:
        values[one.place] += one.value
    said = (
        (Place.SHELF, "on the shelf"),
        (Place.BOXES, "in boxes"),
        (Place.SPOILED, "spoiled"),
    )
    found = money(-values[Place.DIFFERENCE], row.currency)
    placed = (
        Figure(f"{money(values[place], row.currency):,}", f"{row.currency} {what}") for place, what in said
    )
    return (*placed, Figure(signed(f"{found:,}"), f"{row.currency} found at counts, less missed"))


def balance_table(
    row: Month, names: Mapping[str, str], held: Sequence[Balance], coming: Mapping[str, int]
) -> Table:
    """Return one line for each item: where its units are, and what those on the shelf cost."""
    units: defaultdict[tuple[str, Place], int] = defaultdict(int)
    values: defaultdict[str, int] = defaultdict(int)
    for one in held:
        units[one.item, one.place] += one.quantity
        values[one.item] += one.value if one.place is Place.SHELF else 0
    items = sorted(
        {one.item for one in held} | {item for item in coming if coming[item]}, key=lambda x: names.get(x, x)
    )
    return Table(
        "Balances by material and place",
        (
            text("Material or piece"),
            number("On the shelf"),
            number("At cutting"),
            number("In boxes"),
            number("Shop"),
            number("Spoiled"),
            number("On order"),
            number("Cost each", row.currency),
            number("Shelf value", row.currency),
        ),
        [
            Line(
                (
                    Cell(names.get(item, item), href=item_url(row, item)),
                    words.count(units[item, Place.SHELF]),
                    *(some(units[item, place]) for place in PLACES[1:]),
                    some(coming.get(item, 0)),
                    each(money(values[item], row.currency), units[item, Place.SHELF]),
                    f"{money(values[item], row.currency):,}",
                )
            )
            for item in items
        ],
        foot=("All", *[""] * 7, f"{money(sum(values.values()), row.currency):,}") if items else (),
        empty="The book is empty. Receive an order, count what is there, or begin from the month’s Stock sheet.",
    )


def some(units: int) -> str:
    """Return a count, and nothing for none, so that what is there stands out."""
    return words.count(units) if units else ""


def each(value: Decimal, units: int) -> str:
    """Return what one unit costs, to four decimals."""
    return f"{(value / units).quantize(Decimal('0.0001')):,}" if units else ""


# --- One item ---


@require_safe
def stock_item(request: HttpRequest, month: int) -> HttpResponse:
    """Show the lots of an item, the oldest first, and every entry that moved it."""
    row = gate.month_or_404(request, month)
    book, item = book_of(row), request.GET.get("item", "")
    names = ordering.names_of_items(row)
    if book is None or not (item in names or book.moves.filter(item=item).exists()):
        raise Http404
    row = in_its_money(row, book)
    rows = entries(book, item)
    shown = around(row, "stock") | {
        "item": item,
        "name": names.get(item, item),
        "lots": lot_table(row, book, item),
        "entries": entry_table(row, names, *paged(request, rows), item=item),
    }
    return render(request, "planning/stock_item.html", shown)


def lot_table(row: Month, book: StockBook, item: str) -> Table:
    """Return the lots of an item in each place, first in first out."""
    began = dict(
        book.entries.filter(serial__in={one.lot.entry for one in holdings(book, [item])}).values_list(
            "serial", "at"
        )
    )
    return Table(
        "Lots, the one that leaves first at the top",
        (
            text("Lot"),
            text("Place"),
            when("Since"),
            number("Units"),
            number("Cost each", row.currency),
            number("Cost", row.currency),
        ),
        [
            Line(
                (
                    Cell(str(one.lot), href=entry_url(row, one.lot.entry)),
                    one.place.value.capitalize(),
                    words.day(began[one.lot.entry].date()),
                    words.count(one.quantity),
                    each(money(one.value, row.currency), one.quantity),
                    f"{money(one.value, row.currency):,}",
                )
            )
            for one in holdings(book, [item])
            if one.place in PLACES
        ],
        empty="None is left.",
    )


# --- Entries ---


@require_safe
def stock_entries(request: HttpRequest, month: int) -> HttpResponse:
    """Show every entry of the book, the latest first; only those of one kind where it is asked for."""
    row = gate.month_or_404(request, month)
    book, names = book_of(row), ordering.names_of_items(row)
    kind = request.GET.get("kind", "")
    rows = book.entries.prefetch_related("moves") if book else StockEntry.objects.none()
    if kind in set(EntryKind):
        rows = rows.filter(kind=kind)
    counts = dict(book.entries.order_by().values_list("kind").annotate(Count("pk"))) if book else {}
    shown = around(row, "stock") | {
        "kind": kind,
        "kinds": [(each.value, KIND_WORDS[each], counts.get(each.value, 0)) for each in EntryKind],
        "all": sum(counts.values()),
        "table": entry_table(row, names, *paged(request, rows)),
    }
    return render(request, "planning/stock_entries.html", shown)


@require_safe
def stock_check(request: HttpRequest, month: int) -> HttpResponse:
    """Let the checker add the whole book up again, and say what it finds."""
    row = gate.month_or_404(request, month)
    book = book_of(row)
    found: tuple[str, ...] = ()
    if book is not None:
        made = whole_book(book)
        found = (*book_faults(made), *balance_faults(made, holdings(book)))
    shown = around(row, "stock") | {"faults": found, "count": book.last if book else 0, "at": now()}
    return render(request, "planning/stock_check.html", shown)


def paged(request: HttpRequest, rows: QuerySet[StockEntry]) -> tuple[list[StockEntry], Pages]:
    """Return one numbered page of entries."""
    asked = {name: request.GET[name] for name in ("item", "kind") if request.GET.get(name)}
    query = urlencode(asked) + "&" * bool(asked)
    pages = Pages("page", gate.page_number(request, "page"), rows.count(), A_PAGE, query)
    if pages.number > pages.count:
        raise Http404
    return list(rows[pages.first - 1 : pages.last]), pages


def entry_table(
    row: Month,
    names: Mapping[str, str],
    rows: Sequence[StockEntry],
    pages: Pages | None = None,
    item: str = "",
) -> Table:
    """Return entries as lists show them."""
    return Table(
        "Entries, the latest first",
        (text("Entry"), text("What"), text("When"), text("By"), text("Goods"), text("Note")),
        [
            Line(
                (
                    Cell(f"{one.serial}", href=entry_url(row, one.serial)),
                    kind_words(one),
                    words.moment(one.at),
                    one.by,
                    goods_words(one, names, item),
                    one.note,
                )
            )
            for one in rows
        ],
        empty="Nothing is entered yet.",
        pages=pages if pages and pages.count > 1 else None,
    )


def kind_words(one: StockEntry) -> str:
    """Say what an entry is."""
    said = KIND_WORDS[EntryKind(one.kind)]
    if one.reverses:
        return f"{said}: entry {one.reverses}"
    return f"{said}, order {one.order}" if one.order else said


def goods_words(one: StockEntry, names: Mapping[str, str], item: str = "", most: int = 3) -> str:
    """Say what an entry moved where: 40 Shore White to shelf."""
    moved: defaultdict[tuple[str, str], int] = defaultdict(int)
    for move in one.moves.all():
        if move.quantity > 0 and (not item or move.item == item):
            moved[move.item, move.place] += move.quantity
    said = [f"{units:,} {names.get(code, code)} to {place}" for (code, place), units in moved.items()]
    if not said:
        return "Agrees with the book" if one.kind == EntryKind.COUNT else ""
    return "; ".join(said[:most]) + (f"; and {len(said) - most} more" if len(said) > most else "")


def stock_entry(request: HttpRequest, month: int) -> HttpResponse:
    """Show one entry with both sides of every movement, and take it back."""
    row = gate.month_or_404(request, month)
    one = gate.entry_or_404(request, row)
    if request.method == "POST":
        return taken_back(request, row, one)
    row = in_its_money(row, one.book)
    again = StockEntry.objects.filter(book=one.book, reverses=one.serial).first()
    shown = around(row, "stock") | {
        "entry": one,
        "what": kind_words(one),
        "key": uuid4().hex,
        "again": again,
        "again_url": entry_url(row, again.serial) if again else "",
        "order_url": order_url("order", row, one.order) if one.order else "",
        "table": move_table(row, one),
    }
    return render(request, "planning/stock_entry.html", shown)


def taken_back(request: HttpRequest, row: Month, one: StockEntry) -> HttpResponse:
    """Take an entry back."""
    note = request.POST.get("note", "").strip()[:500]
    try:
        posted = ordering.take_back(row, one, person(request), form_key(request), note)
    except StockError as error:
        messages.error(request, f"Nothing was entered. {error}")
        return redirect(entry_url(row, one.serial))
    messages.success(request, f"Entry {one.serial} is taken back by entry {posted.row.serial}.")
    return redirect(entry_url(row, posted.row.serial))


def move_table(row: Month, one: StockEntry) -> Table:
    """Return both sides of every movement of an entry."""
    names = ordering.names_of_items(row)
    return Table(
        "What moved: out of a place with a minus, into a place without",
        (
            text("Material or piece"),
            text("Place"),
            text("Lot"),
            number("Units"),
            number("Cost", row.currency),
        ),
        [
            Line(
                (
                    Cell(names.get(move.item, move.item), href=item_url(row, move.item)),
                    move.place.value.capitalize(),
                    str(move.lot),
                    signed(f"{move.quantity:,}"),
                    signed(f"{money(move.value, row.currency):,}"),
                )
            )
            for move in entry_of(one).moves
        ],
        empty="Nothing moved: the count agreed with the book.",
    )


def signed(figure: str) -> str:
    """Return a figure with a minus sign people can see."""
    return figure.replace("-", "\N{MINUS SIGN}")
