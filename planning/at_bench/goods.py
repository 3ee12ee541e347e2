"""Goods that turn out damaged or missing while boxes are packed: booked in the club's stock book, in its own units."""

from decimal import Decimal

from kits.models import Month
from planning.packed import Act, BoxEvent
from planning.requirements import Kind, code_of, kind_of
from planning.stock import Place, StockError
from planning.stockbook import is_counted, post_adjust, post_carry

IN_THE_BOOK = (Kind.MATERIAL, Kind.PIECE)  # lengths are cut from rolls, which the book counts whole


def book_goods(month: Month, code: str, event: BoxEvent) -> str:
    """Book what an act says is damaged or missing, and say what came of it. The act's id keeps it from counting twice."""
    if kind_of(event.item) not in IN_THE_BOOK:
        return "Not in the stock book: it counts whole rolls. Book the roll there once it is used up."
    if not is_counted(month):
        return "Not in the stock book: the shelf was never counted into it."
    book = damaged if event.act is Act.DAMAGED else missing
    for place in (Place.BOXES, Place.SHELF):
        try:
            return book(month, code, event, place)
        except StockError as error:
            said = str(error)
    return f"Not in the stock book: {said}"


def damaged(month: Month, code: str, event: BoxEvent, place: Place) -> str:
    """Set goods aside as spoiled."""
    goods = [(code_of(event.item), event.count)]
    note = f"Damaged in box {code}"
    posted = post_carry(month, goods, place, Place.SPOILED, event.who, key_of(event), note)
    return f"Entry {posted.row.serial} in the stock book: spoiled."


def missing(month: Month, code: str, event: BoxEvent, place: Place) -> str:
    """Take goods out of the book that nobody finds."""
    item = code_of(event.item)
    if (
        place is Place.BOXES
    ):  # what was issued to the benches is brought back first: only the shelf is set right
        note = f"To be set right: missing in box {code}"
        post_carry(month, [(item, event.count)], place, Place.SHELF, event.who, key_of(event) + "b", note)
    posted = post_adjust(
        month,
        item,
        -event.count,
        Decimal(0),
        Place.DIFFERENCE,
        event.who,
        key_of(event),
        f"Missing in box {code}",
    )
    return f"Entry {posted.row.serial} in the stock book: missing."


def key_of(event: BoxEvent) -> str:
    """Return an act's id as the stock book keeps a form's key."""
    return event.id.replace("-", "")
