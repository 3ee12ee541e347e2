"""The form of a row: a field for each column of its sheet, as the column is declared."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django.http import Http404, HttpRequest

from kits import models as kits
from planning import edits, load
from planning.countries import COUNTRIES
from planning.digests import mark
from planning.editing import NEW
from planning.faults import TITLES, Fault
from planning.faults.book import Book
from planning.faults.keys import KEYS
from planning.faults.references import REFERENCES, TAKES_CLUB_PIECES
from planning.faults.texts import LONGEST_NAME, LONGEST_OF
from planning.models.tables import TABLES
from planning.monthfile.codecs import Codes, Date, Habits, Lines, Text
from planning.monthfile.lists import NAMED
from planning.monthfile.sheets import CLUB, Sheet
from planning.monthfile.sheets.sheet import Column as Asked
from planning.monthfile.write import note_of
from planning.views.forms import Field, Form
from planning.views.rows import short, url

FIXED = {"club": ("code", "month")}  # what a month is known by, everywhere
MOST_NAMED = 300  # rows of another sheet to choose one from
MOST_TOLD = 3  # faults in a message
NAMES_ONE_OF = {(one.table, one.field): one.to for one in REFERENCES} | {
    ("kit_lines", "item"): ("recipes", "pre_cuts", "materials")
}


def place_asked(request: HttpRequest, sheet: Sheet, name: str = "at") -> int:
    """Return the place of the row the URL asks for, NEW where it asks for none."""
    said = request.GET.get(name, "")
    if sheet is CLUB:
        return 0
    if not said:
        return NEW
    if not said.isascii() or not said.isdigit() or len(said) > 9:
        raise Http404
    return int(said)


def version(kept: Any) -> str:
    """Return what tells a row from the same one changed."""
    return "" if kept is None else mark(kept).hex()


def told(found: Sequence[Fault]) -> str:
    """Say what stands in the way of a plan now that did not before."""
    if not found:
        return ""
    first = " ".join(f"{TITLES[fault.table]}: {fault}" for fault in found[:MOST_TOLD])
    more = f" And {len(found) - MOST_TOLD} more." if len(found) > MOST_TOLD else ""
    return f" In the way of a plan until it is put right: {first}{more}"


def name_of(sheet: Sheet, one: Any) -> str:
    """Return what a row is called in a message; nobody's name or address is."""
    if sheet is CLUB:
        return "the settings"
    parts = (getattr(one, name) for name in KEYS[sheet.table])
    said = ", ".join(
        ", ".join(map(str, part)) if isinstance(part, tuple) else str(part) for part in parts if part
    )
    return short(said) or "the row"


def form_of(
    owner: kits.Month,
    sheet: Sheet,
    place: int,
    kept: Any,
    texts: Mapping[str, str],
    habits: Habits,
    wrong: Mapping[str, str] | None = None,
    problem: str = "",
) -> Form:
    """Return the form of a row."""
    table = f"sheet={sheet.table}"
    links = [(url("rows", owner, table), sheet.title)] if sheet is not CLUB else []
    if kept is not None and sheet is not CLUB:
        links += [
            (url("row", owner, f"{table}&like={place}"), "Duplicate this row"),
            (url("row_delete", owner, f"{table}&at={place}"), "Delete this row"),
        ]
    title = (
        sheet.title
        if sheet is CLUB
        else name_of(sheet, kept)
        if kept is not None
        else f"New row: {sheet.title}"
    )
    back = url("sheets", owner, "") if sheet is CLUB else url("rows", owner, table)
    return Form(
        title=title,
        lede=f"The {sheet.title} sheet of {load.club(owner).month.title}. What is changed counts from the next plan on.",
        button="Save" if kept is not None else "Add the row",
        back=(back, "Leave it as it is"),
        links=tuple(links),
        fields=tuple(
            field_of(owner, sheet, column, texts[column.field], habits, wrong or {})
            for column in sheet.columns
        ),
        hidden=(("version", version(kept)),),
        failed="Nothing was saved",
        problem=problem,
    )


def field_of(
    owner: kits.Month, sheet: Sheet, column: Asked, value: str, habits: Habits, wrong: Mapping[str, str]
) -> Field:
    """Return one field of a form: its column as it is declared."""
    choices = choices_of(owner, sheet, column, value)
    kind = "choice" if choices else kind_of(column, value)
    hint = note_of(sheet, column, habits)
    if column.field in FIXED.get(sheet.table, ()):
        hint, kind, choices = "What the month is known by: it stays.", "fixed", ()
    return Field(
        name=column.field,
        label=column.title(habits),
        value=value,
        kind=kind,
        hint=hint,
        choices=choices,
        error=wrong.get(column.field, ""),
    )


def kind_of(column: Asked, value: str) -> str:
    """Return how a field without choices is typed."""
    is_long = isinstance(column.codec, Text) and LONGEST_OF.get(column.field, LONGEST_NAME) > LONGEST_NAME
    if isinstance(column.codec, Lines) or is_long or "\n" in value:
        return "words"
    if isinstance(column.codec, Date):
        return "day"
    return "number" if column.codec.is_number else "text"


def choices_of(owner: kits.Month, sheet: Sheet, column: Asked, value: str) -> tuple[tuple[str, str], ...]:
    """Return what a field may say, where that is a list; what it says now is always among it."""
    found = list(listed(owner, sheet, column))
    if not found:
        return ()
    if value not in (one for one, _ in found):
        found.insert(0, (value, value or "–"))
    elif not sheet.is_needed(column) and sheet.default(column) is None:
        found.insert(0, ("", "–"))
    return tuple(found)


def listed(owner: kits.Month, sheet: Sheet, column: Asked) -> Iterator[tuple[str, str]]:
    """Yield the values a field may have, each with its text."""
    if column.codec.choices:
        yield from ((one, one) for one in column.codec.choices)
    elif column.field == "country":
        yield from ((code, f"{code}, {name}") for code, name in COUNTRIES.items())
    elif not isinstance(column.codec, Codes):
        yield from named_elsewhere(owner, sheet.table, column.field)


def named_elsewhere(owner: kits.Month, table: str, field: str) -> Iterator[tuple[str, str]]:
    """Yield what a field may name of other sheets, if they are short."""
    if (table, field) in NAMED:
        places = [NAMED[table, field]]
    else:
        tables = NAMES_ONE_OF.get((table, field), ())
        places = [(one, "code") for one in tables]
    if any(one in load.PEOPLE for one, _ in places):
        return
    for one, by in places:
        yield from named(owner, one, by)
    if (table, field) in TAKES_CLUB_PIECES:
        yield from ((code, code) for code in Book(load.without_people(owner), {}).club_pieces)


def named(owner: kits.Month, table: str, field: str) -> Iterator[tuple[str, str]]:
    """Yield what another sheet's rows are known by, with their names."""
    model = TABLES[table]
    titles = [one.name for one in model._meta.get_fields() if one.name in ("name", "title")]  # noqa: SLF001
    titles = titles[:1] if field == "code" else []
    rows = dict.fromkeys(edits.rows_of(table, owner).values_list(field, *titles)[:MOST_NAMED])
    seen = set()
    for code, *name in rows:
        if code not in seen:
            seen.add(code)
            yield code, ", ".join([code, *name])
