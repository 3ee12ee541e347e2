"""Files that wait in the background: looked through, or taken in once somebody has agreed."""

from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.utils.timezone import now

from kits.models import Month
from planning.intake.looking import SupersededError, look
from planning.intake.taking import ChangedMonthError, drop, take
from planning.models import Intake, Step

PENDING = (Step.WAITING, Step.AGREED)
FORGOTTEN = timedelta(days=7)


def folder() -> Path:
    """Return where files lie until they are taken in."""
    return Path(settings.DATA_DIR, "rosters")


def refused_path(intake: Intake) -> Path:
    """Return where the rows lie that are not taken."""
    return folder() / f"{intake.pk}-refused.xlsx"


def receive(month: Month, file: "UploadedFile[bytes]", **more: object) -> Intake:
    """Keep a file to be looked through; earlier ones of the month that nobody agreed to are dropped. Raises OSError."""
    for earlier in Intake.objects.filter(month=month, step__in=(Step.WAITING, Step.LOOKED_AT)):
        forget(earlier)
    tidy()
    row = Intake.objects.create(month=month, name=str(file.name), **more)
    row.path = f"{row.pk}-file"
    folder().mkdir(parents=True, exist_ok=True)
    with (folder() / row.path).open("wb") as kept:
        for chunk in file.chunks():
            kept.write(chunk)
    row.save(update_fields=["path"])
    return row


def tidy() -> None:
    """Drop files nobody decided about for long, and refused rows nobody will put right any more: they are addresses."""
    for old in Intake.objects.filter(step=Step.LOOKED_AT, created_at__lt=now() - FORGOTTEN):
        forget(old)
    for path in folder().glob("*-refused.xlsx"):
        if path.stat().st_mtime < (now() - FORGOTTEN).timestamp():
            path.unlink(missing_ok=True)


def forget(intake: Intake) -> None:
    """Drop a file and its rows."""
    drop(intake)
    remove_file(intake)


def remove_file(intake: Intake) -> None:
    """Remove what was uploaded; the refused rows stay for whoever puts them right."""
    if intake.path:
        (folder() / intake.path).unlink(missing_ok=True)


def work(month: int, tell: Callable[[int], None] = lambda rows: None) -> None:
    """Do what waits for a month, until nothing does or somebody else does it. Doing it twice changes nothing more.

    tell hears of rows looked through. Raises OSError where a file cannot be written.
    """
    for intake in pending(month):
        try:
            work_on(intake, tell)
        except ChangedMonthError:
            continue  # it waits to be looked through again
        except SupersededError:
            intake.refresh_from_db()
            if intake.step == Step.WAITING:
                return  # whoever has it now goes on with what else there is
        intake.refresh_from_db()
        if intake.step in (Step.TAKEN, Step.REFUSED):
            remove_file(intake)


def work_on(intake: Intake, tell: Callable[[int], None]) -> None:
    """Look through a file, or take it in. Raises SupersededError and ChangedMonthError."""
    if intake.step == Step.AGREED:
        take(intake)
    else:
        look(intake, folder() / intake.path, refused_path(intake), tell)


def pending(month: int) -> Iterator[Intake]:
    """Yield what waits, as long as anything does."""
    waiting = Intake.objects.filter(month=month, step__in=PENDING).exclude(path="").order_by("id")
    while (intake := waiting.first()) is not None:
        yield intake
