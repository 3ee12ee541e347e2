"""What all statements share: each subscriber with a key that holds everything planning must know of them.

Alike people have the same key. The few places where the two databases spell a thing differently are in `SPELLED`.
"""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from typing import Any

from django.db import connection
from django.db.backends.utils import CursorWrapper
from django.db.transaction import atomic

from planning.calendar import YearMonth
from planning.roster import OneOffOrder, Subscriber

SEPARATOR = "\x1f"  # no code holds a control character

SPELLED = {
    "postgresql": {
        "goods": "CAST(json_object_agg(item, n ORDER BY item) AS text)",
        "values": "SELECT {columns} FROM json_array_elements(CAST(%({name})s AS json)) AS each(v)",
        "int": "CAST(v->>{at} AS integer)",
    },
    "sqlite": {
        "goods": "json_group_object(item, n)",
        "values": "SELECT {columns} FROM json_each(%({name})s)",
        "int": "json_extract(value, '$[{at}]')",
    },
}

PEOPLE = """
SELECT s.position, s.reference,
       s.tier || '\x1f' || s.quantity || '\x1f' || CAST(s.active AS text)
       || '\x1f' || COALESCE(substr(CAST(s.joined AS text), 1, 7), '') || '\x1f' || s.skips
       || '\x1f' || s.country || '\x1f' || COALESCE(g.goods, '') AS key
FROM planning_subscriber s
LEFT JOIN (
    SELECT subscriber, {goods} AS goods
    FROM (SELECT subscriber, item, SUM(count) AS n FROM planning_oneofforder
          WHERE month_id = %(month)s {whose} GROUP BY subscriber, item) each_good
    GROUP BY subscriber
) g ON g.subscriber = s.reference
WHERE s.month_id = %(month)s {places}
"""
"""Months of joining are enough: the day within one changes nothing."""
PLACES = "AND s.position >= %(first)s AND s.position < %(end)s"
WHOSE = (
    "AND subscriber IN (SELECT s.reference FROM planning_subscriber s WHERE s.month_id = %(month)s {places})"
)


def people(*, some: bool = False) -> str:
    """Return the statement that yields position, reference and key of a month's subscribers, or of some places of them."""
    goods = SPELLED[connection.vendor]["goods"]
    whose = WHOSE.format(places=PLACES) if some else ""
    return PEOPLE.format(goods=goods, whose=whose, places=PLACES if some else "")


@contextmanager
def large_statement() -> Iterator[CursorWrapper]:
    """Open a cursor for a statement over many rows, in a transaction.

    PostgreSQL is given room to sort in memory and spared compiling a statement that is over before that pays. Rows made a
    moment ago are in no statistics yet, so it would take a table of thousands for one of a row and go through it again and
    again: it is told to join by hashes.
    """
    with atomic(), connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(
                "SET LOCAL work_mem = '64MB'; SET LOCAL jit = off; SET LOCAL enable_nestloop = off; "
                "SET LOCAL enable_mergejoin = off"
            )
        yield cursor


def table_of(name: str, *columns: str) -> str:
    """Return a table of a WITH clause, made from the parameter of its name: a JSON list of lists of whole numbers."""
    spelled = SPELLED[connection.vendor]
    named = ", ".join(f"{spelled['int'].format(at=at)} AS {column}" for at, column in enumerate(columns))
    return f"{name} AS MATERIALIZED ({spelled['values'].format(columns=named, name=name)})"


def read_key(key: str) -> tuple[Subscriber, list[OneOffOrder]]:
    """Return a subscriber with this key and their one-off orders, for the roster step's own rule."""
    tier, quantity, active, joined, skips, country, goods = key.split(SEPARATOR)
    one = Subscriber(
        reference="",
        name="",
        address_1="",
        city="",
        country=country,
        tier=tier,
        quantity=int(quantity),
        active=active in ("1", "true"),
        joined=date.fromisoformat(f"{joined}-01") if joined else None,
        skips=tuple(map(YearMonth.parse, json.loads(skips))),
    )
    wanted: dict[str, Any] = json.loads(goods) if goods else {}
    orders = [OneOffOrder(reference="", subscriber="", item=item, count=int(n)) for item, n in wanted.items()]
    return one, orders
