"""What a bench's screen is told: the box in hand, the one before it, and how the wave gets on. Plain values, for JSON."""

from datetime import datetime
from typing import Any

from planning.at_bench.boxes import read_box, state_of
from planning.at_bench.desk import now_at
from planning.at_bench.released import Released
from planning.at_bench.waves import WaveWork, wave_now, wave_work
from planning.models import Bench, BoxWork
from planning.packed import Status
from planning.packing import BoxSpec
from planning.requirements import code_of


def screen(released: Released, bench: Bench, now: datetime) -> dict[str, Any]:
    """Return all that a bench's screen shows besides the answers to its acts."""
    works = BoxWork.objects.filter(plan=released.plan)
    hand = works.filter(bench=bench.name, status=Status.IN_HAND).first()
    last = works.filter(serial=bench.last).first() if bench.last else None
    wave = hand.wave if hand else wave_now(released, now.date(), bench.last)
    return {
        "plan": released.plan.pk,
        "hand": box_shown(released, hand) if hand else None,
        "last": {"serial": last.serial, "code": last.code} if last and may_open(last, bench) else None,
        "wave": wave_shown(wave_work(released, wave, now)) if wave else None,
    }


def may_open(last: BoxWork, bench: Bench) -> bool:
    """Tell whether a bench may open the box again that it closed last."""
    return last.status == Status.CLOSED and last.bench == bench.name


def box_shown(released: Released, row: BoxWork) -> dict[str, Any]:
    """Return a box with its list and what is in it."""
    box, spec = read_box(released, row.serial)
    whose = now_at(released.row.month_id, box.subscriber)
    wanted = released.list_of(spec)
    state = state_of(row)
    names = dict(released.items().values())
    return {
        "serial": row.serial,
        "code": row.code,
        "whose": ", ".join(filter(None, (whose.name, whose.city, whose.country))),
        "reference": whose.reference,
        "where": f"Wave {box.wave}, box {box.place} of {released.wave(box.wave).boxes:,}" if box.wave else "",
        "carton": spec.packed_in,
        "parcels": parcel_words(spec),
        "lines": [
            {"item": line.item, "code": line.code, "name": line.name, "want": line.count}
            for line in wanted.lines
        ],
        "trail": [list(one) for one in state.trail],
        "wrong": state.wrong and names.get(state.wrong, code_of(state.wrong) or state.wrong),
        "weighing": [wanted.weighing.lightest, wanted.weighing.heaviest] if wanted.weighing else None,
    }


def parcel_words(spec: BoxSpec) -> list[str]:
    """Say what goes into which parcel, where there are several."""
    if len(spec.parcels) < 2:
        return []
    return [
        f"{one.carton.container.name}: " + ", ".join(f"{line.count} × {line.item.name}" for line in one.lines)
        for one in spec.parcels
    ]


def wave_shown(work: WaveWork) -> dict[str, Any]:
    """Return how a wave gets on. finish: seconds since 1970, so that the tablet tells its own time."""
    wave, pace = work.wave, work.pace
    return {
        "number": wave.number,
        "title": f"Wave {wave.number}, {wave.day:%a} {wave.day.day} {wave.day:%b}, {wave.service.name}",
        "boxes": pace.boxes,
        "done": pace.done,
        "left": pace.left,
        "pulled": work.pulled,
        "hourly": round(pace.hourly) if pace.hourly else None,
        "finish": int(pace.finish.timestamp()) if pace.finish else None,
    }
