"""What is done to one person on the roster without a form: a rest, a month without a box, something put in as a gift."""

from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest

from kits import models as kits
from planning import edits, load
from planning.calendar import YearMonth
from planning.documents.codes import year_month
from planning.models import OneOffOrder
from planning.roster import Subscriber
from planning.views import gate
from planning.views.parts import Cell, Line, Table, number, text
from planning.views.rows import url

MOST_ORDERS = 50  # of one person, on the page


@dataclass(frozen=True, slots=True)
class Act:
    """Something to do with a button. name: what the form sends; said: what stands on it."""

    name: str
    said: str


def acts_of(one: Subscriber, month: YearMonth) -> tuple[Act, ...]:
    """Return what can be done to somebody."""
    rest = Act("pause", "Let the subscription rest") if one.active else Act("resume", "Take it up again")
    skips = month in one.skips
    skip = Act("unskip", f"Send a box in {month.title}") if skips else Act("skip", f"Skip {month.title}")
    return rest, skip


def acted(one: Subscriber, act: str, month: YearMonth) -> Subscriber | None:
    """Return somebody once it is done, None where there is no such act."""
    others = tuple(each for each in one.skips if each != month)
    return {
        "pause": replace(one, active=False),
        "resume": replace(one, active=True),
        "skip": replace(one, skips=tuple(sorted((*others, month)))),
        "unskip": replace(one, skips=others),
    }.get(act)


def beside(request: HttpRequest, owner: kits.Month, place: int, kept: Subscriber) -> dict[str, Any]:
    """Return what a subscriber's page shows besides the form."""
    if not gate.may_change(request, "subscribers"):
        return {"orders": orders_table(owner, kept)}
    month = load.club(owner).month
    return {
        "acts": acts_of(kept, month),
        "gift": gift_url(owner, kept, month),
        "orders": orders_table(owner, kept),
        "edits": [one for one in edits.undoable(owner, "subscribers") if gate.may_change(request, one.table)][
            :1
        ],
    }


def gift_url(owner: kits.Month, kept: Subscriber, month: YearMonth) -> str:
    """Return where something is put into somebody's box: a one-off order with a number of its own."""
    begun = f"GIFT-{year_month(month)}-"
    given = OneOffOrder.objects.filter(month=owner, reference__startswith=begun)
    taken = set(given.values_list("reference", flat=True))
    fresh = next(
        number for number in range(len(taken) + 1, 2 * len(taken) + 2) if f"{begun}{number}" not in taken
    )
    asks = {"sheet": "orders", "reference": f"{begun}{fresh}", "subscriber": kept.reference, "count": 1}
    return url("row", owner, urlencode(asks))


def orders_table(owner: kits.Month, kept: Subscriber) -> Table:
    """Return what somebody gets besides the subscription."""
    rows = edits.as_placed(
        "orders", edits.rows_of("orders", owner).filter(subscriber=kept.reference)[:MOST_ORDERS]
    )
    lines = [
        Line(
            (
                Cell(one.reference, href=url("row", owner, f"sheet=orders&at={place}")),
                one.item,
                f"{one.count:,}",
            )
        )
        for place, one in rows
    ]
    heads = (text("Order"), text("Item"), number("Count"))
    return Table("Ordered once, and gifts", heads, lines, empty="Nothing besides the subscription.")
