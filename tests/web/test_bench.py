"""What the bench's screen sends, without a browser: who may, what cannot be read, and the desk's forms."""

import json
from uuid import uuid4

import pytest
from django.test import Client

from planning.at_bench.people import add_packer
from planning.models import BoxAct, BoxWork, Packer, Release
from tests.at_bench.conftest import listed_plan, release_month
from tests.web.small_month import SMALL_MONTH


@pytest.fixture
def url(desk: Client) -> str:
    """The pages of a month that is released; Anna is signed in at bench 1."""
    month = release_month()
    anna = add_packer(month.code, "Anna", "2580")
    url = f"/months/{month.pk}"
    sent = {"packer": anna.pk, "pin": "2580", "bench": "Bench 1"}
    assert desk.post(f"{url}/bench-sign-in", sent).status_code == 302
    return url


def send(desk: Client, url: str, body: object) -> tuple[int, dict[str, object]]:
    text = body if isinstance(body, str | bytes) else json.dumps(body)
    answer = desk.post(f"{url}/bench-acts", text, content_type="application/json")
    return answer.status_code, answer.json()


def take(code: str) -> dict[str, object]:
    plan = Release.objects.latest("pk").plan_id
    return {"id": str(uuid4()), "plan": plan, "packer": Packer.objects.get().pk, "act": "take", "code": code}


CODE = "HERON2704000001U"


def test_a_box_is_taken_and_its_list_comes_back(desk: Client, url: str) -> None:
    status, said = send(desk, url, {"acts": [take(CODE)]})
    assert (status, said["answers"][0]["done"]) == (200, True)  # type: ignore[index]
    assert said["hand"]["code"] == CODE  # type: ignore[index]
    assert BoxWork.objects.get().who == "Anna"


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"\xff",
        "[]",
        '{"acts": 3}',
        '{"acts": [{}]}',
        json.dumps({"acts": [{}] * 201}),
        '{"acts": [{"id": "x"}]}',
        "[" * 100_000,
        "x" * 300_000,
    ],
)
def test_what_cannot_be_read_is_refused_in_words(desk: Client, url: str, body: object) -> None:
    assert send(desk, url, body) == (400, {"why": "This cannot be read. Load the page again."})
    assert not BoxAct.objects.exists()


def test_control_characters_never_reach_the_database(desk: Client, url: str) -> None:
    send(desk, url, {"acts": [take(CODE)]})
    act = take("") | {"act": "add", "serial": 1, "item": "piece:\x00TAG\x1b", "note": "a\x00b"}
    send(desk, url, {"acts": [act]})
    assert BoxWork.objects.get().trail == [["piece:TAG", 1]]


def test_nobody_acts_without_a_pin_or_after_another_tablet_took_the_bench(desk: Client, url: str) -> None:
    desk.post(f"{url}/bench-sign-out")
    status, said = send(desk, url, {"acts": [take(CODE)]})
    assert status == 401
    assert "Sign in with your PIN" in str(said["why"])
    assert desk.get(f"{url}/bench").status_code == 302


def test_a_wrong_pin_is_told_and_the_name_stays_chosen(desk: Client, url: str) -> None:
    answer = desk.post(
        f"{url}/bench-sign-in", {"packer": Packer.objects.get().pk, "pin": "0000", "bench": "Bench 1"}
    )
    assert answer.status_code == 422
    assert "This is not the PIN" in answer.content.decode()
    assert "0000" not in answer.content.decode()


# --- At the desk ---


def test_a_plan_is_released_and_people_get_their_pins(desk: Client) -> None:
    month = release_month()
    listed_plan(month)
    url = f"/months/{month.pk}"
    assert "version 2 was planned since" in desk.get(f"{url}/benches").content.decode()
    sent = {"weigh": "yes", "scale": "2.5"}
    assert desk.post(f"{url}/bench-release", sent).status_code == 302
    latest = Release.objects.latest("pk")
    assert (latest.plan.version, latest.weigh, latest.scale, latest.by) == (2, True, 25, "desk")
    assert desk.post(f"{url}/bench-release", {"scale": "0.25"}).status_code == 422
    assert desk.post(f"{url}/bench-people", {"name": "Ben", "pin": "2580"}).status_code == 302
    ben = Packer.objects.get()
    assert desk.post(f"{url}/bench-people", {f"pin-{ben.pk}": "1111"}).status_code == 422
    assert Packer.objects.get().active
    desk.post(f"{url}/bench-people", {})
    assert not Packer.objects.get().active


def test_nothing_is_packed_before_a_plan_is_released(desk: Client) -> None:
    from planning import save

    month = save.month(SMALL_MONTH)
    url = f"/months/{month.pk}"
    assert "Plan this month" in desk.get(f"{url}/benches").content.decode()
    assert desk.get(f"{url}/bench")["Location"] == f"{url}/bench-sign-in"
    assert desk.get(f"{url}/bench-release")["Location"] == f"{url}/"
    assert "No plan is released" in desk.post(f"{url}/bench-sign-in", {}).content.decode()


def test_a_screen_is_made_in_a_few_statements(
    desk: Client, url: str, django_assert_max_num_queries: object
) -> None:
    send(desk, url, {"acts": [take(CODE)]})
    with django_assert_max_num_queries(30):  # type: ignore[operator]
        send(desk, url, {"acts": []})


def test_anna_s_acts_stay_hers_when_ben_sends_them(desk: Client, url: str) -> None:
    waiting = take(CODE)
    month = Release.objects.latest("pk").month
    ben = add_packer(month.code, "Ben", "8520")
    desk.post(f"{url}/bench-sign-in", {"packer": ben.pk, "pin": "8520", "bench": "Bench 1"})
    send(desk, url, {"acts": [waiting]})
    assert BoxAct.objects.get().who == "Anna"
