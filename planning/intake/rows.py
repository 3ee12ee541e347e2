"""The statements that compare a file's rows with a month's people, and change the people.

All is said of the rows that are not faulty. Both databases know the same SQL but for one word and for the way rows come in.
"""

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, fields, replace
from operator import attrgetter
from typing import Any

from django.db import connection
from django.db.transaction import atomic

from planning import roster
from planning.faults.texts import UNPRINTABLE
from planning.models import IntakeRow, Subscriber
from planning.rosterfile import Chunk

FIELDS = tuple(each.name for each in fields(roster.Subscriber))
ROWS = IntakeRow._meta.db_table  # noqa: SLF001 - documented, whatever its name
PEOPLE = Subscriber._meta.db_table  # noqa: SLF001
COLUMNS: dict[str, Any] = {name: IntakeRow._meta.get_field(name) for name in FIELDS}  # noqa: SLF001
AT_ONCE = 2_000
NOTHING = roster.Subscriber(reference="", name="", address_1="", city="", country="", tier="", quantity=0)

Values = tuple[Any, ...]


# --- Rows in and out ---


def add(intake: int, chunk: Chunk) -> None:
    """Keep a chunk's rows. Of a faulty one only the reference is kept, for a later row may have the same."""
    rows = (values(intake, number, one, number in chunk.faulty) for number, one in chunk.people)
    columns = ", ".join(("intake_id", "number", "faulty", *FIELDS))
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            with cursor.copy(f"COPY {ROWS} ({columns}) FROM STDIN") as copy:
                for row in rows:
                    copy.write_row(row)
        else:
            marks = ", ".join(["%s"] * (len(FIELDS) + 3))
            cursor.executemany(f"INSERT INTO {ROWS} ({columns}) VALUES ({marks})", list(rows))  # noqa: S608


def values(intake: int, number: int, one: roster.Subscriber, faulty: bool) -> Values:
    """Return a row as its table keeps it."""
    if faulty:
        one = replace(NOTHING, reference="" if UNPRINTABLE.search(one.reference) else one.reference)
    joined = one.joined and one.joined.isoformat()
    skips = COLUMNS["skips"].get_prep_value(one.skips) if one.skips else "[]"
    codes = COLUMNS["promotions"].get_prep_value(one.promotions) if one.promotions else "[]"
    return (intake, number, faulty, *before_joined(one), joined, skips, one.sent, codes, one.note)


before_joined = attrgetter(*FIELDS[: FIELDS.index("joined")])


def clear(intake: int) -> None:
    """Forget all rows of an intake."""
    IntakeRow.objects.filter(intake=intake).delete()


def settle() -> None:
    """Let the database count the rows, so that it knows how to join them."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(f"ANALYZE {ROWS}")


# --- Rows of one reference ---

FIRSTS = f"""
    SELECT reference, MIN(number) AS first FROM {ROWS} WHERE intake_id = %s AND reference <> ''
    GROUP BY reference HAVING COUNT(*) > 1
"""  # noqa: S608 - tables and columns of our own


def twice(intake: int) -> Iterator[tuple[int, int, IntakeRow]]:
    """Yield every row whose reference stands in an earlier one: its number, the first one's, and the row."""
    columns = ", ".join(f"r.{name}" for name in FIELDS)
    query = f"""
        SELECT r.number, firsts.first, r.faulty, {columns}
        FROM {ROWS} r JOIN ({FIRSTS}) firsts ON firsts.reference = r.reference
        WHERE r.intake_id = %s AND r.number > firsts.first ORDER BY r.number
    """  # noqa: S608
    with closing(connection.chunked_cursor()) as cursor:
        cursor.execute(query, (intake, intake))
        while found := cursor.fetchmany(AT_ONCE):
            for number, first, faulty, *fields_found in found:
                kept = {
                    one: COLUMNS[one].to_python(each) for one, each in zip(FIELDS, fields_found, strict=True)
                }
                yield number, first, IntakeRow(number=number, faulty=faulty, **kept)


def leave_out_twice(intake: int) -> None:
    """Mark all but the first row of each reference as faulty."""
    with connection.cursor() as cursor:
        cursor.execute(
            f"""
            UPDATE {ROWS} AS r SET faulty = %s FROM ({FIRSTS}) firsts
            WHERE r.intake_id = %s AND r.reference = firsts.reference AND r.number > firsts.first
            """,  # noqa: S608
            (True, intake, intake),
        )


# --- Comparing and changing ---


@dataclass(frozen=True, slots=True)
class Comparison:
    """What would become of a month. boxes: a month, after the change, one-off orders apart."""

    new: int
    changed: int
    same: int
    kept: int
    boxes: int


def differs() -> str:
    """Return the condition that a person is not as the row of the same reference says."""
    unlike = "IS DISTINCT FROM" if connection.vendor == "postgresql" else "IS NOT"
    return "(" + " OR ".join(f"s.{name} {unlike} r.{name}" for name in FIELDS) + ")"


def compare(intake: int, month: int) -> Comparison:
    """Compare an intake's rows with a month's people."""
    with connection.cursor() as cursor:
        cursor.execute(
            f"""
            SELECT COUNT(*), COUNT(s.id), COALESCE(SUM(CASE WHEN s.id IS NOT NULL AND {differs()} THEN 1 END), 0),
                COALESCE(SUM(CASE WHEN r.active THEN r.quantity END), 0),
                COALESCE(SUM(CASE WHEN s.active THEN s.quantity END), 0)
            FROM {ROWS} r LEFT JOIN {PEOPLE} s ON s.month_id = %s AND s.reference = r.reference
            WHERE r.intake_id = %s AND NOT r.faulty
            """,  # noqa: S608
            (month, intake),
        )
        rows, known, changed, boxes, before = cursor.fetchone()
        cursor.execute(
            f"SELECT COUNT(*), COALESCE(SUM(CASE WHEN active THEN quantity END), 0) FROM {PEOPLE} WHERE month_id = %s",  # noqa: S608
            (month,),
        )
        people, all_boxes = cursor.fetchone()
    return Comparison(rows - known, changed, known - changed, people - known, all_boxes - before + boxes)


@atomic
def merge(intake: int, month: int) -> None:
    """Change the people who differ, and add those who are new behind the others, in the order of the file."""
    copied = ", ".join(f"{name} = r.{name}" for name in FIELDS)
    own = ", ".join(f"r.{name}" for name in FIELDS)
    with connection.cursor() as cursor:
        cursor.execute(
            f"""
            UPDATE {PEOPLE} AS s SET {copied} FROM {ROWS} r
            WHERE r.intake_id = %s AND NOT r.faulty AND s.month_id = %s AND s.reference = r.reference AND {differs()}
            """,  # noqa: S608
            (intake, month),
        )
        cursor.execute(
            f"""
            INSERT INTO {PEOPLE} (month_id, position, {", ".join(FIELDS)})
            SELECT %s, last.position + ROW_NUMBER() OVER (ORDER BY r.number), {own}
            FROM {ROWS} r CROSS JOIN (SELECT COALESCE(MAX(position), -1) AS position FROM {PEOPLE} WHERE month_id = %s) last
            WHERE r.intake_id = %s AND NOT r.faulty
                AND NOT EXISTS (SELECT 1 FROM {PEOPLE} s WHERE s.month_id = %s AND s.reference = r.reference)
            """,  # noqa: S608
            (month, month, intake, month),
        )
