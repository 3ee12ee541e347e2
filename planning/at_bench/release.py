"""Releasing a plan to the benches. What an earlier one packed counts where somebody gets the very same box now."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from django.db.models import QuerySet
from django.db.transaction import atomic
from django.utils.timezone import now

from kits.models import Month
from planning.at_bench.released import read, signature_of
from planning.models import BoxWork, Plan, Release
from planning.packed import Carried, Listed, Status, carry_over

BATCH = 2_000


@dataclass(frozen=True, slots=True)
class Takeover:
    """What was packed, as a plan takes it over. waves: of the boxes that packed ones stand for, by serial."""

    carried: Carried
    waves: Mapping[int, int]


@atomic
def release(month: Month, plan: Plan, by: str, *, weigh: bool, scale: int) -> Takeover:
    """Release a plan to the benches. scale: see `planning.models.Release`. Raises EarlierPlanError."""
    Month.objects.select_for_update().get(pk=month.pk)  # one after the other
    before = plan_before(month)
    Release.objects.create(month=month, plan=plan, at=now(), by=by, weigh=weigh, scale=scale)
    taken = takeover(before, plan)
    if before is not None and before.pk != plan.pk:
        works = list(carried_works(before, plan, taken))
        BoxWork.objects.filter(plan=plan, serial__in=[work.serial for work in works]).delete()
        BoxWork.objects.bulk_create(works, batch_size=BATCH)
    return taken


def plan_before(month: Month) -> Plan | None:
    """Return the plan that was released last."""
    row = month.releases.select_related("plan").defer("plan__answers").first()
    return row.plan if row else None


def takeover(before: Plan | None, plan: Plan) -> Takeover:
    """Return which boxes packed by one plan count in another."""
    if before is None or before.pk == plan.pk:
        return Takeover(Carried((), ()), {})
    packed = packed_boxes(before)
    planned, specs = read(plan)
    signatures = [signature_of(specs[one.contents]) for one in planned.plan.roster.classes]
    rows = plan.listed.filter(reference__in=packed.values("reference"))
    listed = list(rows.values_list("serial", "reference", "box_class", "wave"))
    carried = carry_over(
        (Listed(*one) for one in packed.values_list("serial", "reference", "signature")),
        (Listed(serial, reference, signatures[kind]) for serial, reference, kind, _ in listed),
    )
    return Takeover(carried, {serial: wave for serial, _, _, wave in listed})


def packed_boxes(plan: Plan) -> QuerySet[BoxWork]:
    """Return the boxes of a plan that are closed."""
    return BoxWork.objects.filter(plan=plan, status=Status.CLOSED).order_by("serial")


def carried_works(before: Plan, plan: Plan, taken: Takeover) -> Iterator[BoxWork]:
    """Yield unsaved rows of packed boxes as they stand in a later plan, each still known by the code on its slip."""
    to = dict(taken.carried.pairs)
    works: Iterable[BoxWork] = packed_boxes(before).iterator(chunk_size=BATCH)
    for work in works:
        if work.serial in to:
            yield BoxWork(
                plan=plan,
                serial=to[work.serial],
                wave=taken.waves[to[work.serial]],
                code=work.code,
                packed_by=work.packed_by or before.version,
                reference=work.reference,
                signature=work.signature,
                status=Status.CLOSED,
                bench=f"{work.bench}, version {before.version}",
                who=work.who,
                trail=work.trail,
                tenths=work.tenths,
                closed_at=work.closed_at,
            )
