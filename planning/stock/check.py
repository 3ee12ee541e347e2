"""The checker of the stock book. It shares no code with the entries or the balances."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

from planning.stock.model import KEPT, EntryKind, Holding, Lot, Place, StockEntry

Key = tuple[str, Place, Lot]
Held = defaultdict[tuple[str, Place], defaultdict[Lot, tuple[int, int]]]


def book_faults(entries: Sequence[StockEntry]) -> tuple[str, ...]:
    """Return everything that is wrong with a book, its entries in order.

    Serials run without gaps. In every entry each lot of each item comes to nothing, in units and in value. No place that
    keeps goods ever holds less than none, or a value without goods. Older lots leave first. A reversal mirrors its entry,
    once.
    """
    faults: list[str] = []
    if (serials := [one.serial for one in entries]) != list(range(1, len(entries) + 1)):
        faults.append(f"entries are numbered {serials[:3]} to {serials[-3:]}, {len(serials)} in all")
    held: Held = defaultdict(lambda: defaultdict(lambda: (0, 0)))
    for entry in entries:
        faults += lopsided(entry)
        for move in entry.moves:
            lots = held[move.item, move.place]
            quantity, value = lots[move.lot]
            lots[move.lot] = (quantity + move.quantity, value + move.value)
        faults += impossible(entry, held)
        if entry.kind is not EntryKind.REVERSE:
            faults += out_of_turn(entry, held)
        forget_the_gone(entry, held)
    return (*faults, *bad_reversals(entries))


def forget_the_gone(entry: StockEntry, held: Held) -> None:
    """Drop lots of which nothing is left, so that a long book is checked as quickly as a short one."""
    for move in entry.moves:
        if held[move.item, move.place].get(move.lot) == (0, 0):
            del held[move.item, move.place][move.lot]


def lopsided(entry: StockEntry) -> Iterator[str]:
    """Yield what of an entry does not come to nothing."""
    units: Counter[tuple[str, Lot]] = Counter()
    values: Counter[tuple[str, Lot]] = Counter()
    for move in entry.moves:
        units[move.item, move.lot] += move.quantity
        values[move.item, move.lot] += move.value
    for item, lot in units:
        if units[item, lot] or values[item, lot]:
            off = f"{units[item, lot]} units and {values[item, lot]} in value"
            yield f"entry {entry.serial}: lot {lot} of {item} is off by {off}"
    if not entry.moves and entry.kind is not EntryKind.COUNT:
        yield f"entry {entry.serial} moves nothing"
    if through := sum(move.value for move in entry.moves if move.place is Place.CUT_UP):
        yield f"entry {entry.serial}: {through} in value stay between sheets and pieces"


def impossible(entry: StockEntry, held: Held) -> Iterator[str]:
    """Yield places that hold less than none after an entry, or a value without goods."""
    for item, place, lot in {(move.item, move.place, move.lot) for move in entry.moves}:
        quantity, value = held[item, place][lot]
        if place in KEPT and (quantity < 0 or value < 0 or (quantity == 0 and value != 0)):
            yield f"entry {entry.serial}: {place} holds {quantity} of {item}, lot {lot}, at {value}"


def out_of_turn(entry: StockEntry, held: Held) -> Iterator[str]:
    """Yield lots of which some left a place while an older one is still there."""
    for move in entry.moves:
        if move.place in KEPT and move.quantity < 0:
            lots = held[move.item, move.place]
            older = [lot for lot, (quantity, _) in lots.items() if lot < move.lot and quantity > 0]
            if older:
                yield f"entry {entry.serial}: lot {move.lot} of {move.item} left {move.place} before {older[0]}"


def bad_reversals(entries: Sequence[StockEntry]) -> Iterator[str]:
    """Yield reversals that do not mirror an entry before them, or come twice."""
    by_serial = {one.serial: one for one in entries}
    for serial, times in Counter(one.reverses for one in entries if one.reverses is not None).items():
        if times > 1:
            yield f"entry {serial} is taken back {times} times"
    for one in entries:
        if (one.kind is EntryKind.REVERSE) != (one.reverses is not None):
            yield f"entry {one.serial} is no whole reversal"
        if one.reverses is None:
            continue
        before = by_serial.get(one.reverses)
        if before is None or before.serial >= one.serial or mirrored(before) != sides(one):
            yield f"entry {one.serial} does not mirror entry {one.reverses}"


def sides(entry: StockEntry) -> Counter[tuple[str, Place, Lot, int, int]]:
    """Return an entry's moves, in no order."""
    return Counter((one.item, one.place, one.lot, one.quantity, one.value) for one in entry.moves)


def mirrored(entry: StockEntry) -> Counter[tuple[str, Place, Lot, int, int]]:
    """Return what takes an entry back."""
    return Counter((one.item, one.place, one.lot, -one.quantity, -one.value) for one in entry.moves)


def balance_faults(entries: Iterable[StockEntry], holdings: Iterable[Holding]) -> tuple[str, ...]:
    """Return where balances are not the sum of the entries."""
    units: Counter[Key] = Counter()
    values: Counter[Key] = Counter()
    for entry in entries:
        for move in entry.moves:
            units[move.item, move.place, move.lot] += move.quantity
            values[move.item, move.place, move.lot] += move.value
    for one in holdings:
        units[one.item, one.place, one.lot] -= one.quantity
        values[one.item, one.place, one.lot] -= one.value
    return tuple(
        f"{place}, lot {lot} of {item}: off by {units[item, place, lot]} units, {values[item, place, lot]} in value"
        for item, place, lot in units
        if units[item, place, lot] or values[item, place, lot]
    )
