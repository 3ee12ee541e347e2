"""The papers of a plan, as a list and as files."""

import hashlib
import shutil
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client

from kits.models import Month
from planning.models import Plan
from planning.views import documents


def test_it_works(desk: Client, plan: Plan) -> None:
    page = desk.get(f"/months/{plan.month_id}/documents").content.decode()
    for paper in plan.papers.all():
        assert f'href="/papers/{paper.pk}"' in page
        answer = desk.get(f"/papers/{paper.pk}")
        made = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
        assert (len(made), hashlib.sha256(made).hexdigest()) == (paper.size, paper.sha256)
        assert answer["Content-Disposition"].startswith("attachment;")


def test_papers_of_an_earlier_version_say_so(desk: Client, plan: Plan) -> None:
    url = f"/months/{plan.month_id}/documents"
    assert "Superseded" not in desk.get(url).content.decode()
    later = Plan.every.get(pk=plan.pk)
    later.pk, later.job, later.version = None, None, 2
    later.save()
    assert "at step 2 of 8" in desk.get(url).content.decode()
    page = desk.get(url, {"version": 1}).content.decode()
    assert "<b>Superseded:</b> version 2 is the latest" in page
    assert "at step 1 of 8" in page
    paper = plan.papers.first()
    assert paper is not None
    answer = desk.get(f"/papers/{paper.pk}")
    assert b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    assert f'filename="superseded-version-1-{paper.name}"' in answer["Content-Disposition"]


def test_a_long_list_comes_page_by_page(desk: Client, plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(documents, "ON_A_PAGE", 5)
    names = list(plan.papers.order_by("position").values_list("name", flat=True))
    url = f"/months/{plan.month_id}/documents"
    first, second = (desk.get(url, {"page": page}).content.decode() for page in (1, 2))
    assert all(
        (f">{name}<" in first, f">{name}<" in second) == (n < 5, 5 <= n < 10) for n, name in enumerate(names)
    )
    assert f"Page 1 of {-(-len(names) // 5)}" in first
    assert desk.get(url, {"page": 99}).status_code == 404


def test_before_there_is_a_plan_it_says_what_to_do(desk: Client, month: Month) -> None:
    page = desk.get(f"/months/{month.pk}/documents").content.decode()
    assert "waits for the month to be planned" in page


def test_papers_lie_under_the_plans_id_and_version(plan: Plan) -> None:
    assert all(paper.path.startswith(f"{plan.plan_id}/version-1/") for paper in plan.papers.all())


def test_a_paper_whose_file_is_gone_is_told_so(desk: Client, plan: Plan) -> None:
    shutil.rmtree(Path(settings.ARTEFACTS_DIR, plan.plan_id))
    paper = plan.papers.first()
    assert paper is not None
    assert desk.get(f"/papers/{paper.pk}").status_code == 404
