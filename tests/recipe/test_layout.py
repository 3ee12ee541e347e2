"""Where pieces lie, and which photo fits a mat."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.measures import INCH, MM, RULERS
from kits.recipe import NoRoomError, centred, even_gap, evenly, mat_for, photo_on, photos_for

E = INCH // 8
LENGTHS = st.integers(1, 20 * INCH)


def test_a_strip_of_2_3_4_in_on_a_page_of_12_in_starts_4_5_8_in_from_each_edge() -> None:
    # Common practice, no source; (12 - 2 3/4) / 2 = 4 5/8
    start = centred(12 * INCH, 22 * E)

    assert RULERS[0].format(start) == "4 5/8 in"
    assert 12 * INCH - start - 22 * E == start


def test_what_is_centred_may_lie_between_two_marks() -> None:
    # (12 - 3 1/8) / 2 = 4 7/16
    assert RULERS[1].format(centred(12 * INCH, 25 * E)) == "4 7/16 in"


def test_pieces_in_a_row_have_the_same_gap_everywhere() -> None:
    # three cards of 3 in on 12 in: 3 in are left for four gaps; between margins of 1/2 in, 2 in for two gaps
    assert evenly(12 * INCH, [3 * INCH] * 3) == (6 * E, 36 * E, 66 * E)
    assert evenly(12 * INCH, [3 * INCH] * 3, margin=INCH // 2) == (4 * E, 36 * E, 68 * E)


def test_the_gap_is_exact_even_where_no_length_is() -> None:
    # 1 mm for three gaps
    assert even_gap(7 * MM, [3 * MM, 3 * MM]) == Fraction(MM, 3)
    assert evenly(7 * MM, [3 * MM, 3 * MM]) == (2666, 29333)


def test_one_piece_between_margins_is_centred() -> None:
    assert evenly(12 * INCH, [4 * INCH], margin=INCH) == (4 * INCH,)


@given(st.lists(LENGTHS, min_size=1, max_size=6), LENGTHS, st.none() | st.integers(0, INCH))
def test_gaps_differ_by_no_more_than_an_eighth_of_a_micrometre(
    sizes: list[int], spare: int, margin: int | None
) -> None:
    room = sum(sizes) + spare + 2 * (margin or 0)

    starts = evenly(room, sizes, margin)

    gap = even_gap(room, sizes, margin)
    ends = [start + size for start, size in zip(starts, sizes, strict=True)]
    between = [after - before for before, after in zip(ends, starts[1:], strict=False)]
    assert all(abs(each - gap) < 1 for each in between)
    assert starts[0] >= (margin or 0)
    assert ends[-1] <= room - (margin or 0)


def test_pieces_that_do_not_fit_are_told() -> None:
    with pytest.raises(NoRoomError, match="13 in do not fit into 12 in"):
        evenly(12 * INCH, [6 * INCH, 7 * INCH])


def test_a_photo_of_4_by_6_with_a_border_of_1_8_needs_a_mat_of_4_1_4_by_6_1_4() -> None:
    # Common practice, no source; the border is that of one side.
    assert mat_for(4 * INCH, 6 * INCH, E) == (34 * E, 50 * E)
    assert photo_on(34 * E, 50 * E, E) == (4 * INCH, 6 * INCH)
    assert mat_for(4 * INCH, 6 * INCH, 2 * E) == (36 * E, 52 * E)


def test_a_border_that_leaves_nothing_is_told() -> None:
    with pytest.raises(NoRoomError):
        photo_on(4 * INCH, 6 * INCH, 2 * INCH)


def test_the_usual_photos_that_fit_a_mat_come_largest_first() -> None:
    # Sizes: Wikipedia, "Standard photographic print sizes", as quoted by a photo shop. A mat lies either way.
    assert [size.name for size in photos_for(34 * E, 50 * E, E)] == [
        "4 x 6 in",
        "3.5 x 5 in",
        "2.5 x 3.5 in",
        "2 x 3 in",
    ]
    assert photos_for(50 * E, 34 * E, E) == photos_for(34 * E, 50 * E, E)
    assert photos_for(INCH, INCH, E) == ()
