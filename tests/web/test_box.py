"""The page of a box and what is done there."""

from dataclasses import replace

import pytest
from django.test import Client

from planning import save
from planning.at_bench.people import bench_of
from planning.at_bench.release import release
from planning.jobs import tidy
from planning.models import AddressChange, BoxAct, BoxWork, Plan, Release
from planning.packed import Act
from tests.at_bench.conftest import AtBench, lines, listed_plan, release_month
from tests.web.small_month import SMALL_MONTH
from tests.web.test_bench import CODE


@pytest.fixture
def url(desk: Client) -> str:
    """The pages of a month that is released."""
    return f"/months/{release_month().pk}"


def test_a_box_is_found_by_its_code_and_rubbish_is_told(desk: Client, url: str) -> None:
    found = desk.get(f"{url}/box?code={CODE.lower()}")
    assert found["Location"] == f"{url}/box?serial=1"
    page = desk.get(found["Location"]).content.decode()
    assert "Waits to be packed" in page
    assert "Łucja Dvořáková" in page
    for rubbish in ("HERON2704000001A", "%00%ff", "HERON27049999990", "x" * 5_000):
        answer = desk.get(f"{url}/box?code={rubbish}")
        assert answer.status_code == 422
        assert "There is no such box" in answer.content.decode()
    assert desk.get(f"{url}/box?serial=99").status_code == 404
    assert desk.post(f"{url}/box-pull", {"note": "which?"}).status_code == 404
    assert not BoxWork.objects.exists()


def test_what_is_done_to_a_box_stands_on_its_page(desk: Client, url: str) -> None:
    assert desk.post(f"{url}/box-pull?serial=1", {"note": ""}).status_code == 422
    assert desk.post(f"{url}/box-pull?serial=1", {"note": "moved"}).status_code == 302
    wrong = desk.post(f"{url}/box-goods?serial=1", {"item": "piece:STAR", "what": "eaten", "count": "0"})
    assert wrong.status_code == 422
    sent = {"item": "piece:TAG", "what": "damaged", "count": "2", "note": "wet"}
    assert desk.post(f"{url}/box-goods?serial=1", sent).status_code == 302
    moved = {"name": "Łucja Dvořáková", "address_1": "9 Weir Row", "city": "Frome"}
    assert desk.post(f"{url}/box-address?serial=1", moved).status_code == 302
    slip = desk.post(f"{url}/box-slip?serial=1")
    assert slip["Content-Type"] == "application/pdf"
    assert slip.content.startswith(b"%PDF")
    page = desk.get(f"{url}/box?serial=1").content.decode()
    for words in ("Pulled from its wave: moved", "2 × Tag", "wet", "9 Weir Row", "slip printed again"):
        assert words in page
    assert [one.act for one in BoxAct.objects.all()] == [Act.PULL, Act.DAMAGED, Act.ADDRESS, Act.REPRINT]
    assert AddressChange.objects.get().by == "desk"


def test_what_changed_since_the_release_stands_on_one_page(desk: Client) -> None:
    """S1's first box is damaged and pulled; then S1 gets one box only, so one of two packed ones is for nobody."""
    month = release_month()
    url = f"/months/{month.pk}"
    anna = AtBench(month, bench_of(month.code, "Bench 1", "a"))
    anna.pack(1)
    anna.pack(2)
    desk.post(f"{url}/box-goods?serial=3", {"item": "piece:TAG", "what": "damaged", "count": "1"})
    desk.post(
        f"{url}/box-goods?serial=3",
        {"item": lines(anna.released, 3)[0].item, "what": "damaged", "count": "2"},
    )
    desk.post(f"{url}/box-pull?serial=3", {"note": "wet"})
    first, *others = SMALL_MONTH.subscribers
    again = save.month(replace(SMALL_MONTH, subscribers=(replace(first, quantity=1), *others)))
    plan = listed_plan(again)
    page = desk.get(f"{url}/since-release").content.decode()
    for words in ("Version 2 was planned since", "The month changed since", "wet", "-1</td>"):
        assert words in page
    assert "Of the boxes packed by version 1, 1 count in this one, and 1 are for nobody" in (
        desk.get(f"{url}/bench-release").content.decode()
    )
    release(again, plan, "desk", weigh=False, scale=0)
    page = desk.get(f"{url}/since-release").content.decode()
    assert "unpack them" in page
    assert anna.code(2) in page


def test_released_boxes_and_papers_are_never_cleared_away(
    desk: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    month = release_month()
    released = month.plans.get()
    released.papers.create(name="x", title="x", path="x", size=0, sha256="", position=0)
    monkeypatch.setattr(tidy, "KEPT", 1)
    later = Plan.every.get(pk=released.pk)
    later.pk, later.version, later.job = None, 2, None
    later.save()
    assert tidy.long_replaced() == []
    Release.objects.all().delete()
    assert tidy.long_replaced() == [released]
