"""The drawing of a cut sheet."""

from itertools import combinations, pairwise

import pytest
from defusedxml.ElementTree import fromstring
from hypothesis import given
from hypothesis import strategies as st

from kits.drawing import Anchor, Drawing, Line, Path, Rect, Style, Text, svg, text_width
from kits.guillotine import (
    EdgeTrim,
    PieceSize,
    SheetProblem,
    best_use,
    count_pieces,
    describe,
    draw_sheet,
    number_out,
    pieces,
)
from kits.guillotine.marks import size, spread
from kits.measures import INCH, MM, ruler

EIGHTH = ruler("1/8 in")
CARDS = number_out(12 * INCH, 12 * INCH, 5 * INCH // 2, 7 * INCH // 2, name="journal card").tree


def texts(drawing: Drawing) -> list[Text]:
    return [shape for shape in drawing.shapes if isinstance(shape, Text)]


def rects(drawing: Drawing, style: Style) -> list[Rect]:
    return [shape for shape in drawing.shapes if isinstance(shape, Rect) and shape.style is style]


def box(text: Text) -> tuple[float, float, float, float]:
    """Left, top, right, bottom, from the baseline to the top of capitals."""
    width, rise = text_width(text.text, text.size), text.size * 0.73
    before = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
    if text.upwards:
        return text.x - rise, text.y - (width - before), text.x, text.y + before
    return text.x - before, text.y - rise, text.x - before + width, text.y


def overlap(one: tuple[float, float, float, float], two: tuple[float, float, float, float]) -> bool:
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def test_it_works() -> None:
    drawing = draw_sheet(CARDS, EIGHTH, "14 cards of a sheet", grain="height")

    assert drawing.title == "14 cards of a sheet"
    assert len(rects(drawing, Style.PIECE)) == 14
    said = [text.text for text in texts(drawing)]
    assert said.count("journal card") == 14
    assert {"2 1/2 × 3 1/2", "3 1/2 × 2 1/2", "turned", "grain", "left over", "12 × 1 1/2"} <= set(said)
    assert {"2 1/2", "5", "8 1/2", "12"} <= set(said)  # from the left edge
    assert {"3 1/2", "7", "10", "10 1/2"} <= set(said)  # from the top edge


def test_it_is_to_scale() -> None:
    drawing = draw_sheet(CARDS, EIGHTH, "Sheet")
    [sheet] = rects(drawing, Style.OUTLINE)

    per_inch = sheet.width / 12
    for rect, placed in zip(rects(drawing, Style.PIECE), pieces(CARDS), strict=True):
        assert abs(rect.x - sheet.x - placed.x / INCH * per_inch) < 1e-9
        assert abs(rect.height - placed.part.height / INCH * per_inch) < 1e-9


def test_every_turned_piece_has_a_marked_corner_and_the_key_says_so() -> None:
    drawing = draw_sheet(CARDS, EIGHTH, "Sheet")

    corners = [s for s in drawing.shapes if isinstance(s, Path) and s.style is Style.CORNER]
    assert len(corners) == 8 + 1
    plain = draw_sheet(number_out(12 * INCH, 12 * INCH, 3 * INCH, 4 * INCH).tree, EIGHTH, "Sheet")
    assert not [s for s in plain.shapes if isinstance(s, Path) and s.style is Style.CORNER]


def test_offcuts_are_hatched_and_not_only_coloured() -> None:
    drawing = draw_sheet(CARDS, EIGHTH, "Sheet")

    hatches = [s for s in drawing.shapes if isinstance(s, Path) and s.style is Style.HATCH]
    assert len(hatches) == len(rects(drawing, Style.OFFCUT)) == 2


def test_a_name_too_long_for_its_piece_has_a_letter_and_stands_in_the_key() -> None:
    tree = number_out(25 * INCH, 38 * INCH, 15 * INCH // 4, 21 * INCH // 4, name="photo mat, cream").tree

    said = [text.text for text in texts(draw_sheet(tree, ruler("1/16 in"), "Sheet"))]

    assert said.count("A") == count_pieces(tree)["photo mat, cream"] + 1
    assert f"photo mat, cream, 3 3/4 × 5 1/4, {count_pieces(tree)['photo mat, cream']} out" in said


def test_first_cuts_run_from_edge_to_edge() -> None:
    drawing = draw_sheet(CARDS, EIGHTH, "Sheet")
    [sheet] = rects(drawing, Style.OUTLINE)

    [cut] = [s for s in drawing.shapes if isinstance(s, Line) and s.style is Style.CUT]

    assert (cut.x1, cut.x2) == (sheet.x, sheet.x + sheet.width)


def test_a_measure_beside_the_rulers_marks_is_said_to_be_about() -> None:
    drawing = draw_sheet(number_out(10 * INCH, 10 * INCH, 50 * MM, 50 * MM).tree, EIGHTH, "Sheet")

    assert "≈2" in [text.text for text in texts(drawing)]


def test_a_sheet_is_captioned_in_the_unit_in_which_its_size_is_exact() -> None:
    # A4 is 210 x 297 mm (ISO 216); 8 in are 203.2 mm and 11 1/2 in are 292.1 mm, so 6.8 and 4.9 mm are left.
    a4 = number_out(210 * MM, 297 * MM, 8 * INCH, 23 * INCH // 2, name="veil").tree
    drawing = draw_sheet(a4, EIGHTH, "Sheet")

    said = [text.text for text in texts(drawing)]

    assert {"210 × 297 mm, 1 out", "210 mm", "297 mm", "8 × 11 1/2"} <= set(said)
    assert not any("≈" in text for text in said)
    assert describe(a4, EIGHTH).startswith(
        "Sheet 210 mm wide, 297 mm high. 1 piece by 2 cuts: 1 veil 8 × 11 1/2."
    )


def test_a_narrow_sheet_is_captioned_in_full() -> None:
    strip = number_out(60 * MM, 500 * MM, 2 * INCH, 2 * INCH, name="letter pocket").tree
    said = [text.text for text in texts(draw_sheet(strip, EIGHTH, "Sheet"))]
    assert {"60 × 500 mm, 9 out", "letter pocket, 2 × 2, 9 out"} <= set(said)


@pytest.mark.parametrize(
    ("width", "height", "said"),
    [
        (12 * INCH, 12 * INCH, "12 × 12 in"),
        (210 * MM, 297 * MM, "210 × 297 mm"),
        (12 * INCH, 148 * MM, "304.8 × 148 mm"),
        (129 * INCH // 16, 12 * INCH, "8 1/16 × 12 in"),  # 8 1/16 in are 204.7875 mm
        (129 * INCH // 16, 148 * MM, "≈204.8 × 148 mm"),
        (INCH // 8, 10 * MM + 1, "≈3.2 × ≈10 mm"),  # 1/8 in are 3.175 mm
    ],
)
def test_both_sides_of_a_size_are_in_one_unit(width: int, height: int, said: str) -> None:
    assert size(width, height, EIGHTH, unit=True) == said


def test_a_grain_arrow_runs_along_its_side() -> None:
    def arrows(grain: str | None) -> list[Path]:
        drawing = draw_sheet(CARDS, EIGHTH, "Sheet", grain)
        return [s for s in drawing.shapes if isinstance(s, Path) and s.style is Style.ARROW]

    assert arrows(None) == arrows("none") == []
    [((x1, _), (x2, _)), *_] = arrows("height")[0].lines
    assert x1 == x2
    [((_, y1), (_, y2)), *_] = arrows("width")[0].lines
    assert y1 == y2


def test_the_description_says_all_of_it_in_words() -> None:
    assert describe(CARDS, EIGHTH, "height") == (
        "Sheet 12 in wide, 12 in high. 14 pieces by 15 cuts: 6 journal card 2 1/2 × 3 1/2, "
        "8 journal card 3 1/2 × 2 1/2 turned. Left over: 12 × 1 1/2, 7 × 1/2. The grain runs along the height."
    )
    whole = number_out(12 * INCH, 12 * INCH, 12 * INCH, 12 * INCH).tree
    assert describe(whole, EIGHTH) == (
        "Sheet 12 in wide, 12 in high. 1 piece by 0 cuts: 1 piece 12 × 12. Nothing is left over."
    )


@st.composite
def sheets(draw: st.DrawFn) -> Drawing:
    def inches(least: int, most: int) -> int:
        return draw(st.integers(least, most)) * INCH // 8

    names = draw(
        st.lists(
            st.text("abc XYZ", min_size=1, max_size=14).filter(str.strip), min_size=1, max_size=4, unique=True
        )
    )
    listed = tuple(PieceSize(name, inches(6, 60), inches(6, 60)) for name in names)
    trim = EdgeTrim(inches(0, 2), inches(0, 2), inches(0, 2), inches(0, 2))
    problem = SheetProblem(inches(64, 300), inches(64, 300), listed, trim, spacing=inches(0, 1))
    grain = draw(st.sampled_from([None, "width", "height"]))
    return draw_sheet(best_use(problem, effort=50_000_000).tree, EIGHTH, "Sheet", grain)


@given(sheets())
def test_no_text_lies_on_another_or_outside_the_drawing(drawing: Drawing) -> None:
    boxes = [(text.text, box(text)) for text in texts(drawing) if text.text.strip()]

    for text, (left, top, right, bottom) in boxes:
        assert left >= -1e-6, text
        assert top >= -1e-6, text
        assert right <= drawing.width + 1e-6, text
        assert bottom <= drawing.height, text
    for (one, one_box), (two, two_box) in combinations(boxes, 2):
        assert not overlap(one_box, two_box), (one, two)


@given(sheets())
def test_words_on_the_sheet_stay_on_their_part(drawing: Drawing) -> None:
    [sheet] = rects(drawing, Style.OUTLINE)
    parts = rects(drawing, Style.PIECE) + rects(drawing, Style.OFFCUT)
    for text in texts(drawing):
        left, top, right, bottom = box(text)
        if sheet.x < text.x < sheet.x + sheet.width and sheet.y < text.y < sheet.y + sheet.height:
            assert any(
                part.x <= left
                and part.y <= top
                and right <= part.x + part.width
                and bottom <= part.y + part.height
                for part in parts
            ), text


@given(sheets())
def test_every_drawing_is_sound_svg(drawing: Drawing) -> None:
    fromstring(svg(drawing, "p"))


@given(st.lists(st.floats(0, 100), max_size=20).map(sorted))
def test_marks_that_are_too_close_are_spread_and_stay_in_order(wanted: list[float]) -> None:
    places = spread(wanted, 4, 100)

    assert len(places) == len(wanted)
    assert all(after - before >= 4 - 1e-6 for before, after in pairwise(places))
    assert all(place <= 100 + 1e-6 for place in places)


def test_two_close_marks_move_apart_evenly() -> None:
    assert spread([10, 50, 51, 90], 4, 100) == [10, 48.5, 52.5, 90]
    assert spread([98, 99], 4, 99) == [95, 99]
