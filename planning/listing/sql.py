"""What all statements share: each subscriber with a key that holds everything planning must know of them.

Alike people have the same key. The few places where the two databases spell a thing differently are in `SPELLED`.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import connection
from django.db.backends.utils import CursorWrapper
from django.db.transaction import atomic

from planning.calendar import YearMonth
from planning.countries import COUNTRIES
from planning.roster import Besides, Occasions, OneOffOrder, Subscriber
from planning.roster.model import OTHER

SEPARATOR = "\x1f"  # no code holds a control character

SPELLED = {
    "postgresql": {
        "goods": "CAST(json_object_agg(item, n ORDER BY item) AS text)",
        "values": "SELECT {columns} FROM json_array_elements(CAST(%({name})s AS json)) AS each(v)",
        "int": "CAST(v->>{at} AS integer)",
        "text": "v->>{at}",
        "find": "strpos",
        "bare": """upper(replace(replace(s.postcode, ' ', ''), '-', '') COLLATE "C")""",
    },
    "sqlite": {
        "goods": "json_group_object(item, n)",
        "values": "SELECT {columns} FROM json_each(%({name})s)",
        "int": "json_extract(value, '$[{at}]')",
        "text": "json_extract(value, '$[{at}]')",
        "find": "instr",
        "bare": "upper(replace(replace(s.postcode, ' ', ''), '-', ''))",
    },
}

PEOPLE = """
SELECT s.position, s.reference,
       s.tier || '\x1f' || s.quantity || '\x1f' || CAST(s.active AS text)
       || '\x1f' || COALESCE(substr(CAST(s.joined AS text), 1, 7), '') || '\x1f' || s.skips
       || '\x1f' || CASE WHEN s.sent IS NULL THEN '' WHEN s.sent IN ({sent}) THEN CAST(s.sent AS text) ELSE '{other}' END
       || '\x1f' || {promotions}
       || '\x1f' || s.country || '\x1f' || {postcode} || '\x1f' || COALESCE(g.goods, '') AS key
FROM planning_subscriber s
LEFT JOIN (
    SELECT subscriber, {goods} AS goods
    FROM (SELECT subscriber, why || ':' || item AS item, SUM(count) AS n FROM planning_oneofforder
          WHERE month_id = %(month)s {whose} GROUP BY subscriber, why, item) each_good
    GROUP BY subscriber
) g ON g.subscriber = s.reference
{alike}
WHERE s.month_id = %(month)s {places}
"""
"""Months of joining are enough: the day within one changes nothing. Of boxes so far and promotions only what a rule asks for
is in the key, so that there are not as many keys as people; and of postcodes one for all that lie in the same zones."""
ALIKE = """
LEFT JOIN ({table}) alike ON alike.country = s.country AND alike.begins = {begins}
"""
PROMOTION = "CASE WHEN {find}(s.promotions, CAST(%({name})s AS text)) > 0 THEN CAST(%({name})s AS text) || ',' ELSE '' END"
PLACES = "AND s.position >= %(first)s AND s.position < %(end)s"
WHOSE = (
    "AND subscriber IN (SELECT s.reference FROM planning_subscriber s WHERE s.month_id = %(month)s {places})"
)


@dataclass(frozen=True, slots=True)
class Asks:
    """What the rules and the carriers ask of a subscriber, as the statement takes it.

    sent: boxes before; promotions: codes. alike: country, how a postcode begins there, and the beginning that stands for
    all in the same zones; none for countries where no zone goes by the postcode.
    """

    sent: tuple[int, ...] = ()
    promotions: tuple[str, ...] = ()
    alike: tuple[tuple[str, str, str], ...] = ()

    @classmethod
    def of(cls, occasions: Occasions, alike: Iterable[tuple[str, str, str]] = ()) -> "Asks":
        """Return what a month's rules and zones ask."""
        before = tuple(number - 1 for number in sorted(occasions.numbers))
        return cls(before, tuple(sorted(occasions.promotions)), tuple(alike))

    @property
    def codes(self) -> dict[str, str | int]:
        """Each promotion's code as it stands in a list."""
        return {f"code{at}": json.dumps(code, ensure_ascii=False) for at, code in enumerate(self.promotions)}

    @property
    def values(self) -> dict[str, str | int]:
        """The statement's own parameters."""
        return self.codes | {"alike": json.dumps(self.alike)}


def people(asks: Asks, *, some: bool = False) -> str:
    """Return the statement that yields position, reference and key of a month's subscribers, or of some places of them."""
    spelled = SPELLED[connection.vendor]
    codes = [PROMOTION.format(find=spelled["find"], name=name) for name in asks.codes]
    return PEOPLE.format(
        goods=spelled["goods"],
        sent=", ".join(map(str, asks.sent)) or "NULL",
        other=OTHER,
        promotions=" || ".join(codes) or "''",
        postcode="COALESCE(alike.stands_for, '')" if asks.alike else "''",
        alike=alike_table(asks) if asks.alike else "",
        whose=WHOSE.format(places=PLACES) if some else "",
        places=PLACES if some else "",
    )


def alike_table(asks: Asks) -> str:
    """Return the join to what stands for a postcode."""
    spelled = SPELLED[connection.vendor]
    named = (
        f"{spelled['text'].format(at=at)} AS {column}"
        for at, column in enumerate(("country", "begins", "stands_for"))
    )
    table = spelled["values"].format(columns=", ".join(named), name="alike")
    lengths = {country: len(begins) for country, begins, _ in sorted(asks.alike, key=lambda one: len(one[1]))}
    return ALIKE.format(table=table, begins=beginning(lengths))


def beginning(lengths: Mapping[str, int]) -> str:
    """Return the expression of how a postcode begins, as far as zones go by it in its country. lengths: by ISO code."""
    postcode = SPELLED[connection.vendor]["bare"]
    cases = " ".join(
        f"WHEN '{country}' THEN substr({postcode}, 1, {length})"
        for country, length in sorted(lengths.items())
        if country in COUNTRIES
    )
    return f"CASE s.country {cases} ELSE '' END"


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
    tier, quantity, active, joined, skips, sent, codes, country, postcode, goods = key.split(SEPARATOR)
    one = Subscriber(
        reference="",
        name="",
        address_1="",
        city="",
        country=country,
        postcode=postcode,
        tier=tier,
        quantity=int(quantity),
        active=active in ("1", "true"),
        joined=date.fromisoformat(f"{joined}-01") if joined else None,
        skips=tuple(map(YearMonth.parse, json.loads(skips))),
        sent=int(sent) if sent else None,
        promotions=tuple(json.loads(f"[{codes.rstrip(',')}]")),
    )
    wanted: dict[str, Any] = json.loads(goods) if goods else {}
    return one, [order(name, int(n)) for name, n in wanted.items()]


def order(name: str, count: int) -> OneOffOrder:
    """Return what the key says of somebody's orders of one thing."""
    why, _, item = name.partition(":")
    return OneOffOrder(reference="", subscriber="", item=item, count=count, why=Besides(why))
