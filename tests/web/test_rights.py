"""Every page for every role and for nobody, and the record of who did what."""

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import URLPattern, reverse

from kits.models import Month
from planning.models import Change, Person, Plan
from planning.rights.table import MAY, Act, Area, Rights, Role, paper_area
from planning.urls import urlpatterns
from tests.web.conftest import PASSWORD, somebody
from tests.web.test_gate import OPEN, PAGES, url_of

PERSONAL = {"roster", "roster_file", "intake", "packing", "short_supply", "export", "upload", "refused"}
PRICED = {"cost", "buying", "orders", "order", "receipts", "overs", "lots"}


def area_of(page: URLPattern) -> Area:
    area: Area = page.callback.area  # type: ignore[attr-defined]
    return area


@pytest.fixture
def signed_in(db: None) -> Callable[[Role | None], Client]:
    def sign_in(role: Role | None) -> Client:
        client = Client()
        client.force_login(somebody(f"the-{role}", role))
        return client

    return sign_in


@pytest.mark.parametrize("role", [*Role, None])
def test_every_page_is_refused_to_whom_it_is_not_for_and_to_nobody_else(
    role: Role | None, signed_in: Callable[[Role | None], Client]
) -> None:
    client = signed_in(role)
    for page in PAGES:
        if page.name in OPEN or page.name == "sign_out":
            continue
        area = area_of(page)
        may = Rights(role).may
        asked = url_of(page)
        assert (client.get(asked).status_code == 403) == (not may(Act.LOOK, area)), page.name
        change = Act.LOOK if area is Area.OPEN else Act.CHANGE
        assert (client.post(asked).status_code == 403) == (not may(change, area)), page.name


def test_nobody_but_owner_and_packer_sees_a_subscriber_and_no_packer_sees_a_price() -> None:
    areas = {page.name: area_of(page) for page in PAGES}
    see = {name: {role for role in Role if Rights(role).may_look(areas[name])} for name in PERSONAL | PRICED}
    assert all(see[name] <= {Role.OWNER, Role.PACKER} for name in PERSONAL)
    assert all(Role.PACKER not in see[name] for name in PRICED)


def test_an_owner_may_do_everything_and_a_viewer_changes_nothing() -> None:
    assert all(MAY[Role.OWNER][area] is Act.CHANGE for area in Area)
    assert Act.CHANGE not in MAY[Role.VIEWER].values()


def test_every_page_says_whom_it_asks() -> None:
    assert {page.name for page in PAGES if area_of(page) is None} == OPEN
    assert [str(each.pattern) for each in urlpatterns if not isinstance(each, URLPattern)] == [
        "api/"
    ]  # which has tokens


def test_papers_are_handed_out_by_what_they_hold(
    plan: Plan, signed_in: Callable[[Role | None], Client]
) -> None:
    areas = {paper.name: paper_area(paper.name) for paper in plan.papers.all()}
    assert paper_area("all-papers.zip") is Area.BOOK
    assert {name for name, area in areas.items() if area is Area.BOOK} <= {"all-papers.zip", "index.csv"}
    for role in Role:
        client = signed_in(role)
        listed = client.get(reverse("documents", args=[plan.month_id])).content.decode()
        for paper in plan.papers.all():
            address = reverse("paper", args=[paper.pk])
            answer = client.get(address)
            assert (answer.status_code == 200) == Rights(role).may_look(areas[paper.name]), paper.name
            assert (f'href="{address}"' in listed) == (answer.status_code == 200)
            b"".join(answer)


def test_the_month_page_leads_nobody_where_they_may_not_go(
    plan: Plan, signed_in: Callable[[Role | None], Client]
) -> None:
    for role in Role:
        client = signed_in(role)
        page = client.get(reverse("month", args=[plan.month_id])).content.decode()
        for each in PAGES:
            if set(each.pattern.converters) == {"month"} and not Rights(role).may_look(area_of(each)):
                assert f'"{reverse(str(each.name), args=[plan.month_id])}"' not in page, (role, each.name)


def test_what_is_done_is_kept_with_the_names_of_fields_and_nothing_that_was_written(desk: Client) -> None:
    desk.post("/new-person", {"name": "wren", "role": "packer", "act": "do"})
    [change] = Change.objects.all()
    assert (change.who, change.page, change.fields) == ("desk", "new_person", ["name", "role"])
    desk.get("/people")  # shows the message with the password, once
    shown = desk.get("/changes").content.decode()
    assert "New person" in shown
    assert "wren" not in shown


def test_what_was_refused_is_not_kept_as_done(desk: Client, month: Month) -> None:
    desk.post("/new-person", {"name": "two words", "role": "packer"})
    desk.post("/new-person", {"name": "wren", "role": "king"})
    assert not Change.objects.exists()
    assert User.objects.count() == 1


def test_a_new_person_signs_in_with_the_password_shown_once(desk: Client) -> None:
    desk.post("/new-person", {"name": "wren", "role": "packer"})
    shown = desk.get("/people").content.decode()
    password = shown.split("Password for wren: ")[1].split()[0]
    assert "Password for wren" not in desk.get("/people").content.decode()
    wren = Client()
    assert wren.post("/sign-in", {"username": "wren", "password": password}).status_code == 302
    assert wren.get("/people").status_code == 403
    answer = wren.post("/account", {"old": password, "new": "short"})
    assert answer.status_code == 422
    assert wren.post("/account", {"old": password, "new": PASSWORD}).status_code == 302
    assert wren.get("/").status_code == 200  # and stays signed in here


def test_the_last_owner_stays_one(desk: Client) -> None:
    [me] = Person.objects.all()
    for said in ({"role": "viewer"}, {"role": "owner", "act": "close"}):
        answer = desk.post(f"/people/{me.pk}/", said)
        assert answer.status_code == 422
        assert "Somebody must stay owner" in answer.content.decode()
    other = somebody("second", Role.OWNER)
    assert desk.post(f"/people/{other.pk}/", {"role": "owner", "act": "close"}).status_code == 302
    assert not User.objects.get(pk=other.pk).is_active
    assert desk.post(f"/people/{me.pk}/", {"role": "viewer"}).status_code == 422


def test_closing_somebodys_way_in_ends_what_they_have_open(desk: Client) -> None:
    wren = Client()
    user = somebody("wren", Role.BUYER)
    wren.force_login(user)
    assert wren.get("/").status_code == 200
    desk.post(f"/people/{user.pk}/", {"role": "buyer", "act": "close"})
    assert wren.get("/").status_code == 302


def test_who_guesses_is_stopped_and_nobody_else_is(db: None) -> None:
    somebody("wren", Role.BUYER)
    guessing, other = Client(), Client(REMOTE_ADDR="127.0.0.9")
    answers = [
        guessing.post("/sign-in", {"username": "wren", "password": "no"}).status_code for _ in range(9)
    ]
    assert answers[0] == 422
    assert answers[-1] == 429
    assert guessing.post("/sign-in", {"username": "wren", "password": PASSWORD}).status_code == 429
    assert other.post("/sign-in", {"username": "wren", "password": PASSWORD}).status_code == 302
