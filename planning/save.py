"""Plain data -> rows. Each function saves all of what it is given, or nothing."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from typing import Any

from django.db.models import Max
from django.db.transaction import atomic

from kits import models as kits
from planning.digests import fingerprint_of
from planning.load import plan_json
from planning.models import Artefact, Job, Plan
from planning.models.tables import TABLES
from planning.month import Club, Month
from planning.run import Planned, Written, digests

BATCH = 2_000


@atomic
def month(book: Month) -> kits.Month:
    """Save a month, in place of what is kept of the same club and month."""
    values = club_values(book.club)
    found = digests(book)
    row, is_new = kits.Month.objects.update_or_create(
        code=values.pop("code"),
        month=values.pop("month"),
        defaults=values | {"digests": found, "fingerprint": fingerprint_of(found)},
    )
    for table, model in TABLES.items():
        if not is_new:
            model.objects.filter(month=row).delete()
        model.objects.bulk_create(model_rows(model, row, getattr(book, table)), batch_size=BATCH)
    return row


def club_values(club: Club) -> dict[str, Any]:
    """Return a club's settings as a month's row keeps them."""
    return {each.name: getattr(club, each.name) for each in fields(Club)} | {
        "month": str(club.month),
        "promised": str(club.promised),
        "short_goods": club.short_goods.value,
        "wave_fills": club.wave_fills.value,
        "slips": club.slips.value,
    }


def model_rows(model: type[Any], owner: kits.Month, plain: Sequence[Any]) -> Iterable[Any]:
    """Yield unsaved rows of a model with the values of plain ones."""
    names = [each.name for each in fields(plain[0])] if plain else []
    for position, one in enumerate(plain):
        yield model(month=owner, position=position, **{name: getattr(one, name) for name in names})


def next_version(job: Job) -> int:
    """Return the version of the plan a job makes; a job taken up again makes the same one."""
    if made := Plan.every.filter(job=job).first():
        return made.version
    latest = Plan.every.filter(month=job.month_id).aggregate(Max("version"))["version__max"]
    return (latest or 0) + 1


@atomic
def plan(job: Job, planned: Planned, folder: str, papers: Sequence[Written]) -> Plan:
    """Save a whole plan with its papers, which lie in `folder` of the artefacts folder."""
    values = headline(planned) | {"month_id": job.month_id, "ready": True}
    row, _ = Plan.every.update_or_create(job=job, defaults=values)
    row.papers.all().delete()
    artefacts(row, folder, dict(enumerate(papers)))
    return row


def begun(job: Job, planned: Planned) -> Plan:
    """Save what a job has decided, in place of any such attempt before; nobody sees it until its papers are there."""
    Plan.every.filter(job=job).delete()
    return Plan.every.create(job=job, month_id=job.month_id, ready=False, **headline(planned))


def folder_of(plan: Plan) -> str:
    """Return the folder of a plan's papers, its own alone, relative to the artefacts folder."""
    return f"{plan.plan_id}/version-{plan.version}/{plan.pk}"


@atomic
def artefacts(row: Plan, folder: str, papers: Mapping[int, Written]) -> None:
    """Save some of a plan's papers by their positions, in place of any of the same names."""
    row.papers.filter(name__in=[paper.name for paper in papers.values()]).delete()
    Artefact.objects.bulk_create(
        Artefact(
            plan=row,
            position=position,
            name=paper.name,
            title=paper.title,
            path=f"{folder}/{paper.name}",
            size=paper.size,
            sha256=paper.sha256,
        )
        for position, paper in papers.items()
    )


def headline(planned: Planned) -> dict[str, Any]:
    """Return a plan's columns: all of it, and the figures that lists show."""
    shipping, buying = planned.plan.shipping, planned.plan.buying
    return {
        "version": planned.stamp.version,
        "plan_id": planned.stamp.plan_id,
        "made_at": planned.stamp.made_at,
        "answers": plan_json().dump_json(planned).decode(),
        "boxes": planned.plan.roster.boxes,
        "late_boxes": sum(load.boxes for load in shipping.late)
        + sum(one.boxes for one in shipping.unsendable),
        "short_materials": len(buying.short),
        "cost": planned.plan.cost.total,
    }
