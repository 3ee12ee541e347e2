"""The papers of a plan: what there is, and each as a file."""

from itertools import groupby
from pathlib import Path

from django.conf import settings
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from planning.models import Artefact
from planning.views import gate
from planning.views.steps import STEPS


def documents(request: HttpRequest, month: int) -> HttpResponse:
    """List the papers of a plan, folder by folder."""
    row = gate.month_or_404(request, month)
    plan = gate.plan_or_none(request, row)
    papers = sorted(plan.papers.all(), key=lambda paper: (folder(paper), paper.position)) if plan else []
    shown = {
        "month": row,
        "plan": plan,
        "step": "documents",
        "steps": STEPS,
        "version": gate.version_asked(request, plan),
        "folders": [(folder_title(name), list(inside)) for name, inside in groupby(papers, key=folder)],
        "count": len(papers),
        "size": sum(paper.size for paper in papers),
        "versions": row.plans.defer("answers"),
    }
    return render(request, "planning/documents.html", shown)


def folder_title(folder: str) -> str:
    """Return what lies in a folder, in words."""
    titles = {
        "": "For the whole month",
        "lists": "Packing lists and labels",
        "orders": "Purchase orders",
        "picks": "Pick lists",
        "slips": "Packing slips",
    }
    return titles.get(folder, folder.capitalize())


def folder(paper: Artefact) -> str:
    """Return the folder a paper lies in, empty for the first one."""
    return paper.name.rpartition("/")[0]


@require_safe
def paper(request: HttpRequest, paper: int) -> FileResponse:
    """Send a paper, piece by piece."""
    row = gate.paper_or_404(request, paper)
    path = inside(settings.ARTEFACTS_DIR, row.path)
    if not path.is_file():
        raise Http404(
            f"{row.name} is no longer where it was written. Plan the month again to have it made anew."
        )
    return FileResponse(path.open("rb"), as_attachment=True, filename=row.name.replace("/", "-"))


def inside(root: Path, relative: str) -> Path:
    """Return a path under the root. Raises Http404 for one that leads out of it, by links too."""
    path = (root / relative).resolve()
    if not path.is_relative_to(root.resolve()):
        raise Http404
    return path
