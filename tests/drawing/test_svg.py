"""A drawing as SVG."""

import pytest
from defusedxml.ElementTree import fromstring
from hypothesis import given
from hypothesis import strategies as st

from kits.drawing import (
    LOOKS,
    Anchor,
    Drawing,
    Group,
    Line,
    Path,
    Rect,
    Style,
    Text,
    arrow_both_ways,
    hatched,
    svg,
)

SVG = "{http://www.w3.org/2000/svg}"


def drawn(*shapes: Rect | Line | Path | Text | Group, title: str = "Sheet", description: str = "") -> Drawing:
    return Drawing(40, 30, title, description, shapes)


def test_it_works() -> None:
    drawing = drawn(
        Rect(1, 2, 10.5, 1 / 3, Style.PIECE),
        Line(0, 0, 40, 0, Style.CUT),
        Path((((0, 0), (5, 5)), ((1, 0), (6, 5))), Style.HATCH),
        Text(3, 4, "mat 3 1/4", 3.4, Anchor.MIDDLE, upwards=True),
        title="One sheet",
        description="One piece.",
    )

    assert svg(drawing, "p1").splitlines()[1:-1] == [
        '<title id="p1-title">One sheet</title>',
        '<desc id="p1-description">One piece.</desc>',
        '<rect x="1" y="2" width="10.5" height="0.33" class="drawn-piece" fill="#efe8d8" stroke="#20242b"'
        ' stroke-width="0.25"/>',
        '<line x1="0" y1="0" x2="40" y2="0" class="drawn-cut" fill="none" stroke="#20242b" stroke-width="0.5"/>',
        '<path d="M0 0L5 5M1 0L6 5" class="drawn-hatch" fill="none" stroke="#b4ab98" stroke-width="0.2"/>',
        '<text x="3" y="4" font-size="3.4" text-anchor="middle" transform="rotate(-90 3 4)" class="drawn-label"'
        ' fill="#20242b">mat 3 1/4</text>',
    ]


def test_it_is_one_picture_with_a_name_to_those_who_cannot_see_it() -> None:
    root = fromstring(svg(drawn(title="One sheet", description="One piece."), "p1"))

    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == root.find(f"{SVG}title").get("id") == "p1-title"  # type: ignore[union-attr]
    assert root.get("aria-describedby") == root.find(f"{SVG}desc").get("id")  # type: ignore[union-attr]
    assert (root.get("width"), root.get("viewBox")) == ("40mm", "0 0 40 30")


def test_a_drawing_without_a_title_is_refused() -> None:
    with pytest.raises(ValueError, match="title"):
        drawn(title=" ")
    with pytest.raises(ValueError, match="above zero"):
        Drawing(0, 5, "Sheet", "", ())


def test_two_drawings_on_a_page_share_no_id() -> None:
    ids = [
        element.get("id")
        for prefix in ("p1", "p2")
        for element in fromstring(svg(drawn(), prefix)).iter()
        if element.get("id")
    ]

    assert len(ids) == len(set(ids)) == 4


@pytest.mark.parametrize("prefix", ["", "1", "a b", 'a"', "é"])
def test_a_prefix_that_is_no_id_is_refused(prefix: str) -> None:
    with pytest.raises(ValueError, match="id"):
        svg(drawn(), prefix)


def test_nothing_in_it_needs_more_than_a_strict_policy_allows() -> None:
    text = svg(drawn(Rect(0, 0, 1, 1, Style.OFFCUT), Text(0, 0, "a", 3)), "p")

    assert "style" not in text
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")
    assert "<script" not in text


@given(st.text(), st.text())
def test_any_text_stays_text(title: str, label: str) -> None:
    written = svg(drawn(Text(0, 0, label, 3), title=f"a{title}", description=label), "p")

    root = fromstring(written)
    assert {element.tag for element in root.iter()} == {
        f"{SVG}{tag}" for tag in ("svg", "title", "desc", "text")
    }


def test_marks_of_a_name_are_kept_as_written() -> None:
    root = fromstring(svg(drawn(Text(0, 0, '<b> & "Łukasz" ½', 3)), "p"))

    assert root.find(f"{SVG}text").text == '<b> & "Łukasz" ½'  # type: ignore[union-attr]


def test_a_group_moves_what_is_in_it() -> None:
    text = svg(drawn(Group((Line(0, 0, 1, 1, Style.TICK),), "spread", x=5, y=2.5)), "p")

    assert '<g class="drawn-spread" transform="translate(5 2.5)">\n<line' in text
    assert text.count("<g") == text.count("</g>") == 1


@given(st.floats(-1e6, 1e6))
def test_numbers_are_short_and_within_a_hundredth_of_a_millimetre(value: float) -> None:
    root = fromstring(svg(drawn(Line(value, 0, 1, 1, Style.TICK)), "p"))

    written = root.find(f"{SVG}line").get("x1")  # type: ignore[union-attr]
    assert written is not None
    assert abs(float(written) - value) <= 0.00501
    assert written != "-0"
    assert "e" not in written


def test_every_style_has_a_look() -> None:
    assert set(LOOKS) == set(Style)


def test_what_is_told_apart_by_colour_is_told_apart_by_more() -> None:
    # An offcut has paper's colour and hatching; pieces are filled. In grey the two differ in both.
    assert LOOKS[Style.OFFCUT].fill != LOOKS[Style.PIECE].fill
    assert LOOKS[Style.HATCH].stroke_width > 0


@given(st.floats(0, 50), st.floats(0, 50), st.floats(0.1, 50), st.floats(0.1, 50))
def test_hatching_stays_inside_its_rectangle(x: float, y: float, width: float, height: float) -> None:
    for line in hatched(x, y, width, height).lines:
        for px, py in line:
            assert x - 1e-6 <= px <= x + width + 1e-6
            assert y - 1e-6 <= py <= y + height + 1e-6


def test_an_arrow_has_a_head_at_both_ends() -> None:
    arrow = arrow_both_ways((0, 0), (10, 0))

    assert arrow.lines == (((0, 0), (10, 0)), ((2, 1), (0, 0), (2, -1)), ((8, -1), (10, 0), (8, 1)))
