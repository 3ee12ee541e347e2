"""Clean-up: what came of jobs that did not end well, and the boxes and papers of plans long replaced."""

import shutil
from datetime import timedelta

from django.conf import settings
from django.db.models import F, OuterRef, Subquery
from django.db.models.functions import Now
from django.utils.timezone import now

from planning.models import LIVE, JobPart, Plan
from planning.personal import erase_old_months
from planning.save import folder_of

KEPT = 5  # versions of a month's plan whose boxes and papers are kept; of older ones only what was decided
SETTLED = timedelta(seconds=30)  # after a job's end: by then every worker has heard of it


def tidy() -> None:
    """Remove what is not needed any more. Twice, or by several at once, does no harm."""
    JobPart.objects.exclude(job__state__in=LIVE).filter(job__ended_at__lt=Now() - SETTLED).delete()
    for plan in Plan.every.filter(ready=False, job__ended_at__lt=Now() - SETTLED).defer("answers"):
        remove_files(plan)
        plan.delete()
    if settings.KEEP_PEOPLE_DAYS:
        erase_old_months(now().date(), settings.KEEP_PEOPLE_DAYS)
    for plan in long_replaced():
        plan.papers.all().delete()
        plan.listed.all().delete()
        remove_files(plan)


def long_replaced() -> list[Plan]:
    """Return plans that still have papers although enough newer ones are ready, but for those released to the benches."""
    latest = Plan.objects.filter(month=OuterRef("month")).order_by("-version").values("version")
    last_kept = Subquery(latest[KEPT - 1 : KEPT])
    old = Plan.objects.annotate(last_kept=last_kept).filter(
        version__lt=F("last_kept"), papers__position=0, releases=None
    )
    return list(old.defer("answers"))


def remove_files(plan: Plan) -> None:
    """Remove a plan's folder with all that is in it."""
    shutil.rmtree(settings.ARTEFACTS_DIR / folder_of(plan), ignore_errors=True)
