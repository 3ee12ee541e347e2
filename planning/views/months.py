"""All months, and the month file: in, out, and an empty one to start from."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from kits.models import Month
from planning import load
from planning.models import LIVE, Job, Plan
from planning.views import gate

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def months(request: HttpRequest) -> HttpResponse:
    """List the months, the newest first."""
    latest = {plan.month_id: plan for plan in Plan.objects.defer("answers").order_by("version")}
    working = {job.month_id: job for job in Job.objects.filter(kind="plan", state__in=LIVE)}
    rows = [(month, latest.get(month.pk), working.get(month.pk)) for month in Month.objects.all()]
    return render(request, "planning/months.html", {"months": rows})


@require_safe
def template(request: HttpRequest) -> HttpResponse:
    """Send an empty month file."""
    from planning.monthfile import template as empty

    return attachment(empty(), "month-template.xlsx")


@require_safe
def export(request: HttpRequest, month: int) -> HttpResponse:
    """Send a month as the file it can be uploaded from again."""
    from planning.monthfile import month_to_workbook

    row = gate.month_or_404(request, month)
    return attachment(month_to_workbook(load.month(row.pk)), f"{row.code}-{row.month}.xlsx")


def attachment(made: bytes, name: str) -> HttpResponse:
    """Return a workbook as a file to keep."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(made, content_type=XLSX, headers=headers)
