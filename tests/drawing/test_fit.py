"""Words that stay inside their rectangle."""

import string

from hypothesis import given
from hypothesis import strategies as st

from kits.drawing import Anchor, Rect, Style, Text, fitted, text_width

SIZES = (3.8, 3.0, 2.6)


def room(width: float, height: float) -> Rect:
    return Rect(10, 20, width, height, Style.PIECE)


def texts(found: tuple[Text, ...]) -> list[tuple[str, float, bool]]:
    return [(text.text, text.size, text.upwards) for text in found]


def test_it_works() -> None:
    found = fitted([["mat", "3 × 4"]], room(30, 20), SIZES)

    assert texts(found) == [("mat", 3.8, False), ("3 × 4", 3.8, False)]
    assert all(text.x == 25 and text.anchor is Anchor.MIDDLE for text in found)
    assert found[0].y < 30 < found[1].y


def test_it_grows_smaller_then_breaks_then_turns_then_says_less() -> None:
    # "journal card" is at most 6.28 em wide: 23.9, 18.8 or 16.3 mm in the three sizes, and margins of 1.6 mm.
    choices = [["journal card", "3 × 4"], ["journal card"]]

    assert texts(fitted(choices, room(22, 9), SIZES))[0] == ("journal card", 3.0, False)
    assert [text for text, _, _ in texts(fitted(choices, room(17, 14), SIZES))] == [
        "journal",
        "card",
        "3 × 4",
    ]
    assert texts(fitted(choices, room(9, 22), SIZES))[0] == ("journal card", 3.0, True)
    assert texts(fitted(choices, room(22, 5), SIZES)) == [("journal card", 3.0, False)]


def test_words_that_fit_nowhere_are_left_out() -> None:
    assert fitted([["journal card"]], room(5, 5), SIZES) == ()


@given(
    st.lists(st.text(string.printable.strip() + " ", min_size=1, max_size=12), min_size=1, max_size=3),
    st.floats(1, 60),
    st.floats(1, 60),
)
def test_words_never_leave_the_room(lines: list[str], width: float, height: float) -> None:
    space = room(width, height)

    for text in fitted([lines], space, SIZES):
        half = text_width(text.text, text.size) / 2
        rise, drop = text.size * 0.75, text.size * 0.2  # capitals above the baseline, tails below it
        left, right, top, bottom = (
            (text.x - rise, text.x + drop, text.y - half, text.y + half)
            if text.upwards
            else (text.x - half, text.x + half, text.y - rise, text.y + drop)
        )
        assert space.x <= left
        assert right <= space.x + space.width
        assert space.y <= top
        assert bottom <= space.y + space.height
