"""The page of a piece of background work: how far it is, how long it will take, how it ended."""

from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST

from planning import jobs
from planning.flow import TOLD
from planning.jobs.plan_month import COUNTING
from planning.models import Job, State
from planning.run import OTHER_COUNTS
from planning.views import gate

STOP_POLLING = 286  # what htmx takes for "ask no more"
ANNOUNCED = 3  # every third look is read out: at most one announcement in five seconds
FIRST, SECOND, *LATER = (stage.name for stage in jobs.KINDS["plan"])
STAGES = (FIRST, SECOND, COUNTING, *TOLD, OTHER_COUNTS, *LATER)
WEIGHTS = {"listing the boxes": 3, "papers": 20}  # of a stage's share in the bar; any other counts once
MOST_SHOWN = 50  # jobs in a month's history


def job(request: HttpRequest, job: int) -> HttpResponse:
    """Show a job; a look by script gets only what changes."""
    row = gate.job_or_404(request, job)
    if row.kind == "roster":  # each file has a page of its own
        return redirect("roster_file", month=row.month_id)
    looks = request.GET.get("looks", "0")
    looks_so_far = int(looks[:6]) if looks.isascii() and looks.isdigit() else 0
    shown = {
        "job": row,
        "month": row.month,
        "doing": doing(row),
        "left": left(row, now()),
        "stage": stage(row),
        "stages": len(STAGES),
        "percent": percent(row),
        "looks": looks_so_far + 1,
        "announce": looks_so_far % ANNOUNCED == 0 or not row.is_live,
        "papers": row.plan.papers.count() if hasattr(row, "plan") else 0,
        "first": row.plan if row.is_live and hasattr(row, "plan") else None,
    }
    if not request.headers.get("HX-Request"):
        return render(request, "planning/job.html", shown)
    return render(request, "planning/job_progress.html", shown, status=200 if row.is_live else STOP_POLLING)


def doing(row: Job) -> str:
    """Say in words what a job is at."""
    if row.state == State.QUEUED:
        return "Waiting for a worker"
    if row.state != State.RUNNING:
        return str(row.state).capitalize()
    counted = f", {row.done:,} of {row.total:,}" if row.total > 1 else ""
    return f"{row.stage.capitalize() or 'Starting'}{counted}"


def stage(row: Job) -> int:
    """Return which stage a job is at, from 1; 0 before the first."""
    return STAGES.index(row.stage) + 1 if row.stage in STAGES else 0


def percent(row: Job) -> int:
    """Return how much of all stages is behind a job, each as heavy as it is likely to be."""
    weights = [WEIGHTS.get(name, 1) for name in STAGES]
    at = max(0, stage(row) - 1)
    within = weights[at] * row.done / row.total if row.total else 0
    return round(100 * (sum(weights[:at]) + within) / sum(weights))


def left(row: Job, at: datetime) -> str:
    """Say how long a stage that counts will take, by how long it took so far."""
    if not row.is_live or not row.done or not row.total or row.stage_at is None:
        return ""
    seconds = (at - row.stage_at).total_seconds() * (row.total - row.done) / row.done
    return f"about {seconds / 60:.0f} min left" if seconds > 90 else f"about {max(1, round(seconds))} s left"


def history(request: HttpRequest, month: int) -> HttpResponse:
    """List a month's jobs, the latest first: who asked, how each ended, how long it took."""
    row = gate.month_or_404(request, month)
    latest = row.jobs.select_related("asked_by", "plan").defer("plan__answers")[:MOST_SHOWN]
    shown = {"month": row, "jobs": [(each, doing(each), took(each)) for each in latest]}
    return render(request, "planning/history.html", shown)


def took(row: Job) -> str:
    """Say how long a job took from when it was begun."""
    if row.started_at is None or row.ended_at is None:
        return ""
    seconds = max(0, (row.ended_at - row.started_at).total_seconds())
    return f"{seconds / 60:.0f} min" if seconds > 90 else f"{seconds:.0f} s"


@require_POST
def cancel(request: HttpRequest, job: int) -> HttpResponse:
    """Ask for a job to stop."""
    row = gate.job_or_404(request, job)
    jobs.cancel(row.pk)
    return redirect("job", job=row.pk)
