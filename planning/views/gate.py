"""The one gate: every row a page shows is fetched here, so that who may see it is asked in one place.

That somebody is signed in is seen to before any view runs (LoginRequiredMiddleware). Whoever is may see every month.
"""

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from kits.models import Month
from planning.models import Artefact, Job, Plan


def month_or_404(request: HttpRequest, pk: int) -> Month:
    """Return a month."""
    return get_object_or_404(Month, pk=pk)


def plan_or_none(request: HttpRequest, month: Month) -> Plan | None:
    """Return the version of the month's plan the URL asks for, else the latest; None before there is any."""
    version = request.GET.get("version", "")
    if not version:
        return month.plans.first()
    if not version.isascii() or not version.isdigit():
        raise Http404
    return get_object_or_404(month.plans, version=int(version[:9]))


def job_or_404(request: HttpRequest, pk: int) -> Job:
    """Return a job."""
    return get_object_or_404(Job.objects.select_related("month"), pk=pk)


def paper_or_404(request: HttpRequest, pk: int) -> Artefact:
    """Return a paper."""
    return get_object_or_404(Artefact, pk=pk)
