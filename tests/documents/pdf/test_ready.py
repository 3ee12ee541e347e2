"""Pages of ready-made marks are whole files that every reader takes, whatever the letters in them."""

from io import BytesIO

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from planning.documents.pdf import appended
from planning.documents.pdf.fonts import STRONG, TEXT, glyphs, printable, text_width
from planning.documents.pdf.page import Letterhead, open_canvas
from planning.documents.pdf.ready import FIGURES, ReadyPages, width_of
from planning.documents.pdf.typeset import fit, widest
from tests.documents.small_month import CLUB, STAMP


def begun() -> tuple[Canvas, ReadyPages]:
    canvas = open_canvas(BytesIO(), Letterhead(club=CLUB, title="Pages", stamp=STAMP), (300, 200))
    canvas.beginForm("frame", 0, 0, 300, 200)
    canvas.setFont(STRONG, 9)
    canvas.drawString(10, 180, "Frame")
    canvas.endForm()
    return canvas, ReadyPages(canvas, ["frame"], (TEXT, STRONG))


def test_it_works() -> None:
    _, pages = begun()
    pages.add([pages.form("frame"), pages.text(10, 100, TEXT, 10, "One (1) \\ two")])
    pages.add([pages.right(290, 100, STRONG, 10, "page 2"), pages.centred(150, 50, TEXT, 10, "AB", spread=1)])
    reader = PdfReader(BytesIO(pages.finish()), strict=True)
    first, second = (page.extract_text() for page in reader.pages)
    assert first.splitlines() == ["Frame", "One (1) \\ two"]
    assert second.split() == ["page", "2", "AB"]
    assert [float(side) for side in reader.pages[1].mediabox] == [0, 0, 300, 200]
    assert reader.metadata is not None
    assert reader.metadata.title == "Pages"


def test_more_letters_than_one_part_of_a_typeface_holds_are_all_printed() -> None:
    """A part holds 256 (ISO 32000-1, simple fonts, from memory); lines go from one to another and back."""
    letters = [
        chr(code) for code in sorted(glyphs()) if chr(code).isalpha() and printable(chr(code)) == chr(code)
    ]
    assert len(letters) > 600
    lines = ["".join(letters[at : at + 12]) + " a" for at in range(0, 600, 12)]
    _, pages = begun()
    for line in lines:
        pages.add(
            [pages.text(10, 100, TEXT, 8, line), pages.block(10, 80, fit([line, "b"], STRONG, [8], 280, 60))]
        )
    found = [page.extract_text().split() for page in PdfReader(BytesIO(pages.finish()), strict=True).pages]
    assert found == [[*line.split(), *line.split(), "b"] for line in lines]


def test_a_file_of_no_pages_and_one_of_many() -> None:
    _, none = begun()
    assert len(PdfReader(BytesIO(none.finish()), strict=True).pages) == 0
    _, many = begun()
    for number in range(300):
        many.add([many.text(10, 10, TEXT, 10, f"{number}")])
    file = many.finish()
    assert [page.extract_text() for page in PdfReader(BytesIO(file), strict=True).pages] == [
        str(n) for n in range(300)
    ]


def test_every_part_begins_where_the_table_says() -> None:
    _, pages = begun()
    pages.add([pages.form("frame")])
    file = pages.finish()
    begins = int(file[file.rindex(b"startxref") :].split()[1])
    head, *entries = file[begins:].split(b"trailer")[0].splitlines()[1:]
    assert int(head.split()[1]) == len(entries)
    for number, entry in enumerate(entries[1:], 1):
        assert file[int(entry[:10]) :].startswith(b"%d 0 obj" % number)


def test_a_file_written_otherwise_is_refused() -> None:
    with pytest.raises(ValueError, match="another way"):
        appended.with_pages(b"xref\n0 many\n", appended.Pages(1, 2, b"[]"), [])


def test_figures_are_all_equally_wide() -> None:
    for font in (TEXT, STRONG):
        assert len({text_width(figure, font, 10) for figure in "0123456789"}) == 1
        assert width_of("page 19 of 204", font, 7) == text_width("page 19 of 204", font, 7)
    assert "page 19".translate(FIGURES) == "page 00"


def test_no_character_of_ascii_is_wider_than_the_widest() -> None:
    assert all(text_width(chr(code), TEXT, 10) <= 10 * widest(TEXT) + 1e-9 for code in range(32, 127))
