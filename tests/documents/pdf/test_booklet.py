"""The booklet as a reader of the PDF finds it."""

import subprocess
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from pypdf import PdfReader

from kits.recipe import Design, say_step
from planning.demo import demo_month
from planning.documents.booklet import Booklet, Chapter, booklet
from planning.documents.booklet.chapter import work
from planning.documents.booklet.words import CAUTIONS
from planning.documents.pdf.booklet import booklet_pdf
from planning.documents.pdf.fonts import printable
from planning.month import Month
from tests.documents.small_month import EMPTY_MONTH, MONTH, STAMP
from tests.recipe.designs import designs
from tests.support.effort import examples
from tests.support.months import DAISY, designed_month

Texts = Callable[[bytes], list[str]]
LONG = "Änne & Ștefan’s très long name " * 30


def pdf_of(month: Month, paper: str = "A4") -> bytes:
    return booklet_pdf(booklet(month), month.club, paper, STAMP)


@pytest.fixture(scope="module")
def demo() -> Booklet:
    return booklet(demo_month(10))


@pytest.fixture(scope="module")
def printed(demo: Booklet, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("booklet") / "booklet.pdf"
    path.write_bytes(booklet_pdf(demo, demo_month(10).club, "A4", STAMP))
    return path


@pytest.fixture(scope="module")
def pages(printed: Path) -> list[str]:
    """Return the words of each of its pages."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(printed).pages]


@pytest.fixture(scope="module")
def words(printed: Path, need: Callable[[str, str], str]) -> str:
    """Return the demo's booklet as pdftotext reads it."""
    command = [need("pdftotext", "printed words are read by poppler-utils"), str(printed), "-"]
    text = subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout
    return " ".join(text.split())


def test_it_works(texts: Texts) -> None:
    said = " ".join(texts(pdf_of(designed_month())))
    for words in (
        "Tiny Paper Club",
        "Daisies on a fence The rail runs over both pages.",
        "White card 12 × 12 in 2 sheets",
        "tag 3 × 4 in 2 ready cut",
        "Photos 1 of 4 × 5 in",
        "At the trimmer 4 cuts, 3 turns, on a trimmer that cuts 12 in, up to 2 sheets at once",
        "sheet 1 of Daisy print 12 × 9 in",
        "Sheet 1 of White card and sheet 2 of White card, cut together: 3 cuts",
        "Off comes an offcut.",
        "photo: cut to 4 × 5 in, or a 3 1/2 × 5 in print with a wider border",
    ):
        assert words in said


def test_the_demos_booklet_says_every_step_and_every_offcut(demo: Booklet, words: str) -> None:
    for one in demo.chapters:
        assert one.work is not None
        assert one.title in words
        for lift in one.work.lifts:
            for step in lift.steps:
                assert say_step(step, one.work.design.ruler) in words
        for left in one.work.left:
            assert f"{left.sheet} {left.size}" in words
        for laid in one.work.pages:
            assert f"Page {laid.page.name}, {laid.size}" in words


def test_the_box_says_the_tiers_side_by_side(words: str) -> None:
    assert "Journalling card 3 × 4 in 8 6 4" in words
    assert "Welcome fold for a first box 148 × 148 mm" in words
    assert "In the box of: Orchard: five spreads and every extra; and Branch: three spreads." in words


def test_the_list_of_contents_leads_to_the_pages_that_chapters_begin_on(
    printed: Path, pages: list[str]
) -> None:
    """The numbers are written last, when all pages are known."""
    heads = ["What is in the box", *(f"Spread {n}" for n in range(1, 6)), "What is left of the papers"]
    begin = [next(at for at, text in enumerate(pages, 1) if at > 1 and f"{head} " in text) for head in heads]
    assert pages[0].endswith(" ".join(map(str, begin)))
    titles = [str(entry["/Title"]) for entry in PdfReader(printed).outline if isinstance(entry, dict)]
    assert titles[:2] == ["What is in the box", "Spread 1: Garden gate"]
    assert titles[-1] == "What is left of the papers"


def test_the_cautions_are_there_and_call_nothing_safe(words: str) -> None:
    for caution in CAUTIONS:
        assert caution in words
    assert "manual" in CAUTIONS[0]
    assert "safe" not in words.casefold()


def test_every_page_carries_the_plan_and_its_number(pages: list[str]) -> None:
    for number, page in enumerate(pages, 1):
        assert STAMP.text in page
        assert f"page {number} of {len(pages)}" in page


@pytest.mark.parametrize(("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))])
def test_it_is_made_on_the_paper_asked_for(paper: str, size: tuple[int, int]) -> None:
    boxes = [page.mediabox for page in PdfReader(BytesIO(pdf_of(designed_month(), paper))).pages]
    assert {(round(box.width), round(box.height)) for box in boxes} == {size}


def test_a_recipe_known_by_its_rows_lists_its_pieces(texts: Texts) -> None:
    said = " ".join(texts(pdf_of(MONTH)))
    assert "How its sheets are cut is not drawn." in said
    assert "photo mat 4 1/4 × 6 1/4 in 2 to spare, ready cut" in said


def test_a_recipe_that_is_not_finished_says_so(texts: Texts) -> None:
    said = texts(pdf_of(designed_month(DAISY.replace("cut at 3: offcut", "cut at 13: offcut"))))
    assert any("This recipe is not finished" in page for page in said)


def test_a_month_with_nothing_still_makes_a_booklet(texts: Texts) -> None:
    nothing = replace(EMPTY_MONTH, recipes=(), roles=(), pieces=(), kit_lines=(), kit_papers=(), tiers=())
    assert "What is in the box" in " ".join(texts(pdf_of(nothing)))


def test_names_and_notes_of_any_length_and_accent_are_printed(texts: Texts) -> None:
    month = designed_month(DAISY.replace("quarter", LONG.strip().replace("’", "")))
    long = replace(
        month,
        club=replace(month.club, name=LONG, kit_name=LONG, note=LONG * 5),
        materials=tuple(replace(one, name=LONG) for one in month.materials),
        tiers=tuple(replace(one, name=f"{LONG} {one.code}") for one in month.tiers),
    )
    assert booklet(long).chapters[0].work is not None
    assert printable("Änne & Ștefan") in " ".join(texts(pdf_of(long)))


def test_many_tiers_are_listed_some_at_a_time(texts: Texts) -> None:
    month = designed_month()
    tiers = tuple(replace(month.tiers[0], code=f"T{n}", name=f"Tier number {n}") for n in range(1, 10))
    said = " ".join(texts(pdf_of(replace(month, tiers=tiers))))
    assert all(f"Tier number {n}" in said for n in range(1, 10))


def test_the_same_month_makes_the_same_bytes() -> None:
    assert pdf_of(designed_month()) == pdf_of(designed_month())


@given(designs())
@settings(max_examples=examples(12))
def test_whatever_is_designed_can_be_printed(design: Design) -> None:
    month = designed_month()
    club, blank = month.club, booklet(replace(month, kit_lines=()))
    one = Chapter(
        code="A",
        title="Any",
        note="",
        boxes=(),
        papers=(),
        pieces=(),
        photos=(),
        work=work(design),
    )
    assert booklet_pdf(replace(blank, chapters=(one,)), club, "Letter", STAMP).startswith(b"%PDF")
