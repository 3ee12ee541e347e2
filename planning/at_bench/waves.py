"""How the waves of the plan that is packed get on."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Count, QuerySet

from planning.at_bench.released import Released
from planning.models import BoxWork, Plan
from planning.packed import Pace, Status, pace, window
from planning.packed.pace import WINDOW
from planning.shipping import Wave

Ended = Mapping[int, tuple[int, int]]
"""By waves: boxes that are closed, and boxes that are pulled."""


@dataclass(frozen=True, slots=True)
class WaveWork:
    """A wave and how it gets on. pulled: boxes out of it."""

    wave: Wave
    pace: Pace
    pulled: int


def wave_work(released: Released, number: int, now: datetime) -> WaveWork:
    """Return how one wave gets on."""
    wave = released.wave(number)
    done, pulled = counts(released.plan, number).get(number, (0, 0))
    closed = works(released.plan).filter(
        wave=number, status=Status.CLOSED, closed_at__gte=now - WINDOW, packed_by=None
    )
    lately = [when for when in closed.order_by("closed_at").values_list("closed_at", flat=True) if when]
    return WaveWork(wave, pace(wave.boxes - pulled, done, *window(lately, now), now), pulled)


def counts(plan: Plan, wave: int | None = None) -> Ended:
    """Return for each wave that was begun, or one, how many boxes are closed and how many pulled: read from indexes."""
    rows = works(plan).values_list("wave")
    rows = rows if wave is None else rows.filter(wave=wave)
    done = dict(rows.filter(status=Status.CLOSED).annotate(number=Count("pk")))
    pulled = dict(rows.filter(pulled__gt="").annotate(number=Count("pk")))
    return {wave: (done.get(wave, 0), pulled.get(wave, 0)) for wave in {*done, *pulled}}


def works(plan: Plan) -> QuerySet[BoxWork]:
    """Return the boxes of a plan that anything was done to."""
    return BoxWork.objects.filter(plan=plan).order_by()


def wave_now(released: Released, today: date, last: int | None) -> int:
    """Return the wave a bench is at: that of its last box; else the first that is due and not done; 0 without any.

    last: serial of the last box of the bench.
    """
    if last is not None and (row := works(released.plan).filter(serial=last).values_list("wave").first()):
        return int(row[0])
    return first_open(released, today, counts(released.plan))


def first_open(released: Released, today: date, ended: Ended) -> int:
    """Return the first wave that is due and not done; the last one due where all are; 0 without any."""
    waves = released.planned.plan.waves
    due = [wave for wave in waves if wave.day <= today] or list(waves[:1])
    left = (wave.number for wave in due if sum(ended.get(wave.number, (0, 0))) < wave.boxes)
    return next(left, due[-1].number if due else 0)
