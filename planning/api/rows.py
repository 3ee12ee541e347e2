"""Rows into a sheet of a month: what stands in the month file's columns, judged by the same rules, taken row by row."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Annotated, Any, get_type_hints

from django.http import HttpRequest
from ninja import Router, Schema
from pydantic import BaseModel, ConfigDict, Field, create_model

from kits.models import Month
from planning import edits, load, proposals
from planning.api.months import Club, MonthCode, month_of
from planning.api.once import Key, once
from planning.api.tokens import Bearer, Scope
from planning.api.trouble import PROBLEMS, Trouble
from planning.calendar import YearMonth
from planning.editing import Line, ReadLine, State, habits_of, text_of_field
from planning.editing.cells import read_text
from planning.models import ApiClient
from planning.monthfile.codecs import Habits
from planning.monthfile.problems import CellError, Problem
from planning.monthfile.sheets import BY_TABLE, Sheet

MOST_ROWS, LONGEST = 1_000, 500

Text = Annotated[str, Field(max_length=LONGEST)]
Month_ = Annotated[str, Field(pattern=r"^2[01][0-9]{2}-(0[1-9]|1[0-2])$")]
JSON_TYPES: dict[object, object] = {
    str: Text,
    int: Annotated[int, Field(ge=0, le=1_000_000)],
    bool: bool,
    date | None: date | None,
    tuple[YearMonth, ...]: Annotated[list[Month_], Field(max_length=36)],
}


class Refused(Schema):
    """A row that was not taken."""

    row: int = Field(description="Its place in the request, from 1")
    field: str
    value: str
    why: str


class Taken(Schema):
    """What became of the rows."""

    new: int
    changed: int
    same: int
    refused: tuple[Refused, ...] = ()


def row_model(sheet: Sheet) -> type[BaseModel]:
    """Return what a row looks like in a request: what is left out stays as it is, or is what an empty cell means."""
    hints = get_type_hints(sheet.row_type)
    given: dict[str, Any] = {}
    for column in sheet.columns:
        said = Field(default=None, description=f"{column.title(Habits())}. {column.note}")
        kind = JSON_TYPES.get(hints[column.field], Text)
        given[column.field] = (kind | None, said)  # type: ignore[operator]
    first = sheet.columns[0].field
    given[first] = (
        Annotated[str, Field(min_length=1, max_length=40)],
        Field(description=given[first][1].description),
    )
    return create_model(f"{sheet.row_type.__name__}Row", __config__=ConfigDict(extra="forbid"), **given)


def taken(month: Month, sheet: Sheet, rows: Sequence[BaseModel], by: str) -> Taken:
    """Add and change rows by what tells them apart. Rows with faults are left out and told; the others are taken."""
    habits = habits_of(load.club(month))
    lines = [read_line(sheet, number, row, habits) for number, row in enumerate(rows, 1)]
    proposal = proposals.proposed(month, sheet, lines, habits)
    people = proposal.changes if sheet.table == "subscribers" else ()
    if faults := list(proposals.too_many_boxes(month, people)):
        raise Trouble(422, f"{faults[0].why}. {faults[0].allowed}")
    if proposal.changes:
        make(month, sheet, proposal.changes, by)
    return Taken(
        new=proposal.count(State.NEW),
        changed=proposal.count(State.CHANGED),
        same=proposal.count(State.SAME),
        refused=tuple(each for line in proposal.lines for each in refusals(line)),
    )


def make(month: Month, sheet: Sheet, changes: Sequence[Any], by: str) -> None:
    """Make the changes. Raises Trouble where somebody else changed one of the rows at this moment."""
    try:
        edits.make(month, sheet.table, changes, by, f"{sheet.title}: from {by}, {len(changes):,} rows")
    except edits.ChangedError:
        raise Trouble(
            409, "Somebody changed one of these rows at the same moment. Send the request again."
        ) from None


def read_line(sheet: Sheet, number: int, row: BaseModel, habits: Habits) -> ReadLine:
    """Read a row of a request by the sheet's own columns."""
    read: dict[str, Any] = {}
    problems: list[Problem] = []
    for column in sheet.columns:
        value = getattr(row, column.field)
        if value is None:
            continue
        try:
            value = tuple(map(YearMonth.parse, value)) if isinstance(value, list) else value
            text = value if isinstance(value, str) else text_of_field(column, value, habits)
            read[column.field] = read_text(sheet, column, text, habits)
        except CellError as error:
            said = Problem(heading=column.field, value=error.value, why=error.why, allowed=error.allowed)
            problems.append(said)
    places = {column.field: ("", column.field) for column in sheet.columns}
    return ReadLine(number, read, tuple(problems), places=places)


def refusals(line: Line) -> Iterable[Refused]:
    """Yield what is wrong with a row."""
    for each in line.problems:
        said = str(Problem(value=each.value, why=each.why, allowed=each.allowed))
        yield Refused(row=line.read.number, field=each.heading, value=each.value, why=said)


def sheet_router(table: str, scope: Scope, path: str, what: str) -> Router:
    """Return the operation that takes rows of a sheet in."""
    sheet = BY_TABLE[table]
    row = row_model(sheet)
    given: dict[str, Any] = {"rows": (Annotated[list[row], Field(min_length=1, max_length=MOST_ROWS)], ...)}  # type: ignore[valid-type]
    rows = create_model(f"{sheet.row_type.__name__}Rows", **given)
    router = Router(tags=[sheet.title])

    def put(request: HttpRequest, club: Club, month: MonthCode, payload: Any, idempotency_key: Key) -> Any:
        owner = month_of(club, month)

        def act(client: ApiClient) -> Taken:
            return taken(owner, sheet, payload.rows, client.name)

        return once(request, idempotency_key, act)

    put.__annotations__["payload"] = rows
    told = f"{what} Rows are told apart by their reference; a row of a known one changes it. Rows with faults are left out."
    operation = router.put(
        path,
        response={200: Taken, **PROBLEMS},
        auth=Bearer(scope),
        operation_id=f"take_{table}",
        summary=f"Take in rows: {sheet.title}",
        description=told,
    )
    operation(put)
    return router


SUBSCRIBERS = sheet_router(
    "subscribers", Scope.ROSTER, "/subscribers", "Add and change who gets a box. Nobody goes out by it."
)
ORDERS = sheet_router(
    "orders", Scope.ORDERS, "/orders", "Add and change one-off orders and things added to boxes."
)
