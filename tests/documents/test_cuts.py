"""The lines of a ticket in words, and what an operator makes of them."""

from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import Cut, Direction, Lot, Offcut, Piece, count_cuts, lines, number_out
from kits.measures import INCH, MM, ruler
from planning.documents.cuts import LONGEST_RUN, cut_rows, lots_words, measures, moves_of, part_names

EIGHTHS = ruler("1/8 in")


@given(
    st.integers(4, 60),
    st.integers(4, 60),
    st.integers(1, 30),
    st.integers(1, 30),
    st.integers(0, 10),
    st.integers(4, 60),
)
def test_the_rows_number_every_cut_once_and_in_order(
    width: int, height: int, wide: int, high: int, smallest: int, opening: int
) -> None:
    wide, high = min(wide, width), min(high, height)
    tree = number_out(width * INCH, height * INCH, wide * INCH, high * INCH).tree
    made = lines(tree, smallest * INCH, opening * INCH)
    moves = moves_of(made, smallest * INCH)
    expected = 1
    for row in cut_rows(moves, EIGHTHS):
        first, _, last = row.numbers.partition(" to ")
        assert int(first) == expected
        expected = int(last or first) + 1
    assert expected == sum(line.times for line in made) + 1 <= count_cuts(tree) + 1


def test_a_run_of_like_cuts_is_one_row_with_its_gauges_in_turn() -> None:
    """Twelve 1 in strips of a 12 in sheet: eleven cuts, the first at 11 in, the last at 1 in."""
    tree = number_out(12 * INCH, 12 * INCH, 1 * INCH, 12 * INCH, name="strip").tree
    [row] = cut_rows(moves_of(lines(tree), 0), EIGHTHS)
    assert row.numbers == "1 to 11"
    assert row.in_hand == "the sheet: 12\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}12"
    assert not row.narrow


def test_no_row_holds_more_cuts_than_one_can_keep_track_of() -> None:
    tree = number_out(40 * INCH, 12 * INCH, 1 * INCH, 12 * INCH).tree
    numbers = [row.numbers for row in cut_rows(moves_of(lines(tree), 0), EIGHTHS)]
    assert LONGEST_RUN == 12
    assert numbers == ["1 to 12", "13 to 24", "25 to 36", "37 to 39"]


def test_parts_cut_alike_lie_side_by_side() -> None:
    """12 x 12 in into twelve 3 x 4 in: two cuts make three strips, and three more cut them all."""
    tree = number_out(12 * INCH, 12 * INCH, 3 * INCH, 4 * INCH, name="card").tree
    *_, last = cut_rows(moves_of(lines(tree), 0), EIGHTHS)
    assert (last.numbers, last.in_hand.partition(":")[0]) == ("3 to 5", "parts 1 to 3, side by side")
    assert (last.turn, last.off, last.stays) == ("a quarter", "each card", "each card")


def test_where_the_knife_is_too_short_for_all_they_are_cut_some_at_a_time() -> None:
    tree = number_out(12 * INCH, 12 * INCH, 3 * INCH, 4 * INCH, name="card").tree
    *_, last = cut_rows(moves_of(lines(tree, 0, 11 * INCH), 0), EIGHTHS)
    assert last.in_hand.partition(":")[0] == "parts 1 to 3, 2 side by side at a time"
    assert last.numbers == "3 to 8"  # three gauges for two, then for one


def test_equal_parts_of_unlike_parts_are_spelled_out_once() -> None:
    """A strip of tags in the sheet, and the same strip again below a card: cut as the first was."""
    tag, card = Piece("tag", 2 * INCH, 3 * INCH), Piece("card", 6 * INCH, 4 * INCH)
    strip = Cut(6 * INCH, 3 * INCH, Direction.UPRIGHT, (2 * INCH, 4 * INCH), (tag, tag, tag))
    column = Cut(6 * INCH, 7 * INCH, Direction.LEVEL, (3 * INCH,), (strip, card))
    other = Cut(6 * INCH, 7 * INCH, Direction.LEVEL, (4 * INCH,), (card, strip))
    sheet = Cut(12 * INCH, 7 * INCH, Direction.UPRIGHT, (6 * INCH,), (column, other))
    *_, last = cut_rows(moves_of(lines(sheet), 0), EIGHTHS)
    assert (last.in_hand, last.like, last.numbers) == ("part 2.2", "part 1.1", "6 to 7")


def test_parts_are_named_as_a_range_where_they_follow_each_other() -> None:
    assert part_names(["2"]) == "part 2"
    assert part_names(["1.2", "1.3"]) == "parts 1.2, 1.3"
    assert part_names(["1.2", "1.3", "1.4"]) == "parts 1.2 to 1.4"
    assert part_names(["1.4", "1.3", "1.2"]) == "parts 1.4 to 1.2"
    assert part_names(["1.2", "1.3", "2.1"]) == "parts 1.2, 1.3, 2.1"
    assert part_names(["1.2", "1.4", "1.6"]) == "parts 1.2, 1.4, 1.6"
    assert part_names(["1.1", "1.2", "1.3", "2.1", "2.2", "2.3"]) == "parts 1.1 to 1.3, 2.1 to 2.3"


def test_measures_name_their_unit_once_unless_one_is_beside_the_rulers_marks() -> None:
    plain = measures([10 * INCH, 21 * INCH // 4], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ")
    assert plain == "10, 5 1/4 in"
    beside = measures([10 * INCH, 100 * MM], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ")
    assert beside == "10 in; 3 7/8 in plus 1.575 mm (not on a 1/8 in mark)"  # 3 7/8 in are 98.425 mm


def test_a_part_narrower_than_half_a_mark_is_told_as_it_is() -> None:
    """1.5 mm are less than half of 1/8 in (3.175 mm): the nearest mark would be none at all."""
    left = [Lot("left over", Offcut(MM * 3 // 2, 38 * INCH))]
    assert lots_words(left, ["1"], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ") == "left over: 1.5 mm × 38"


def test_what_comes_off_is_named_with_its_size() -> None:
    inch = INCH
    strip = Cut(
        inch, 2 * inch, Direction.LEVEL, (inch,), (Piece("Tag", inch, inch), Piece("Tag", inch, inch))
    )
    lots = [Lot("1.2", strip), Lot("1.1", strip)]
    assert lots_words(lots, ["1"], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ") == "parts 1.2, 1.1: each 1 × 2"
    left = [Lot("left over", Offcut(inch, inch))]
    assert lots_words(left, ["1"], EIGHTHS).replace("\N{NO-BREAK SPACE}", " ") == "left over: 1 × 1"
    assert lots_words([Lot("Tag", Piece("Tag", inch, inch))] * 2, ["1"], EIGHTHS) == "each Tag"
    assert lots_words(lots[:1], ["1", "3"], EIGHTHS).startswith("parts 1.2, 3.2: each")
    assert lots_words([Lot("2", strip)], ["sheet"], EIGHTHS).startswith("part 2:")
