"""The page of a box and what is done there."""

import pytest
from django.test import Client

from planning.models import AddressChange, BoxAct, BoxWork
from planning.packed import Act
from tests.at_bench.conftest import release_month
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
