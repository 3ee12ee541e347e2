"""What changed since a plan was released: what was done at the desk, what was packed for nobody, what was planned since."""

from collections.abc import Iterator
from dataclasses import dataclass

from django.db.models import Count, Exists, OuterRef, QuerySet, Sum

from planning.at_bench.released import Released
from planning.models import BoxAct, BoxClass, BoxWork, Plan
from planning.models.packed import AT_THE_DESK
from planning.packed import Act, Status
from planning.run import id_of


@dataclass(frozen=True, slots=True)
class Difference:
    """Boxes of the same contents in the plan that is packed, and in the latest one."""

    contents: str
    packed: int
    latest: int


def done_since(released: Released) -> QuerySet[BoxAct]:
    """Return what was done at the desk, or damaged and missing at a bench, the latest first."""
    return BoxAct.objects.filter(plan=released.plan, act__in=AT_THE_DESK).order_by("-pk")


def counted(released: Released) -> dict[Act, tuple[int, int]]:
    """Return how often each of it was done, and on how many units in all."""
    rows = done_since(released).order_by().values_list("act").annotate(Count("pk"), Sum("count"))
    return {Act(act): (times, units) for act, times, units in rows}


def pulled_now(released: Released) -> QuerySet[BoxWork]:
    """Return the boxes that are out of their waves now."""
    return BoxWork.objects.filter(plan=released.plan, pulled__gt="").order_by("serial")


def astray(released: Released) -> QuerySet[BoxWork]:
    """Return boxes that an earlier plan packed and that nobody gets by this one."""
    earlier = Plan.objects.filter(releases__month=released.row.month_id).exclude(pk=released.plan.pk)
    counts = BoxWork.objects.filter(
        plan=released.plan, code=OuterRef("code"), reference=OuterRef("reference"), packed_by__isnull=False
    )
    packed = BoxWork.objects.filter(plan__in=earlier, status=Status.CLOSED, packed_by=None)
    return (
        packed.exclude(Exists(counts))
        .select_related("plan")
        .defer("plan__answers")
        .order_by("plan", "serial")
    )


def is_stale(released: Released) -> bool:
    """Tell whether the month's rows are others than those the plan was made of."""
    month = released.row.month
    return released.plan.plan_id != id_of(month.code, month.month, month.fingerprint)


def differences(released: Released, latest: Plan) -> Iterator[Difference]:
    """Yield the contents of which the latest plan has another number of boxes than the one that is packed."""
    before, after = boxes_by_contents(released.plan), boxes_by_contents(latest)
    for contents in sorted({*before, *after}):
        one = Difference(contents, before.get(contents, 0), after.get(contents, 0))
        if one.packed != one.latest:
            yield one


def boxes_by_contents(plan: Plan) -> dict[str, int]:
    """Return how many boxes of each contents a plan has."""
    rows = BoxClass.objects.filter(plan=plan).order_by().values_list("signature").annotate(Sum("boxes"))
    return dict(rows)
