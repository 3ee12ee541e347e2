import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.documents.pdf.square_code import (
    CHARACTERS,
    as_number,
    library_code,
    modules_of,
    size_of,
    square_marks,
)


@given(st.text(CHARACTERS, min_size=1, max_size=30))
def test_a_sum_of_bits_is_the_librarys_own_code(text: str) -> None:
    assert modules_of(text) == as_number(library_code(text))


def test_a_code_is_as_large_as_its_text_asks_for() -> None:
    """Version 1 holds 20 such characters at level M, version 2 38 (ISO/IEC 18004, table 7, from memory)."""
    assert [size_of(length) for length in (1, 20, 21, 38, 39)] == [21, 21, 25, 25, 29]


def test_what_no_square_holds_is_refused() -> None:
    with pytest.raises(ValueError, match="'b' does not fit into the square code"):
        square_marks("RIb", 0, 0, 60)
    with pytest.raises(ValueError, match="does not fit into 5 points"):
        square_marks("RIV", 0, 0, 5)
