"""The rows of a sheet that somebody looks for: filtered, sorted and by pages, as the URL says."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

from django.db.models import Q, QuerySet, Sum
from django.http import HttpRequest

from kits import models as kits
from planning import edits, load
from planning.editing import field_texts, habits_of
from planning.editing.change import Placed
from planning.faults.keys import KEYS
from planning.monthfile.sheets import BY_TABLE, Column, Sheet
from planning.views import gate

SIZE = 50  # rows on a page: its cells take longer to set out than to find
MOST_CHOICES = 40  # in a filter
MOST_FILTERS = 3
FEW = 1_000  # rows of the roster that are found in one look

# how the roster and its orders are found: (looked for from their beginnings, looked for anywhere), and what sorts them
PEOPLE_FINDS = {
    "subscribers": (("reference", "postcode"), ("name", "city")),
    "orders": (("reference", "subscriber", "item"), ()),
}
PEOPLE_SORTS = {"subscribers": ("reference", "name"), "orders": ("reference",)}
PEOPLE_FILTERS = {"subscribers": ("tier", "active"), "orders": ()}


@dataclass(frozen=True, slots=True)
class Asked:
    """What the URL asks for. chosen: field -> the text its cell must hold. sort: a field, with - before it the other way."""

    sheet: Sheet
    find: str = ""
    chosen: Mapping[str, str] = field(default_factory=dict)
    sort: str = ""
    page: int = 1

    @classmethod
    def of(cls, request: HttpRequest, sheet: Sheet) -> "Asked":
        """Read the URL. What it says of fields that are not there is passed over."""
        names = {column.field for column in sheet.columns}
        chosen = {name: request.GET[f"is-{name}"] for name in sorted(names) if request.GET.get(f"is-{name}")}
        sort = request.GET.get("sort", "")
        find = " ".join(request.GET.get("find", "").replace("\x00", "").split())[:100]
        known = sort if sort.removeprefix("-") in names else ""
        return cls(sheet, find, chosen, known, gate.page_number(request, "page"))

    @property
    def is_filtered(self) -> bool:
        """Whether some rows may be left out."""
        return bool(self.find or self.chosen)

    def query(self, **other: Any) -> str:
        """Return the query of the page that asks the same but for something else."""
        one = replace(self, **{"page": 1, **other})
        parts = [("sheet", one.sheet.table), ("find", one.find)]
        parts += [(f"is-{name}", value) for name, value in one.chosen.items()]
        return urlencode([part for part in (*parts, ("sort", one.sort)) if part[1]])


@dataclass(frozen=True, slots=True)
class Found:
    """One page of the rows asked for. count: how many there are of them; all: how many the sheet has.

    filters: the fields to choose by, each with its choices. sorts: the fields that rows can be sorted by.
    """

    rows: Sequence[Placed]
    texts: Sequence[dict[str, str]]
    count: int
    all: int
    filters: Mapping[str, Sequence[str]]
    sorts: frozenset[str]


def found_of(row: kits.Month, asked: Asked) -> Found:
    """Find the rows asked for."""
    return of_people(row, asked) if asked.sheet.table in load.PEOPLE else of_few(row, asked)


# --- Sheets that are small in any month ---

Texts = tuple[tuple[int, Any, dict[str, str]], ...]


def of_few(row: kits.Month, asked: Asked) -> Found:
    """Find rows among all of a small table."""
    kept = all_rows(asked.sheet.table, row.pk, mark_of(row, asked.sheet.table))
    wanted = asked.find.casefold().split()
    left = [
        one
        for one in kept
        if all(one[2].get(name) == value for name, value in asked.chosen.items())
        and all(word in " ".join(one[2].values()).casefold() for word in wanted)
    ]
    if asked.sort:
        name = asked.sort.removeprefix("-")
        left.sort(key=lambda one: sort_key(getattr(one[1], name)), reverse=asked.sort.startswith("-"))
    shown = left[(asked.page - 1) * SIZE : asked.page * SIZE]
    return Found(
        [(place, plain) for place, plain, _ in shown],
        [texts for _, _, texts in shown],
        len(left),
        len(kept),
        few_filters(asked.sheet, kept),
        frozenset(column.field for column in asked.sheet.columns),
    )


def mark_of(row: kits.Month, table: str) -> str:
    """Return what tells a sheet from the same one changed, and its texts from those on another ruler or in other money.

    The same rows may have other places once a month file was taken in over them.
    """
    places = "" if table in load.PEOPLE else edits.rows_of(table, row).aggregate(sum=Sum("position"))["sum"]
    own, club = (row.digests.get(name, row.fingerprint) for name in (table, "club"))
    return f"{own} {club} {places}"


@lru_cache(maxsize=128)
def all_rows(table: str, pk: int, mark: str) -> Texts:
    """Return every row of a small table with its place and its texts."""
    row = kits.Month.objects.get(pk=pk)
    habits = habits_of(load.club(row))
    placed = edits.as_placed(table, edits.rows_of(table, row))
    return tuple((place, plain, field_texts(BY_TABLE[table], plain, habits)) for place, plain in placed)


def few_filters(sheet: Sheet, kept: Texts) -> dict[str, list[str]]:
    """Return the fields whose cells say one of few things, and all that they say."""
    found: dict[str, list[str]] = {}
    for column in sheet.columns:
        said = {texts[column.field] for _, _, texts in kept} - {""}
        if can_filter(sheet, column) and 1 < len(said) <= MOST_CHOICES and len(found) < MOST_FILTERS:
            found[column.field] = sorted(said)
    return found


def can_filter(sheet: Sheet, column: Column) -> bool:
    """Tell whether a field sorts rows into groups, as a choice does and a code of another sheet."""
    from planning.monthfile.lists import NAMED

    whole_key = KEYS[sheet.table] == (column.field,)
    return not whole_key and bool(column.codec.choices or (sheet.table, column.field) in NAMED)


def sort_key(value: Any) -> tuple[int, Any]:
    """Return what a field is sorted by: numbers and days by their size before texts, nothing last."""
    if value is None or value == "":
        return 2, ""
    if isinstance(value, int | Fraction | Decimal):
        return 0, value
    if isinstance(value, date):
        return 0, value.toordinal()
    return 1, str(value).casefold()


# --- The roster and its orders, which may be long ---


def of_people(row: kits.Month, asked: Asked) -> Found:
    """Find rows by statements: only those of the page are read."""
    table = asked.sheet.table
    rows = edits.rows_of(table, row)
    left = narrowed(rows, asked)
    every = count_of(table, row.pk, mark_of(row, table))
    count, places = places_of(left, asked, every)
    by_place = edits.rows_at(table, row, places)
    shown = [(place, by_place[place]) for place in places if place in by_place]
    habits = habits_of(load.club(row))
    texts = [field_texts(asked.sheet, plain, habits) for _, plain in shown]
    return Found(shown, texts, count, every, people_filters(table, row), frozenset(PEOPLE_SORTS[table]))


def places_of(left: "QuerySet[Any]", asked: Asked, every: int) -> tuple[int, list[int]]:
    """Return how many rows are left, and the places of those on the page.

    Few are found by going through the roster once; of many the count is one look, and the page another that ends early.
    """
    first = (asked.page - 1) * SIZE
    name = asked.sort.removeprefix("-")
    order = [asked.sort, "position"] if name in PEOPLE_SORTS[asked.sheet.table] else ["position"]
    if asked.is_filtered and order == ["position"]:
        few = list(left.order_by().values_list("position", flat=True)[: FEW + 1])
        if len(few) <= FEW:
            return len(few), sorted(few)[first : first + SIZE]
    places = list(left.order_by(*order).values_list("position", flat=True)[first : first + SIZE])
    return left.count() if asked.is_filtered else every, places


def narrowed(rows: "QuerySet[Any]", asked: Asked) -> "QuerySet[Any]":
    """Return the rows that hold every word looked for, and what was chosen."""
    starts, holds = PEOPLE_FINDS[asked.sheet.table]
    if (known := by_reference(rows, asked)) is not None:
        return known
    for word in asked.find.split():
        either = Q()
        # on a long roster every look counts: a word without a digit is nobody's reference or postcode
        is_name = bool(holds) and not any(letter.isdigit() for letter in word)
        for name in () if is_name else starts:
            either |= Q(**{f"{name}__istartswith": word})
        for name in holds:
            either |= Q(**{f"{name}__icontains": word})
        rows = rows.filter(either)
    for name, value in asked.chosen.items():
        if name in PEOPLE_FILTERS[asked.sheet.table]:
            rows = rows.filter(**{name: value == "yes" if name == "active" else value})
    return rows


def by_reference(rows: "QuerySet[Any]", asked: Asked) -> "QuerySet[Any] | None":
    """Return the rows whose reference is or begins as it was typed, which an index knows; None where there are none."""
    typed = asked.find
    if asked.chosen or not typed:
        return None
    if any(letter.isdigit() for letter in typed):
        last = f"{typed}\U0010ffff"
        known = rows.filter(reference__gte=typed, reference__lt=last, reference__startswith=typed)
    else:
        known = rows.filter(reference__in={typed, typed.upper()})
    return known if known.exists() else None


@lru_cache(maxsize=512)
def count_of(table: str, pk: int, mark: str) -> int:
    """Return how many rows a sheet has."""
    return edits.rows_of(table, kits.Month(pk=pk)).count()


def people_filters(table: str, row: kits.Month) -> dict[str, list[str]]:
    """Return what the roster can be filtered by."""
    if table != "subscribers":
        return {}
    tiers = kits.Tier.objects.filter(month=row).order_by("position").values_list("code", flat=True)
    return {"tier": list(tiers), "active": ["yes", "no"]}
