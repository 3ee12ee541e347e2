import re
from collections import Counter
from io import BytesIO

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from planning.documents.listing import list_boxes
from planning.documents.paper import Paper
from planning.documents.papers import DEVICES, file_name, file_names, papers
from planning.documents.parcels import collections
from planning.flow import plan_month
from tests.documents.small_month import EMPTY_MONTH, MONTH, STAMP, small_plan

PLAN = small_plan()
PAPERS = {paper.name: paper for paper in papers(MONTH, PLAN, STAMP)}


def pdf_text(paper: Paper) -> list[str]:
    """Return the words of each page as another program reads them."""
    return [page.extract_text() for page in PdfReader(BytesIO(paper.make())).pages]


def test_every_paper_of_the_month_is_named_in_order() -> None:
    gone = collections(PLAN)
    waves = [f"wave-{wave.number:03}" for wave in PLAN.waves]
    assert list(PAPERS) == [
        "month-workbook.xlsx",
        "orders/muhle-sohne.pdf",
        "orders/muhle-sohne.xlsx",
        "orders/trimmings-house.pdf",
        "orders/trimmings-house.xlsx",
        "cutting-tickets.pdf",
        "booklet/a4.pdf",
        "booklet/letter.pdf",
        "shipping.ics",
        "cartons-and-pallets.pdf",
        *(
            f"collections/{one.day}-{one.service.code.lower()}.{ending}"
            for one in gone
            for ending in ("pdf", "xlsx")
        ),
        "short-picks.pdf",
        "roster-exceptions.csv",
        "short-boxes.csv",
        *(
            name
            for wave in waves
            for name in (
                f"slips/{wave}.pdf",
                f"lists/{wave}.xlsx",
                f"labels/{wave}.csv",
                f"picks/{wave}.pdf",
            )
        ),
    ]


def test_every_name_is_different_and_fits_any_file_system() -> None:
    names = Counter(name.casefold() for name in PAPERS)
    assert max(names.values()) == 1
    assert all(re.fullmatch(r"[a-z0-9/-]+\.(xlsx|pdf|ics|csv)", name) for name in PAPERS)


@pytest.mark.parametrize("name", PAPERS)
def test_every_paper_makes_the_same_bytes_twice(name: str) -> None:
    again = {paper.name: paper for paper in papers(MONTH, PLAN, STAMP)}
    assert PAPERS[name].make() == again[name].make()


@pytest.mark.parametrize("name", [name for name in PAPERS if name.endswith(".pdf")])
def test_every_page_of_every_pdf_says_which_plan_it_belongs_to_and_which_page_it_is(name: str) -> None:
    pages = pdf_text(PAPERS[name])
    for number, text in enumerate(pages, 1):
        assert STAMP.text in text
        assert f"page {number} of {len(pages)}" in text


def test_the_other_papers_say_which_plan_they_belong_to() -> None:
    book = openpyxl.load_workbook(BytesIO(PAPERS["month-workbook.xlsx"].make()))
    assert book.properties.identifier == STAMP.plan_id
    calendar = PAPERS["shipping.ics"].make().decode().replace("\r\n ", "")
    assert "version 3" in calendar
    assert STAMP.plan_id in calendar
    assert STAMP.plan_id in PAPERS["roster-exceptions.csv"].make().decode()


def test_the_slips_of_all_waves_are_the_boxes_that_are_sent() -> None:
    slips = "".join(
        text for name, paper in PAPERS.items() if name.startswith("slips") for text in pdf_text(paper)
    )
    printed = set(re.findall(r"RIV[0-9]{10}[0-9A-Z]", slips))
    assert printed == {box.code for box in list_boxes(MONTH, PLAN) if box.wave}


def test_the_workbook_and_the_order_know_an_order_by_the_same_number() -> None:
    sheet = openpyxl.load_workbook(BytesIO(PAPERS["month-workbook.xlsx"].make()))["Orders"]
    assert sheet["B4"].value == "RIV-2704-1"
    assert "RIV-2704-1" in pdf_text(PAPERS["orders/muhle-sohne.pdf"])[0]


def test_an_empty_month_has_the_papers_that_say_so() -> None:
    found = {paper.name: paper.make() for paper in papers(EMPTY_MONTH, plan_month(EMPTY_MONTH), STAMP)}
    booklets = ["booklet/a4.pdf", "booklet/letter.pdf"]
    assert list(found) == ["month-workbook.xlsx", *booklets, "shipping.ics", "roster-exceptions.csv"]
    assert all(found.values())


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Mühle & Söhne", "muhle-sohne"),
        ("../../etc/passwd", "etc-passwd"),
        ("CON", "file-con"),
        ("水野", "file"),
        ("", "file"),
        ("a" * 100, "a" * 60),
    ],
)
def test_a_name_keeps_what_every_file_system_takes(text: str, name: str) -> None:
    assert file_name(text) == name


@given(st.lists(st.text(max_size=80), max_size=8))
def test_any_names_become_different_safe_file_names(texts: list[str]) -> None:
    names = file_names(texts)
    assert len(set(names)) == len(texts)
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name) for name in names)
    assert not DEVICES & set(names)
