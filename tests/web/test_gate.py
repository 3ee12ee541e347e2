"""Who may see what: every page of the program for nobody, and the ways round the gate that must stay closed."""

import pytest
from django.test import Client
from django.urls import URLPattern, reverse

from planning.models import Artefact, Plan
from planning.rights.table import Role
from planning.urls import urlpatterns
from tests.web.conftest import somebody

OPEN = {"healthz", "readyz", "metrics", "sign_in"}  # metrics asks for a token: tests/upkeep
PAGES = [each for each in urlpatterns if isinstance(each, URLPattern)]


def url_of(page: URLPattern) -> str:
    return reverse(str(page.name), kwargs=dict.fromkeys(page.pattern.converters, 1))


@pytest.mark.django_db
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
@pytest.mark.parametrize("method", ["get", "post", "head", "put", "delete"])
def test_nobody_sees_or_does_anything_before_signing_in(
    client: Client, page: URLPattern, method: str
) -> None:
    if page.name in OPEN:
        return
    answer = getattr(client, method)(url_of(page))
    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in?next=")


def test_every_view_its_url_and_its_name_are_one_word() -> None:
    for page in PAGES:
        assert page.callback.__name__ == page.name
        last = str(page.pattern).rstrip("/").rpartition("/")[2].replace("-", "_")
        assert last in (page.name, "") or last.startswith("<int:"), page


@pytest.mark.parametrize("page", ["plan", "cancel", "sign_out"])
def test_what_changes_something_is_never_done_by_a_link(desk: Client, page: str) -> None:
    [pattern] = [each for each in PAGES if each.name == page]
    assert desk.get(url_of(pattern)).status_code == 405


@pytest.mark.parametrize("page", ["plan", "sign_out", "upload", "sign_in"])
def test_what_changes_something_is_refused_to_other_sites(month: object, page: str) -> None:
    [pattern] = [each for each in PAGES if each.name == page]
    assert Client(enforce_csrf_checks=True).post(url_of(pattern)).status_code in (302, 403)
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(somebody("clerk", Role.OWNER))
    assert strict.post(url_of(pattern)).status_code == 403


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_month_paper_or_job_that_is_not_there_is_told_so(desk: Client, page: URLPattern) -> None:
    if page.pattern.converters:
        url = reverse(str(page.name), kwargs=dict.fromkeys(page.pattern.converters, 999_999))
        assert {desk.get(url).status_code, desk.post(url).status_code} <= {404, 405}


@pytest.mark.parametrize("path", ["../secret_key", "/etc/passwd", "a/../../secret_key"])
def test_a_path_that_leads_out_of_the_papers_is_never_followed(desk: Client, plan: Plan, path: str) -> None:
    paper = plan.papers.first()
    assert paper is not None
    Artefact.objects.filter(pk=paper.pk).update(path=path)
    assert desk.get(f"/papers/{paper.pk}").status_code == 404


def test_no_browser_keeps_a_page(desk: Client, plan: Plan) -> None:
    paper = plan.papers.first()
    assert paper is not None
    for url in ("/", f"/months/{plan.month_id}/", f"/papers/{paper.pk}", f"/months/{plan.month_id}/export"):
        answer = desk.get(url)
        assert "no-store" in answer["Cache-Control"], url
        b"".join(answer)  # read to its end, which closes the file
