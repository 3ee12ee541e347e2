"""What is on the shelf, by the club's stock book."""

from typing import Any

from django.http import HttpRequest
from ninja import Router, Schema

from planning.api.months import Club, MonthCode, month_of
from planning.api.pages import After, Limit, Paged, page_of
from planning.api.tokens import Bearer, Scope
from planning.api.trouble import PROBLEMS
from planning.stockbook import balances, book_of

router = Router(tags=["Stock"])


class HeldOut(Schema):
    """What a place holds of an item. place: the shelf, a bench, or what is set aside."""

    number: int
    item: str
    place: str
    quantity: int


@router.get(
    "/stock", response={200: Paged[HeldOut], **PROBLEMS}, auth=Bearer(Scope.STOCK), summary="What lies where"
)
def stock(request: HttpRequest, club: Club, month: MonthCode, after: After = 0, limit: Limit = 100) -> Any:
    """Return what each place holds, item by item; nothing where the stock book is not begun."""
    held = sorted(balances(book_of(month_of(club, month))), key=lambda one: (one.item, one.place))
    rows = [
        HeldOut(number=number, item=one.item, place=one.place, quantity=one.quantity)
        for number, one in enumerate(held, 1)
    ]
    return page_of(rows, after, limit)
