"""A month file comes in: whole, or not at all and with every problem told."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from functools import partial
from typing import Any

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now

from kits import models as kits
from planning import load, save
from planning.faults import TITLES
from planning.faults.keys import KEYS
from planning.month import Month
from planning.run import fingerprint
from planning.views import words
from planning.views.parts import Line, Table, number, text

LARGEST_FILE = 30_000_000  # bytes


class UploadError(ValueError):
    """A file that is not taken in, with what to say about it. field: the field of the form it is said of."""

    def __init__(self, said: str, field: str = "file", table: Table | None = None) -> None:
        super().__init__(said)
        self.field = field
        self.table = table


def upload(request: HttpRequest) -> HttpResponse:
    """Take a month file in, or say everything that stands in its way."""
    if request.method != "POST":
        return render(request, "planning/upload.html")
    may_replace = request.POST.get("replace") == "yes"
    try:
        row = take_in(request.FILES.get("file"), may_replace, partial(messages.success, request))
    except UploadError as problem:
        shown = {"error": problem, "table": problem.table, "replace": may_replace}
        return render(request, "planning/upload.html", shown, status=422)
    return redirect("month", month=row.pk)


def take_in(file: "UploadedFile[Any] | None", may_replace: bool, tell: Callable[[str], None]) -> kits.Month:
    """Save the month in a file, or find that it is here already. Raises UploadError, and nothing is saved."""
    if file is None:
        raise UploadError("Choose a month file, or download the empty one first.")
    if (file.size or 0) > LARGEST_FILE:
        most = words.file_size(LARGEST_FILE)
        raise UploadError(
            f"{file.name} is larger than {most}. A month file with 100,000 subscribers is smaller."
        )
    month = read(file)
    kept = kits.Month.objects.filter(code=month.club.code, month=str(month.club.month)).first()
    if kept is not None and kept.fingerprint == fingerprint(month):
        tell(f"{file.name} holds what is here already; nothing changed.")
        return kept
    if kept is not None and not may_replace:
        raise surprise(kept, month)
    row = saved(month)
    tell(f"{file.name} is taken in{' in place of what was here' if kept else ''}. Plan the month next.")
    return row


def saved(month: Month) -> kits.Month:
    """Save a month. Raises UploadError where the database has no room for a text in it."""
    try:
        return save.month(month)
    except DatabaseError:
        raise UploadError("The database cannot keep this month: a code or name in it is too long.") from None


def read(file: "UploadedFile[Any]") -> Month:
    """Read a month file. Raises UploadError with a table of every problem."""
    from planning.monthfile import MonthFileError, read_month

    try:
        return read_month(file.read(), now().date())
    except MonthFileError as problem:
        many = words.counted(len(problem.problems), "problem")
        raise UploadError(
            f"{file.name} has {many}. Nothing was saved.", table=problem_table(problem)
        ) from None


def problem_table(problem: Any) -> Table:
    """Return every problem of a file with its place."""
    return Table(
        "What to put right in the file",
        (
            text("Sheet"),
            number("Row"),
            text("Column"),
            text("Value"),
            text("What is wrong"),
            text("What to do"),
        ),
        [
            Line(
                (
                    one.sheet or "The file",
                    str(one.row or ""),
                    " ".join(part for part in (one.column, one.heading) if part),
                    one.value,
                    words.sentence(one.why),
                    one.allowed,
                )
            )
            for one in problem.problems
        ],
    )


# --- A month that is here already ---


@dataclass(frozen=True, slots=True)
class Difference:
    """How a table in a file differs from what is kept."""

    table: str
    new: int
    changed: int
    gone: int
    same: int


def surprise(kept: kits.Month, month: Month) -> UploadError:
    """Return the error for a month that is kept already and is another, with what would change."""
    title = f"{month.club.month.title} of {month.club.name}"
    return UploadError(
        f"{title} is here already, and this file differs from it. Tick “Replace it” and choose the file again.",
        field="replace",
        table=difference_table(load.month(kept.pk), month),
    )


def difference_table(kept: Month, file: Month) -> Table:
    """Return what would change, table by table."""
    found = [difference(table, getattr(kept, table), getattr(file, table)) for table in KEYS]
    settings = [
        each.name
        for each in fields(kept.club)
        if getattr(kept.club, each.name) != getattr(file.club, each.name)
    ]
    lines = [
        Line((TITLES["club"], "0", str(len(settings)), "0", str(len(fields(kept.club)) - len(settings))))
    ]
    lines += [
        Line((TITLES[one.table], *map(words.count, (one.new, one.changed, one.gone, one.same))))
        for one in found
        if one.new or one.changed or one.gone
    ]
    heads = ("New", "Changed", "Gone", "Same")
    return Table("What would change, in rows", (text("Sheet"), *(number(head) for head in heads)), lines)


def difference(table: str, kept: tuple[Any, ...], file: tuple[Any, ...]) -> Difference:
    """Compare the rows of a table by the key that tells them apart."""
    before, after = by_key(table, kept), by_key(table, file)
    both = before.keys() & after.keys()
    same = sum(before[key] == after[key] for key in both)
    return Difference(table, len(after) - len(both), len(both) - same, len(before) - len(both), same)


def by_key(table: str, rows: tuple[Any, ...]) -> Mapping[tuple[Any, ...], Any]:
    """Return rows by their keys."""
    return {tuple(getattr(row, name) for name in KEYS[table]): row for row in rows}
