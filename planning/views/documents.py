"""The papers of a plan: what there is, and each as a file."""

from collections.abc import Iterable
from itertools import groupby
from pathlib import Path

from django.conf import settings
from django.db.models import Count, Sum
from django.db.models.functions import Coalesce
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from kits.models import Month
from planning.documents.stamp import mark_place
from planning.models import Artefact, Plan
from planning.rights.ask import require, rights
from planning.rights.table import paper_area
from planning.views import gate

ON_A_PAGE = 320  # papers; those of eighty waves


def documents(request: HttpRequest, month: int) -> HttpResponse:
    """List the papers of a plan, folder by folder."""
    row = gate.month_or_404(request, month)
    plan = gate.plan_or_none(request, row)
    page = gate.page_number(request, "page")
    papers, pages, counted = shown_papers(plan, page) if plan else ([], 1, {"count": 0, "size": 0})
    if page > pages:
        raise Http404
    shown = {
        "month": row,
        "plan": plan,
        "step": "documents",
        "version": gate.version_asked(request, plan),
        "folders": [
            (folder_title(name), allowed(request, inside)) for name, inside in groupby(papers, key=folder)
        ],
        **counted,
        "page": page,
        "pages": pages,
        "versions": row.plans.defer("answers"),
        "latest": latest_of(row),
        "mark": mark_place(plan.version) if plan else "",
    }
    return render(request, "planning/documents.html", shown)


def allowed(request: HttpRequest, papers: Iterable[Artefact]) -> list[tuple[Artefact, bool]]:
    """Return papers, each with whether whoever asks may have it."""
    return [(paper, rights(request).may_look(paper_area(paper.name))) for paper in papers]


def latest_of(row: Month) -> int:
    """Return the latest version of a month's plan that is ready, 0 before there is one."""
    return row.plans.values_list("version", flat=True).first() or 0


def shown_papers(plan: Plan, page: int) -> tuple[list[Artefact], int, dict[str, int]]:
    """Return the papers on one page, folder by folder; how many pages there are; and the count and bytes of all papers."""
    counted = plan.papers.aggregate(count=Count("pk"), size=Coalesce(Sum("size"), 0))
    papers = list(plan.papers.order_by("position")[(page - 1) * ON_A_PAGE : page * ON_A_PAGE])
    in_folders = sorted(papers, key=lambda paper: (folder(paper), paper.position))
    return in_folders, max(1, -(-counted["count"] // ON_A_PAGE)), counted


def folder_title(folder: str) -> str:
    """Return what lies in a folder, in words."""
    titles = {
        "": "For the whole month",
        "collections": "Manifests",
        "labels": "Address labels",
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
    require(request, paper_area(row.name))
    path = inside(settings.ARTEFACTS_DIR, row.path)
    if not path.is_file():
        raise Http404(
            f"{row.name} is no longer where it was written. Plan the month again to have it made anew."
        )
    name = row.name.replace("/", "-")
    if row.plan.version < latest_of(row.plan.month):
        name = f"superseded-version-{row.plan.version}-{name}"
    return FileResponse(path.open("rb"), as_attachment=True, filename=name)


def inside(root: Path, relative: str) -> Path:
    """Return a path under the root. Raises Http404 for one that leads out of it, by links too."""
    path = (root / relative).resolve()
    if not path.is_relative_to(root.resolve()):
        raise Http404
    return path
