from hypothesis import given
from hypothesis import strategies as st

from planning.documents.pdf.fonts import TEXT, text_width
from planning.documents.pdf.typeset import GOES_ON, fit, shrunk, wrap

LETTERS = st.text("abcW iłΩж-", max_size=120)


@given(LETTERS, st.floats(8, 300))
def test_wrapped_lines_fit_and_lose_nothing_but_blanks(text: str, width: float) -> None:
    lines = list(wrap(text, TEXT, 10, width))
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, TEXT, 10) <= width or len(line) == 1 for line in lines)


def test_words_stay_whole_where_they_can() -> None:
    width = text_width("Stanley Dock", TEXT, 10)
    assert list(wrap("Stanley Dock Estate", TEXT, 10, width)) == ["Stanley Dock", "Estate"]


def test_lines_are_set_as_large_as_the_room_lets_them() -> None:
    lines = ["Quay Street", "Tromsø"]
    assert fit(lines, TEXT, (12.0, 9.0), 200, 40).size == 12
    # two lines of 12 points take 2 x 12 x 1.22 = 29.3 points, two of 9 take 22
    assert fit(lines, TEXT, (12.0, 9.0), 200, 25).size == 9


def test_what_fits_at_no_size_says_that_it_goes_on() -> None:
    block = fit(["a very long line " * 40], TEXT, (9.0, 6.0), 100, 30)
    assert block.lines[-1] == GOES_ON
    assert block.height <= 30


def test_one_line_shrinks_no_further_than_it_must() -> None:
    assert shrunk("short", TEXT, 9, 200) == 9
    size = shrunk("a line that is too long", TEXT, 9, 50)
    assert abs(text_width("a line that is too long", TEXT, size) - 50) < 0.01
