"""How the waves of the plan that is packed get on."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Count, Q, QuerySet

from planning.at_bench.released import Released
from planning.models import BoxWork, Plan
from planning.packed import Pace, Status, pace, window
from planning.packed.pace import WINDOW
from planning.shipping import Wave


@dataclass(frozen=True, slots=True)
class WaveWork:
    """A wave and how it gets on. pulled: boxes out of it."""

    wave: Wave
    pace: Pace
    pulled: int


def wave_work(released: Released, number: int, now: datetime) -> WaveWork:
    """Return how one wave gets on."""
    wave = released.wave(number)
    done, pulled = counts(released.plan, [number]).get(number, (0, 0))
    closed = works(released.plan).filter(
        wave=number, status=Status.CLOSED, closed_at__gte=now - WINDOW, packed_by=None
    )
    lately = [when for when in closed.order_by("closed_at").values_list("closed_at", flat=True) if when]
    return WaveWork(wave, pace(wave.boxes - pulled, done, *window(lately, now), now), pulled)


def counts(plan: Plan, waves: Iterable[int]) -> dict[int, tuple[int, int]]:
    """Return for each wave that was begun how many boxes are closed, and how many pulled."""
    rows = works(plan).filter(wave__in=list(waves)).values_list("wave")
    found = rows.annotate(
        done=Count("pk", filter=Q(status=Status.CLOSED)), pulled=Count("pk", filter=~Q(pulled=""))
    )
    return {wave: (done, pulled) for wave, done, pulled in found}


def works(plan: Plan) -> QuerySet[BoxWork]:
    """Return the boxes of a plan that anything was done to."""
    return BoxWork.objects.filter(plan=plan).order_by()


def wave_now(released: Released, today: date, last: int | None) -> int:
    """Return the wave a bench is at: that of its last box; else the first that is due and not done; 0 without any.

    last: serial of the last box of the bench.
    """
    if last is not None and (row := works(released.plan).filter(serial=last).values_list("wave").first()):
        return int(row[0])
    waves = released.planned.plan.waves
    due = [wave.number for wave in waves if wave.day <= today] or [wave.number for wave in waves[:1]]
    ended = counts(released.plan, due)
    open_ones = (number for number in due if not is_done(released, number, ended))
    return next(open_ones, due[-1] if due else 0)


def is_done(released: Released, number: int, ended: Mapping[int, tuple[int, int]]) -> bool:
    """Tell whether no box of a wave is left. ended: as `counts` returns it."""
    return sum(ended.get(number, (0, 0))) >= released.wave(number).boxes
