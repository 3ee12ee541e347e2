"""The stock book in the database: make an entry, read balances and entries.

An entry with all its moves is one transaction, so it is there whole or not at all, whenever the process dies. Whoever makes
one holds the book's row meanwhile: entries follow one another, and none starts from balances that are no longer true.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from django.db.models import Exists, OuterRef, Q, QuerySet, Sum
from django.db.transaction import atomic
from django.utils.timezone import now

from kits import models as kits
from kits.measures import Currency
from planning import models
from planning.stock import (
    Book,
    CutLine,
    EntryKind,
    Holding,
    Lot,
    Move,
    Place,
    StockEntry,
    StockError,
    carry,
    change,
    cut,
    reverse,
)

Make = Callable[[Book, int], Sequence[Move]]


class OtherMoneyError(StockError):
    """A month is kept in another currency than the club's stock book."""

    def __init__(self, book: models.StockBook, currency: str) -> None:
        super().__init__(
            f"The stock book of {book.club} is kept in {book.currency}, and this month is in {currency}: "
            "enter it from a month in the same currency"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What stands over an entry. key: of the form that makes it; by: the name of who sends the form."""

    kind: EntryKind
    by: str
    key: str
    note: str = ""
    order: str = ""
    reverses: int | None = None


@dataclass(frozen=True, slots=True)
class Posted:
    """An entry that stands in the book. is_new: made now; else the same form was sent before, and nothing was made."""

    row: models.StockEntry
    is_new: bool


# --- Making entries ---


@contextmanager
def writing(month: kits.Month) -> Iterator[models.StockBook]:
    """Hold the book of a month's club, begun where there is none, so that nobody else makes an entry meanwhile."""
    with atomic():
        models.StockBook.objects.get_or_create(club=month.code, defaults={"currency": month.currency})
        book = models.StockBook.objects.select_for_update().get(club=month.code)
        if book.currency != month.currency:
            raise OtherMoneyError(book, month.currency)
        yield book


def post(month: kits.Month, heading: Heading, items: Collection[str], make: Make) -> Posted:
    """Make an entry. items: whose balances it needs; make: its moves, from these balances and the entry's serial.

    Raises StockError, and nothing is entered.
    """
    with writing(month) as book:
        if made := book.entries.filter(key=heading.key).first():
            return Posted(made, False)
        serial = book.last + 1
        moves = make(Book(holdings(book, items)), serial)
        row = models.StockEntry.objects.create(
            book=book,
            serial=serial,
            kind=heading.kind.value,
            at=now(),
            by=heading.by,
            note=heading.note,
            order=heading.order,
            month=month.month,
            reverses=heading.reverses,
            key=heading.key,
        )
        models.StockMove.objects.bulk_create(move_rows(row, moves))
        book.last = serial
        book.save(update_fields=["last"])
        return Posted(row, True)


def move_rows(entry: models.StockEntry, moves: Iterable[Move]) -> Iterator[models.StockMove]:
    """Yield unsaved rows of an entry's moves."""
    for position, move in enumerate(moves):
        yield models.StockMove(
            book_id=entry.book_id,
            entry=entry,
            position=position,
            item=move.item,
            place=move.place.value,
            lot_entry=move.lot.entry,
            lot_line=move.lot.line,
            quantity=move.quantity,
            value=move.value,
            line=move.line,
        )


def post_carry(
    month: kits.Month,
    goods: Sequence[tuple[str, int]],
    origin: Place,
    target: Place,
    by: str,
    key: str,
    note: str = "",
) -> Posted:
    """Carry goods between places: issue to cutting or packing, bring back, set aside as spoiled. Raises StockError."""
    heading = Heading(kind=EntryKind.ISSUE, by=by, key=key, note=note)
    return post(
        month, heading, [item for item, _ in goods], lambda book, serial: carry(book, goods, origin, target)
    )


def post_cut(
    month: kits.Month, source: str, units: int, lines: Sequence[CutLine], by: str, key: str, note: str = ""
) -> Posted:
    """Enter a cutting ticket's totals: `units` sheets or rolls of `source` cut up into good and spoiled pieces.

    key: the same for a form sent twice, which then makes one entry. Raises StockError, and nothing is entered.
    """
    heading = Heading(kind=EntryKind.CUT, by=by, key=key, note=note)
    items = [source, *(line.item for line in lines)]
    return post(month, heading, items, lambda book, serial: cut(book, serial, source, units, lines))


@dataclass(frozen=True, slots=True)
class Counted:
    """What was counted of an item on the shelf, and what one costs if more are found than the book says."""

    item: str
    quantity: int
    each: Decimal


def post_count(month: kits.Month, counted: Sequence[Counted], by: str, key: str, note: str = "") -> Posted:
    """Enter what the shelf really holds; a count that agrees with the book stands there as well. Raises StockError."""
    exponent = Currency(month.currency).exponent

    def make(book: Book, serial: int) -> Sequence[Move]:
        changes = [
            (one.item, one.quantity - book.quantity(one.item, Place.SHELF), Fraction(one.each) * 10**exponent)
            for one in counted
        ]
        return change(book, serial, changes)

    heading = Heading(kind=EntryKind.COUNT, by=by, key=key, note=note)
    return post(month, heading, [one.item for one in counted], make)


def post_adjust(
    month: kits.Month,
    item: str,
    by_how_many: int,
    each: Decimal,
    other: Place,
    by: str,
    key: str,
    reason: str,
) -> Posted:
    """Set the shelf right by so many, with the reason why. other: where missing ones went. Raises StockError."""
    if not reason.strip():
        raise StockError("Say why: whoever reads the book next year will ask")
    if by_how_many == 0:
        raise StockError(f"{item}: nothing is changed by 0")
    cost = Fraction(each) * 10 ** Currency(month.currency).exponent
    heading = Heading(kind=EntryKind.ADJUST, by=by, key=key, note=reason)
    changes = [(item, by_how_many, cost)]
    return post(month, heading, [item], lambda book, serial: change(book, serial, changes, other))


def post_reversal(month: kits.Month, row: models.StockEntry, by: str, key: str, note: str = "") -> Posted:
    """Take an entry back. Raises StockError where its goods have moved on, or it was taken back before."""
    with writing(month) as book:
        if made := book.entries.filter(key=key).first():
            return Posted(made, False)
        if again := book.entries.filter(reverses=row.serial).first():
            raise StockError(f"Entry {row.serial} was taken back already, by entry {again.serial}")
        entry = entry_of(row)
        heading = Heading(
            kind=EntryKind.REVERSE, by=by, key=key, note=note, order=row.order, reverses=row.serial
        )
        return post(
            month,
            heading,
            {move.item for move in entry.moves},
            lambda balances, serial: reverse(balances, entry),
        )


# --- Reading ---


def book_of(month: kits.Month) -> models.StockBook | None:
    """Return the book of a month's club, None before anything was entered."""
    return models.StockBook.objects.filter(club=month.code).first()


def is_counted(month: kits.Month) -> bool:
    """Tell whether the shelf was ever counted into the book of a month's club."""
    return models.StockEntry.objects.filter(book__club=month.code, kind=EntryKind.COUNT).exists()


def cut_totals(month: kits.Month) -> dict[str, tuple[int, int]]:
    """Return the pieces booked as cut for a month, by code: good and spoiled; what was taken back is not counted."""
    entries = models.StockEntry.objects.filter(
        book__club=month.code, month=month.month, kind=EntryKind.CUT.value
    )
    taken_back = models.StockEntry.objects.filter(book=OuterRef("book"), reverses=OuterRef("serial"))
    moves = models.StockMove.objects.filter(
        entry__in=entries.exclude(Exists(taken_back)),
        place__in=[Place.SHELF.value, Place.SPOILED.value],
        quantity__gt=0,
    )
    totals: dict[str, tuple[int, int]] = {}
    for item, place, count in moves.values_list("item", "place").annotate(count=Sum("quantity")):
        good, spoiled = totals.get(item, (0, 0))
        totals[item] = (good + count, spoiled) if place == Place.SHELF.value else (good, spoiled + count)
    return totals


def holdings(book: models.StockBook, items: Collection[str] | None = None) -> Iterator[Holding]:
    """Yield the balances by item, place and lot, added up from the moves; of all items where none are named."""
    moves = models.StockMove.objects.filter(book=book)
    if items is not None:
        moves = moves.filter(item__in=items)
    sums = (
        moves.order_by("item", "place", "lot_entry", "lot_line")
        .values_list("item", "place", "lot_entry", "lot_line")
        .annotate(units=Sum("quantity"), cost=Sum("value"))
        .exclude(units=0, cost=0)
    )
    for item, place, entry, line, quantity, value in sums:
        held, cost = int(quantity), int(value)  # PostgreSQL adds whole numbers up to decimals
        yield Holding(item=item, place=Place(place), lot=Lot(entry, line), quantity=held, value=cost)


@dataclass(frozen=True, slots=True)
class Balance:
    """What a place holds of an item, all lots together."""

    item: str
    place: Place
    quantity: int
    value: int


def balances(book: models.StockBook | None) -> tuple[Balance, ...]:
    """Return the balances by item and place, added up from the moves; none of a book that is not begun."""
    if book is None:
        return ()
    sums = (
        models.StockMove.objects.filter(book=book)
        .order_by("item", "place")
        .values_list("item", "place")
        .annotate(units=Sum("quantity"), cost=Sum("value"))
    )
    return tuple(
        Balance(item, Place(place), int(units), int(cost))
        for item, place, units, cost in sums
        if units or cost
    )


def entries(book: models.StockBook, item: str = "", place: str = "") -> QuerySet[models.StockEntry]:
    """Return the entries, the latest first; only those that move an item or touch a place where these are named."""
    rows = book.entries.prefetch_related("moves")
    wanted = Q(moves__item=item) if item else Q()
    wanted &= Q(moves__place=place) if place else Q()
    return rows.filter(wanted).distinct() if wanted else rows.all()


def entry_of(row: models.StockEntry) -> StockEntry:
    """Return an entry as plain data."""
    return StockEntry(
        serial=row.serial,
        kind=EntryKind(row.kind),
        moves=tuple(map(move_of, row.moves.all())),
        at=row.at,
        by=row.by,
        note=row.note,
        order=row.order,
        reverses=row.reverses,
    )


def move_of(row: models.StockMove) -> Move:
    """Return a move as plain data."""
    return Move(
        item=row.item,
        place=Place(row.place),
        lot=Lot(row.lot_entry, row.lot_line),
        quantity=row.quantity,
        value=row.value,
        line=row.line,
    )


def whole_book(book: models.StockBook) -> tuple[StockEntry, ...]:
    """Return all entries in order, for the checker."""
    return tuple(map(entry_of, book.entries.prefetch_related("moves").order_by("serial")))


def money(units: int, currency: str) -> Decimal:
    """Return an amount from smallest units."""
    return Decimal(units).scaleb(-Currency(currency).exponent)


def latest_cost(book: models.StockBook | None, item: str) -> Decimal:
    """Return what one of an item cost when it last came in, 0 where it never did."""
    if book is None:
        return Decimal(0)
    last = (
        models.StockMove.objects.filter(book=book, item=item, place=Place.SHELF, quantity__gt=0, value__gt=0)
        .order_by("-lot_entry", "-lot_line")
        .values_list("value", "quantity")
        .first()
    )
    if last is None:
        return Decimal(0)
    return (money(last[0], book.currency) / last[1]).quantize(Decimal("0.000001"))
