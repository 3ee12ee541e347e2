"""Carriers' lists by the app. RR 4731 2482 9 GB is the worked example of UPU S10 that encyclopaedias give."""

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from openpyxl import Workbook

from planning.models import BoxWork, TrackingNumber
from planning.tracking import check_digit
from tests.at_bench.conftest import release_month
from tests.web.test_bench import CODE

SECOND = "HERON2704000002S"


def s10(serial: int) -> str:
    return f"RR{serial:08}{check_digit(f'{serial:08}')}GB"


@pytest.fixture
def url(desk: Client) -> str:
    """The pages of a month that is released."""
    return f"/months/{release_month().pk}"


def send(desk: Client, url: str, made: str | bytes, name: str = "list.csv", s10: str = "yes") -> str:
    """Send a list and return where it is shown."""
    file = SimpleUploadedFile(name, made.encode() if isinstance(made, str) else made)
    answer = desk.post(f"{url}/tracking", {"file": file, "s10": s10})
    assert answer.status_code == 302, answer.content.decode()
    return str(answer["Location"])


def figures(page: str) -> list[str]:
    return [part.split("</b>")[0] for part in page.split('<dd class="value"><b>')[1:]]


def test_a_list_is_shown_before_it_is_taken_and_counts_once(desk: Client, url: str) -> None:
    made = (
        "Carrier's list of today\nDate,Box code,Tracking number,Weight\n"
        f"1,{CODE},RR 4731 2482 9 GB,300\n2,{SECOND.lower()},{s10(7)},300\n3,{SECOND},RR473124828GB,300\n"
        f"4,HERON2704000099X,{s10(8)},300\n5,{CODE},{s10(7)},300\n6,{CODE},RR473124829GB,300\n"
    )
    where = send(desk, url, made)
    page = desk.get(where).content.decode()
    assert figures(page) == ["6", "2", "1", "3"]
    for words in ("its check digit is 8", "There is no box", f"already the number of box {SECOND}"):
        assert words in page
    assert not TrackingNumber.objects.exists()
    taken = where.replace("tracking-list", "tracking-take")
    for _ in range(2):
        assert desk.post(taken).status_code == 302
    assert {(one.box, one.number) for one in TrackingNumber.objects.all()} == {
        (CODE, "RR473124829GB"),
        (SECOND, s10(7)),
    }
    assert figures(desk.get(where).content.decode()) == ["6", "0", "3", "3"]
    refused = desk.get(where.replace("tracking-list", "tracking-refused")).content.decode()
    assert refused.startswith("\ufeffRow,Box code,Tracking number,What is wrong\r\n5,")


def test_a_workbook_and_other_carriers_numbers_are_taken(desk: Client, url: str) -> None:
    book = Workbook()
    assert book.active
    book.active.append(["Box code", "Tracking number"])
    book.active.append([CODE, 15501234567890])
    file = BytesIO()
    book.save(file)
    where = send(desk, url, file.getvalue(), "list.xlsx", s10="")
    desk.post(where.replace("tracking-list", "tracking-take"))
    assert TrackingNumber.objects.get().number == "15501234567890"
    page = desk.get(f"{url}/box?serial=1").content.decode()
    assert "15501234567890" in page
    assert "Pull from its wave" not in page


def test_a_pulled_box_gets_no_number(desk: Client, url: str) -> None:
    desk.post(f"{url}/box-pull?serial=1", {"note": "moved"})
    assert BoxWork.objects.get().pulled == "moved"
    page = desk.get(send(desk, url, f"Box code;Tracking number\n{CODE};{s10(7)}\n")).content.decode()
    assert figures(page) == ["1", "0", "0", "1"]
    assert "was pulled from its wave: moved" in page


@pytest.mark.parametrize(
    "made", [b"", b"a,b\n1,2\n", b"\xff\xfe\x00", b"%PDF-1.4", b"PK\x03\x04", b'Box code,Tracking number\n"x']
)
def test_a_file_that_is_no_list_is_refused_in_words(desk: Client, url: str, made: bytes) -> None:
    answer = desk.post(f"{url}/tracking", {"file": SimpleUploadedFile("list.csv", made)})
    assert answer.status_code == 422
    assert "The list was not taken in" in answer.content.decode()
    assert desk.post(f"{url}/tracking", {}).status_code == 422


def test_what_looks_like_a_formula_stays_text_in_the_refused_rows(desk: Client, url: str) -> None:
    where = send(desk, url, "Box code,Tracking number\n=1+1,@x\n")
    refused = desk.get(where.replace("tracking-list", "tracking-refused")).content.decode()
    assert "'=1+1,'@x" in refused
    assert desk.get(f"{url}/tracking-template").content.decode() == "\ufeffBox code,Tracking number\r\n"
