"""Drawings of recipes: what they say, what they show, and that nothing sticks out."""

from collections.abc import Iterator
from typing import TypeAlias
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings

from kits.drawing import Drawing, Group, Line, Path, Rect, Shape, Style, Text, svg, text_width
from kits.recipe import (
    Design,
    describe_page,
    draw_cut_sheet,
    draw_page,
    draw_spread,
    draw_step,
    parse,
    trim_steps,
    with_paper_names,
)
from kits.recipe.check.faults import Box
from kits.recipe.draw.visible import largest_visible
from tests.recipe.designs import SMALL, designs
from tests.support.effort import examples

Drawn: TypeAlias = Rect | Line | Path | Text

DESIGN = parse(SMALL)
STEPS = trim_steps(DESIGN).steps


def shapes_of(shapes: tuple[Shape, ...], x: float = 0, y: float = 0) -> Iterator[tuple[Drawn, float, float]]:
    """Yield every shape with where its group lies."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield from shapes_of(shape.shapes, x + shape.x, y + shape.y)
        else:
            yield shape, x, y


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape, _, _ in shapes_of(drawing.shapes) if isinstance(shape, Text)]


def drawings(design: Design) -> list[Drawing]:
    sheets = [draw_cut_sheet(design, sheet) for sheet in design.sheets]
    pages = [draw_page(design, page) for page in design.pages]
    steps = [draw_step(step, design.ruler) for step in trim_steps(design).steps]
    return [*sheets, *pages, draw_spread(design), *steps]


def test_a_cut_sheet_shows_marks_pieces_pages_and_what_is_left() -> None:
    drawing = draw_cut_sheet(DESIGN, DESIGN.sheets[0])

    assert drawing.title == "Sheet 1 of mats of recipe Garden gate"
    said = texts(drawing)
    assert {"photo mat, left", "left over", "8 1/2 × 5 3/4", "8 1/2", "6 1/4"} <= set(said)
    assert "story card, right" in " ".join(said)  # on two lines
    assert "2 photo mat, left 4 1/4 × 6 1/4" in drawing.description
    assert "Left over: 8 1/2 × 5 3/4." in drawing.description


def test_a_page_shows_papers_pieces_and_photos() -> None:
    drawing = draw_page(DESIGN, DESIGN.pages[0])

    assert drawing.title == "Page left of recipe Garden gate"
    assert {"stripe", "tag", "10 × 4", "photo", "4 × 6", "3 × 5", "mats", "band", "page left"} <= set(
        texts(drawing)
    )
    photos = [
        shape
        for shape, _, _ in shapes_of(drawing.shapes)
        if isinstance(shape, Rect) and shape.style is Style.PHOTO
    ]
    assert len(photos) == 2
    # 12 in are 96 mm, so a photo of 4 x 6 is 32 x 48; it lies 1/8 in, which is 1 mm, inside its mat at 3, 5
    assert (photos[0].width, photos[0].height) == (32, 48)


def test_a_page_is_said_in_words() -> None:
    assert describe_page(DESIGN, DESIGN.pages[1]) == (
        "Page right, 12 in wide and 12 in high. "
        "stripe of band, 2 in × 12 in, 0 in from the left and 0 in from the top. "
        "panel of band, 10 in × 12 in, 2 in from the left and 0 in from the top. "
        "story card of mats, 3 1/2 in × 4 in, 3 in from the left and 1 in from the top. "
        "story card of mats, 3 1/2 in × 4 in, 3 in from the left and 5 in from the top. "
        "story card of mats, 4 in × 3 1/2 in, 7 in from the left and 1 in from the top."
    )


def test_a_piece_is_named_where_it_can_be_seen() -> None:
    # The panel is hidden by cards at its left and top; its name stands in the free band of 12 - 9 in at the bottom or in
    # the strip at the right, never under a card.
    drawing = draw_page(DESIGN, DESIGN.pages[1])
    cards = [
        (shape.x, shape.y, shape.x + shape.width, shape.y + shape.height)
        for shape, _, _ in shapes_of(drawing.shapes)
        if isinstance(shape, Rect) and shape.style is Style.PIECE and shape.width < 33
    ][1:4]

    [name] = [
        shape
        for shape, _, _ in shapes_of(drawing.shapes)
        if isinstance(shape, Text) and shape.text == "panel"
    ]

    assert not any(left < name.x < right and top < name.y < bottom for left, top, right, bottom in cards)


def test_a_spread_shows_all_pages_side_by_side() -> None:
    drawing = draw_spread(DESIGN)

    assert [shape.name for shape in drawing.shapes if isinstance(shape, Group)] == ["page", "page"]
    assert {"page left", "page right"} <= set(texts(drawing))


def test_a_spread_needs_a_page() -> None:
    with pytest.raises(ValueError, match="needs a page"):
        draw_spread(Design(code="A"))


def test_a_step_shows_the_fence_the_mark_and_what_comes_off() -> None:
    drawing = draw_step(STEPS[4], DESIGN.ruler)

    assert drawing.title == "Cut 5"
    assert drawing.description.startswith("Go on with strip A and cut at 4 in")
    assert texts(drawing).count("story card") == 2
    assert {"fence", "4", "top edge at the fence"} <= set(texts(drawing))


def test_several_sheets_are_shown_as_a_stack() -> None:
    assert "left edge at the fence, 2 sheets" in texts(draw_step(STEPS[5], DESIGN.ruler))


def test_what_is_left_over_is_hatched() -> None:
    styles = [shape.style for shape, _, _ in shapes_of(draw_step(STEPS[1], DESIGN.ruler).shapes)]

    assert Style.HATCH in styles


def test_papers_are_told_apart_by_their_ground() -> None:
    # mats is plain, band is lined, so that grey print keeps them apart
    drawing = draw_page(DESIGN, DESIGN.pages[0])

    hatched = sum(shape.style is Style.HATCH for shape, _, _ in shapes_of(drawing.shapes))
    assert hatched == 3  # the stripe, the tag and the swatch in the key


def test_the_largest_visible_part_is_found() -> None:
    # Of 12 x 12 a square of 4 in its corner is covered: 8 x 12 or 12 x 8 can be seen; the wider one is taken.
    assert largest_visible(Box(0, 0, 12, 12), [Box(0, 0, 4, 4)]) == Box(0, 4, 12, 8)
    assert largest_visible(Box(0, 0, 12, 12), []) == Box(0, 0, 12, 12)
    assert largest_visible(Box(0, 0, 4, 4), [Box(0, 0, 2, 4), Box(2, 0, 2, 4)]) is None


@given(designs())
@settings(max_examples=examples(40))
def test_drawings_are_whole_and_nothing_sticks_out(design: Design) -> None:
    for drawing in drawings(design):
        ET.fromstring(svg(drawing, "drawn"))  # noqa: S314
        assert drawing.title
        assert drawing.description
        for shape, x, y in shapes_of(drawing.shapes):
            if isinstance(shape, Text) and shape.anchor == "middle" and not shape.upwards:
                half = text_width(shape.text, shape.size) / 2
                assert x + shape.x - half >= -5
                assert x + shape.x + half <= drawing.width + 5
            if isinstance(shape, Rect) and shape.style is Style.SHEET:
                assert x + shape.x + shape.width <= drawing.width + 0.01
                assert y + shape.y + shape.height <= drawing.height + 0.01


def test_what_is_cut_on_is_named_shortly_where_its_paper_has_a_long_name() -> None:
    named = with_paper_names(DESIGN, {"band": "A very long name of a paper, as it is sold by the pack"})
    # at 10 the first band is finished, the second is cut on: 10 of 12 in is no room for such a name
    [step] = [each for each in trim_steps(named).steps if len(each.kept) > 1]
    assert {"panel", "and the rest"} <= set(texts(draw_step(step, DESIGN.ruler)))
