"""Taking a roster in once somebody has agreed to it, or dropping it."""

from django.db.transaction import atomic
from django.utils.timezone import now

from kits.models import Month
from planning.changing import changing
from planning.intake import rows
from planning.models import Intake, Step


class ChangedMonthError(Exception):
    """The month is no longer what the file was compared with: the file has to be looked through again."""


def take(intake: Intake) -> None:
    """Change the month as the intake says, all of it or nothing; a second time changes nothing.

    Raises ChangedMonthError, and the intake then waits to be looked through again.
    """
    try:
        change(intake)
    except ChangedMonthError:
        Intake.objects.filter(pk=intake.pk, step=Step.AGREED).update(step=Step.WAITING)
        raise
    rows.clear(intake.pk)


def change(intake: Intake) -> None:
    """Merge the rows, and mark the intake in the same moment."""
    agreed = Intake.objects.filter(pk=intake.pk, step=Step.AGREED)
    ended = {"step": Step.TAKEN, "ended_at": now()}
    if not intake.new and not intake.changed:
        agreed.update(**ended)
    elif agreed.exists():
        with changing(intake.month, "subscribers"):
            if not agreed.update(**ended):
                return
            if Month.objects.get(pk=intake.month_id).fingerprint != intake.fingerprint:
                raise ChangedMonthError
            rows.merge(intake.pk, intake.month_id)


@atomic
def drop(intake: Intake) -> None:
    """Forget a file that is not taken in."""
    ended = (Step.TAKEN, Step.REFUSED)
    Intake.objects.filter(pk=intake.pk).exclude(step__in=ended).update(step=Step.DROPPED, ended_at=now())
    rows.clear(intake.pk)
