"""Carriers' lists of tracking numbers: read, looked through, then taken. What is taken says that the carrier has the box."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from django.db.models import QuerySet
from django.db.transaction import atomic
from django.utils.timezone import now

from kits.models import Month
from planning.at_bench.released import Released
from planning.documents.codes import BoxCodeError, check_box_code
from planning.models import BoxWork, TrackingList, TrackingNumber
from planning.monthfile.codecs.words import Text
from planning.monthfile.headings import find_headings, split_top
from planning.monthfile.problems import refuse
from planning.monthfile.sheets.sheet import Column, Sheet
from planning.monthfile.tables import as_text
from planning.packed import ScanError
from planning.packed.scan import serial_of
from planning.rosterfile.source import open_roster
from planning.tracking import Refusal, Tracked, TrackingProblem, TrackingResult, TrackingRow, read_tracking

MOST_ROWS = 200_000
LONGEST = 100  # characters of a cell that are kept
BATCH = 2_000
BOX, NUMBER = "Box code", "Tracking number"


@dataclass(frozen=True, slots=True)
class NumberRow:
    """A row of a carrier's list as it stands in the file."""

    box: str
    number: str


@dataclass(frozen=True, slots=True)
class NumberSheet(Sheet):
    """A carrier's list: two of its columns are ours, and whatever else stands there is left alone."""

    @property
    def title(self) -> str:
        """What the tab says where a workbook has several."""
        return "Tracking"


SHEET = NumberSheet(
    "tracking",
    NumberRow,
    (Column("box", BOX, Text(), "As on the slip."), Column("number", NUMBER, Text(), "As on the label.")),
)


# --- Reading a file ---


def read_list(path: Path) -> list[tuple[int, str, str]]:
    """Return the rows of a list: number, box, tracking number. Raises MonthFileError for a file that cannot be read."""
    with open_roster(path, SHEET) as source:
        top, rest = split_top(source.rows)
        headings = find_headings(SHEET, top)
        if headings is None or headings.missing(SHEET):
            raise refuse(
                f"the headings “{BOX}” and “{NUMBER}” are not both in the first ten rows",
                "Add them above their columns.",
            )
        at = {column.field: place for place, column in headings.columns.items()}
        below = chain((row for row in top if row[0] > headings.row), rest)
        rows: list[tuple[int, str, str]] = []
        for number, cells in below:
            box, code = (as_text(cells.get(at[field])).strip()[:LONGEST] for field in ("box", "number"))
            if box or code:
                rows.append((number, box, code))
            if len(rows) > MOST_ROWS:
                raise refuse(f"the list has more than {MOST_ROWS:,} rows", "Divide it into several files.")
    return rows


# --- Putting it to the boxes ---


def look_through(released: Released, listed: TrackingList) -> TrackingResult:
    """Return what a list says that is new, what it repeats, and which rows are refused and why."""
    rows = [
        TrackingRow(row=row, box=plain(box), number=number, s10=listed.s10)
        for row, box, number in listed.rows
    ]
    asked = {row.box for row in rows}
    pulled = dict(works(released).filter(pulled__gt="").values_list("code", "pulled"))
    known = TrackingNumber.objects.filter(month=listed.month_id).values_list("box", "number")
    result = read_tracking(
        TrackingProblem(
            rows=tuple(row for row in rows if row.box not in pulled),
            boxes=frozenset(in_plan(released, asked)),
            known=tuple(Tracked(box=box, number=number) for box, number in known),
        )
    )
    refused = [
        Refusal(row=row.row, why=f"box {row.box} was pulled from its wave: {pulled[row.box]}")
        for row in rows
        if row.box in pulled
    ]
    return TrackingResult(
        new=result.new,
        repeated=result.repeated,
        refused=tuple(sorted((*result.refused, *refused), key=lambda one: one.row)),
    )


def works(released: Released) -> QuerySet[BoxWork]:
    """Return the boxes that anything was done to."""
    return BoxWork.objects.filter(plan=released.plan)


def plain(box: str) -> str:
    """Return a box code as it is printed; what is none stays as it is, to be refused."""
    try:
        return check_box_code(box)
    except BoxCodeError:
        return box


def in_plan(released: Released, codes: set[str]) -> Iterator[str]:
    """Yield the codes that are boxes of the plan, or on slips of boxes packed by an earlier one."""
    club = released.planned.club
    yield from works(released).filter(packed_by__isnull=False).values_list("code", flat=True)
    for code in codes:
        try:
            if plain(code) == code and 1 <= serial_of(code, club.code, club.month) <= released.plan.boxes:
                yield code
        except ScanError:
            continue


@atomic
def take_list(released: Released, pk: int) -> int:
    """Take the new numbers of a list, and return how many; a list is taken once."""
    Month.objects.select_for_update().get(pk=released.row.month_id)
    listed = TrackingList.objects.get(pk=pk, month=released.row.month_id)
    new = look_through(released, listed).new
    TrackingNumber.objects.bulk_create(
        (
            TrackingNumber(month=released.row.month, box=one.box, number=one.number, listed=listed)
            for one in new
        ),
        batch_size=BATCH,
    )
    listed.taken_at = listed.taken_at or now()
    listed.save(update_fields=["taken_at"])
    return len(new)
