"""The same drawing on a page."""

import io
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path as FilePath

import pytest
from PIL import Image, ImageChops
from pypdf import PdfReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from kits.drawing import Anchor, Drawing, Group, Line, Path, Rect, Style, Text, draw

FONT = "Drawing-Test"


@pytest.fixture(scope="module")
def font() -> str:
    path = files("font_source_sans_pro") / "files" / "SourceSansPro-Regular.ttf"
    pdfmetrics.registerFont(TTFont(FONT, str(path)))
    return FONT


DRAWING = Drawing(
    40,
    30,
    "Sheet",
    "",
    (
        Rect(0, 0, 40, 30, Style.PIECE),
        Line(0, 0, 40, 30, Style.CUT),
        Path((((0, 0), (2, 0), (2, 2)),), Style.CORNER, closed=True),
        Group((Text(20, 15, "in the middle", 3, Anchor.MIDDLE),), "words", x=1),
        Text(39, 29, "at the end", 3, Anchor.END),
        Text(3, 29, "upwards", 3, upwards=True),
    ),
)


def page_of(drawing: Drawing, font: str, x: float = 0, y: float = 0, scale: float = 1) -> bytes:
    written = io.BytesIO()
    canvas = Canvas(written, pagesize=(400, 400), invariant=1)
    draw(canvas, drawing, x, y, scale, font)
    canvas.save()
    return written.getvalue()


def test_it_works(font: str) -> None:
    [page] = PdfReader(io.BytesIO(page_of(DRAWING, font))).pages

    text = page.extract_text()

    assert all(words in text for words in ("in the middle", "at the end", "upwards"))


def test_the_same_drawing_is_the_same_bytes(font: str) -> None:
    assert page_of(DRAWING, font) == page_of(DRAWING, font)


def test_it_lies_where_it_is_put_and_as_large_as_asked(
    font: str, tmp_path: FilePath, pdf_pages: Callable[[FilePath], list[FilePath]]
) -> None:
    # 40 x 30 mm at twice its size is 226.8 x 170.1 points, up and right of (100, 50) on a page of 400 x 400. From
    # the top left corner that is 100 to 326.8 across and 179.9 to 350 down; at 200 dots to 72 points:
    inked = (277.8, 499.7, 907.7, 972.2)
    path = tmp_path / "page.pdf"
    path.write_bytes(page_of(DRAWING, font, 100, 50, 2))

    [picture] = pdf_pages(path)

    with Image.open(picture) as page:
        white = Image.new("RGB", page.size, "white")
        box = ImageChops.difference(page.convert("RGB"), white).getbbox()
    assert box == pytest.approx(inked, abs=5)  # and half the width of a line
