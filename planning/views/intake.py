"""A roster's file by the app: sent, looked through in the background, agreed to, taken in."""

from typing import Any

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from kits.models import Month
from planning import intake as intakes
from planning import jobs
from planning.models import LIVE, Intake, Job, State, Step
from planning.monthfile.guard import MOST_BYTES
from planning.views import gate, words
from planning.views.job import STOP_POLLING
from planning.views.months import XLSX
from planning.views.parts import Figure, Line, Table, number, text

SHOWN = 100  # problems on a page
KIND = "roster"


def roster_file(request: HttpRequest, month: int) -> HttpResponse:
    """Ask for a roster's file, and have it looked through."""
    row = gate.month_or_404(request, month)
    shown: dict[str, Any] = {
        "month": row,
        "step": "roster",
        "most": words.file_size(MOST_BYTES),
    }
    shown["earlier"] = row.intakes.exclude(step=Step.DROPPED)[:5]
    if request.method != "POST":
        return render(request, "planning/roster_file.html", shown)
    file = request.FILES.get("file")
    if file is None or (file.size or 0) > MOST_BYTES:
        shown["error"] = (
            "Choose a roster: CSV or an .xlsx workbook." if file is None else too_large(file.name)
        )
        return render(request, "planning/roster_file.html", shown, status=422)
    kept = intakes.receive(row, file, asked_by=request.user)
    jobs.enqueue(KIND, row, request.user)  # type: ignore[arg-type]
    return redirect("intake", intake=kept.pk)


def too_large(name: str | None) -> str:
    """Say that a file is too large."""
    return f"{name} is larger than {words.file_size(MOST_BYTES)}. Divide it into several files."


def intake(request: HttpRequest, intake: int) -> HttpResponse:
    """Show how far a file is and what it would change; a look by script gets only what changes."""
    row = gate.intake_or_404(request, intake)
    job = latest_job(row)
    shown: dict[str, Any] = {"intake": row, "month": row.month, "step": "roster"}
    shown["failed"] = job.error if job is not None and job.state == State.FAILED and waits(row) else ""
    shown["polls"] = waits(row) and not shown["failed"]
    shown["doing"] = doing(row)
    shown["figures"], shown["table"] = figures(row), problem_table(row)
    shown["has_refused"] = row.faulty > 0 and intakes.refused_path(row).is_file()
    if waits(row) and (job is None or job.state not in (*LIVE, State.FAILED)):
        jobs.enqueue(KIND, row.month, row.asked_by)  # it came while the last job was ending
    if not request.headers.get("HX-Request"):
        return render(request, "planning/intake.html", shown)
    return render(
        request, "planning/intake_progress.html", shown, status=200 if shown["polls"] else STOP_POLLING
    )


def waits(row: Intake) -> bool:
    """Tell whether a worker has something to do about it."""
    return row.step in intakes.PENDING


def latest_job(row: Intake) -> Job | None:
    """Return the last job that had to do with the file."""
    return row.month.jobs.filter(kind=KIND, created_at__gte=row.created_at).first() or live_job(row.month)


def live_job(month: Month) -> Job | None:
    """Return the job that sees to the month's files."""
    return month.jobs.filter(kind=KIND, state__in=LIVE).first()


def doing(row: Intake) -> str:
    """Say where a file stands."""
    said = {
        Step.WAITING: f"Looking through it, {words.counted(row.rows, 'row')} so far"
        if row.rows
        else "Waiting for a worker",
        Step.LOOKED_AT: "Looked through. Nothing is changed yet",
        Step.AGREED: "Being taken in",
        Step.TAKEN: "Taken in",
        Step.REFUSED: "Not taken in",
        Step.DROPPED: "Dropped. Nothing was changed",
    }
    return said[Step(row.step)]


def figures(row: Intake) -> tuple[Figure, ...]:
    """Return what the file would change, in numbers."""
    if row.step in (Step.WAITING, Step.REFUSED):
        return ()
    parts = (row.new, row.changed, row.same, row.faulty)
    return (
        Figure(
            words.count(row.rows), f"{words.noun(row.rows, 'row')} in the file", words.added(parts, row.rows)
        ),
        Figure(words.count(row.new), "new"),
        Figure(words.count(row.changed), "changed"),
        Figure(words.count(row.same), "the same"),
        Figure(words.count(row.faulty), "faulty, left out"),
        Figure(words.count(row.kept), "on the roster and not in the file, stay"),
    )


def problem_table(row: Intake) -> Table | None:
    """Return the first problems of the file."""
    if not row.found:
        return None
    heads = (number("Row"), text("Column"), text("Value"), text("What is wrong"), text("What to do"))
    lines = [
        Line((str(at or ""), heading, value, words.sentence(why), allowed))
        for at, heading, value, why, allowed in row.found[:SHOWN]
    ]
    more = f", the first {SHOWN}" if len(row.found) > SHOWN else ""
    return Table(f"What is wrong with rows that are left out{more}", heads, lines)


@require_POST
def agree(request: HttpRequest, intake: int) -> HttpResponse:
    """Have a file that was looked through taken in."""
    row = gate.intake_or_404(request, intake)
    agreed = Intake.objects.filter(pk=row.pk, step=Step.LOOKED_AT)
    if row.fingerprint != row.month.fingerprint:
        agreed.update(step=Step.WAITING)
        messages.warning(
            request, "The month was changed since. The file is looked through again: see what changes now."
        )
    else:
        agreed.update(step=Step.AGREED)
    jobs.enqueue(KIND, row.month, request.user)  # type: ignore[arg-type]
    return redirect("intake", intake=row.pk)


@require_POST
def drop(request: HttpRequest, intake: int) -> HttpResponse:
    """Forget a file."""
    row = gate.intake_or_404(request, intake)
    intakes.forget(row)
    messages.success(request, f"{row.name} is dropped. Nothing was changed.")
    return redirect("roster_file", month=row.month_id)


@require_POST
def look_again(request: HttpRequest, intake: int) -> HttpResponse:
    """Try once more what failed."""
    row = gate.intake_or_404(request, intake)
    jobs.enqueue(KIND, row.month, request.user)  # type: ignore[arg-type]
    return redirect("intake", intake=row.pk)


@require_safe
def refused(request: HttpRequest, intake: int) -> FileResponse:
    """Send the rows that were left out, with what is wrong, piece by piece."""
    row = gate.intake_or_404(request, intake)
    path = intakes.refused_path(row)
    if not path.is_file():
        raise Http404
    name = f"{row.name.rpartition('.')[0] or row.name}-faults.xlsx"
    return FileResponse(path.open("rb"), as_attachment=True, filename=name, content_type=XLSX)
