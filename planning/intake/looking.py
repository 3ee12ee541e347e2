"""Looking through a roster's file: every row is judged, and nothing of the month is changed."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import chain, islice
from pathlib import Path
from uuid import uuid4

from django.db.models import Sum
from django.db.transaction import atomic
from django.utils.timezone import now

from kits import models as kits
from planning import load
from planning.faults.roster import too_many
from planning.intake import rows
from planning.intake.refused import (
    Line,
    Looked,
    Spool,
    spool,
    together,
    twice_line,
    twice_problem,
    write_refused,
)
from planning.intake.rows import Comparison
from planning.models import Intake, OneOffOrder, Step
from planning.month import Month
from planning.monthfile.problems import MonthFileError, Problem, refuse
from planning.rosterfile import Chunk, read_roster

MOST_FOUND = 200  # problems kept for pages; the file of refused rows has all

Tell = Callable[[int], None]


class SupersededError(Exception):
    """Somebody else looks through the file by now, or nobody should any more."""


@dataclass(slots=True)
class Looking:
    """What has been seen of a file. rows: so far; found: the first problems."""

    rows: int = 0
    found: list[Problem] = field(default_factory=list)

    def see(self, chunk: Chunk) -> None:
        """Count a chunk."""
        unread = {one.number for one in chunk.refused} - {number for number, _ in chunk.people}
        self.rows += len(chunk.people) + len(unread)
        problems = (problem for one in chunk.refused for problem in one.problems)
        self.found += islice(problems, max(0, MOST_FOUND - len(self.found)))


def look(intake: Intake, path: Path, refused: Path, tell: Tell = lambda rows: None) -> None:
    """Find what a file would change and write its faulty rows to `refused`, if there are any; the intake then says all.

    tell hears how many rows have been looked through. Raises SupersededError, and OSError where `refused` cannot be
    written. A file that cannot be read at all ends the intake, with the reason.
    """
    owner = uuid4().hex
    month = load.without_people(begin(intake, owner))
    try:
        with spool() as kept:
            seen = Looking()
            for chunk in read_roster(path, month):
                seen.see(chunk)
                kept.add(chunk.refused)
                keep(intake, owner, chunk, seen.rows)
                tell(seen.rows)
            if seen.rows == 0:
                raise refuse(
                    "there is nobody in the file", "Write a row for each subscriber below the headings."
                )
            conclude(intake, owner, month, seen, kept, refused)
    except MonthFileError as error:
        end(intake, owner, step=Step.REFUSED, error=str(error), ended_at=now())
        rows.clear(intake.pk)


@atomic
def begin(intake: Intake, owner: str) -> kits.Month:
    """Take the file up from its start, in place of whoever looked through it before; return the month as it is now."""
    month = kits.Month.objects.get(pk=intake.month_id)
    mine = {"owner": owner, "rows": 0, "fingerprint": month.fingerprint}
    if not Intake.objects.filter(pk=intake.pk, step=Step.WAITING).update(**mine):
        raise SupersededError
    rows.clear(intake.pk)
    return month


@atomic
def keep(intake: Intake, owner: str, chunk: Chunk, seen: int) -> None:
    """Keep a chunk's rows, as long as nobody else looks through the file."""
    end(intake, owner, rows=seen)
    rows.add(intake.pk, chunk)


def end(intake: Intake, owner: str, **values: object) -> None:
    """Change the intake's row. Raises SupersededError where somebody else looks through the file."""
    if not Intake.objects.filter(pk=intake.pk, owner=owner, step=Step.WAITING).update(**values):
        raise SupersededError


def conclude(intake: Intake, owner: str, month: Month, seen: Looking, kept: Spool, refused: Path) -> None:
    """Find rows of one reference, write what is refused, compare the rest with the month. Raises MonthFileError."""
    rows.settle()
    write_faults(intake, month, seen, kept, refused, now())
    rows.leave_out_twice(intake.pk)
    compared = rows.compare(intake.pk, intake.month.pk)
    refuse_too_many(intake, month, compared)
    end(
        intake,
        owner,
        step=Step.LOOKED_AT,
        new=compared.new,
        changed=compared.changed,
        same=compared.same,
        kept=compared.kept,
        faulty=seen.rows - compared.new - compared.changed - compared.same,
        found=[[one.row, one.heading, one.value, one.why, one.allowed] for one in seen.found],
    )


def write_faults(intake: Intake, month: Month, seen: Looking, kept: Spool, path: Path, at: datetime) -> None:
    """Write the refused rows, if there are any."""
    lines = together(kept.lines(), twice_lines(intake, seen))
    first = next(lines, None)
    if first is not None:
        made = Looked(plan_id=str(intake.month), version=0, made_at=at, file=intake.name)
        write_refused(chain((first,), lines), path, month.club, made, seen.rows)


def twice_lines(intake: Intake, seen: Looking) -> Iterator[Line]:
    """Yield the rows whose reference stands in an earlier one."""
    for number, first, row in rows.twice(intake.pk):
        problem = twice_problem(number, first, row.reference)
        if len(seen.found) < MOST_FOUND:
            seen.found.append(problem)
        yield twice_line(row, problem)


def refuse_too_many(intake: Intake, month: Month, compared: Comparison) -> None:
    """Refuse a roster that makes more boxes, or waves of them, than a month may have."""
    tiers = [tier.code for tier in month.tiers]
    orders = OneOffOrder.objects.filter(month=intake.month, item__in=tiers).aggregate(kits=Sum("count"))
    for fault in too_many(compared.boxes + (orders["kits"] or 0), month.club):
        raise refuse(f"{fault.value} {fault.why}", fault.allowed)
