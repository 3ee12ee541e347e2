"""The arranger, against a search by the definition that shares nothing with it, and against facts of the trade."""

from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import combinations
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.guillotine import (
    Cut,
    Direction,
    Ended,
    Offcut,
    Part,
    PieceSize,
    SheetProblem,
    Turn,
    best_use,
    check,
    count_cuts,
    count_pieces,
    largest_offcut,
    pieces,
    walk,
)
from kits.measures import INCH, MM, RULERS, LengthUnit, Ruler
from kits.recipe.arrange import (
    ArrangeError,
    Arrangement,
    ArrangeProblem,
    CutTooLongError,
    DoesNotFitError,
    OffRulerError,
    PieceToCut,
    arrange,
)
from tests.support.effort import examples

E = INCH // 8
EIGHTHS = RULERS[0]
EVERY_LENGTH = Ruler("1/8 micrometre", 1, LengthUnit.MM)


def inches(name: str, size: str, count: int = 1, *, turn: bool = True) -> PieceToCut:
    """Return a piece; its size in inches and eighths, as `4 1/4 x 6 1/4`."""
    width, height = (eighths(side) * E for side in size.split(" x "))
    return PieceToCut(name, width, height, count, turn)


def eighths(text: str) -> int:
    whole, _, fraction = text.partition(" ")
    top, bottom = (int(part) for part in (fraction or "0/1").split("/"))
    return int(whole) * 8 + top * 8 // bottom


def on_12_by_12(*wanted: PieceToCut) -> ArrangeProblem:
    return ArrangeProblem(12 * INCH, 12 * INCH, wanted, EIGHTHS)


def area(part: Part | None) -> int:
    return part.width * part.height if part else 0


def assert_sound(problem: ArrangeProblem, result: Arrangement) -> None:
    """Assert that the sheets yield what is wanted, can be cut, and are what the result says of them."""
    sizes = tuple(
        PieceSize(each.name, each.width, each.height, turn=Turn.FREE if each.turn else Turn.NONE)
        for each in problem.pieces
    )
    for sheet in result.sheets:
        assert check(SheetProblem(problem.width, problem.height, sizes), sheet) == ()
        for placed in walk(sheet):
            if isinstance(placed.part, Cut):
                upright = placed.part.direction is Direction.UPRIGHT
                assert (placed.part.height if upright else placed.part.width) <= problem.longest_cut
                assert all(problem.ruler.holds(mark) for mark in placed.part.marks)
    cut: Counter[str] = sum((Counter(count_pieces(sheet)) for sheet in result.sheets), Counter())
    assert cut == {each.name: each.count for each in problem.pieces}
    assert result.offcut == max(area(largest_offcut(sheet)) for sheet in result.sheets)
    assert result.cuts == sum(map(count_cuts, result.sheets))


# --- By the definition ---

Wanted = tuple[tuple[int, int, bool], ...]


def best_by_trying_every_cut(problem: ArrangeProblem) -> tuple[int, int]:
    """Return the fewest sheets and the largest offcut they can leave; a sheet may be cut anywhere.

    A room that holds nothing is an offcut; one that holds one piece exactly is that piece; else it is cut somewhere,
    and each selection of what it holds goes to one side.
    """
    everything: Wanted = tuple(
        sorted((each.width, each.height, each.turn) for each in problem.pieces for _ in range(each.count))
    )

    @cache
    def leaves(width: int, height: int, held: Wanted) -> int:
        """The largest offcut of a room that yields these pieces; -1 if it cannot."""
        if not held:
            return width * height
        if sum(each[0] * each[1] for each in held) > width * height:
            return -1
        if len(held) == 1 and (width, height) in ways(held[0]):
            return 0
        best = -1
        for some, others in partings(held):
            for at in range(1, width if height <= problem.longest_cut else 1):
                best = max(best, both(leaves(at, height, some), leaves(width - at, height, others)))
            for at in range(1, height if width <= problem.longest_cut else 1):
                best = max(best, both(leaves(width, at, some), leaves(width, height - at, others)))
        return best

    @cache
    def sheets(held: Wanted) -> tuple[int, int]:
        """The fewest sheets, and the offcut as a negative number, so that less is better."""
        whole = leaves(problem.width, problem.height, held)
        if whole >= 0:
            return 1, -whole
        options = [(sheets(some), sheets(others)) for some, others in partings(held) if some and others]
        return min((one[0] + other[0], min(one[1], other[1])) for one, other in options)

    count, offcut = sheets(everything)
    return count, -offcut


def ways(piece: tuple[int, int, bool]) -> set[tuple[int, int]]:
    width, height, turn = piece
    return {(width, height), (height, width)} if turn else {(width, height)}


def both(one: int, other: int) -> int:
    return -1 if min(one, other) < 0 else max(one, other)


def partings(held: Wanted) -> set[tuple[Wanted, Wanted]]:
    numbers = range(len(held))
    return {
        (
            tuple(held[number] for number in numbers if number in some),
            tuple(held[number] for number in numbers if number not in some),
        )
        for size in range(len(held) + 1)
        for some in combinations(numbers, size)
    }


@st.composite
def small_problems(draw: st.DrawFn) -> ArrangeProblem:
    width, height = draw(st.integers(2, 7)), draw(st.integers(2, 7))
    shorter = min(width, height)
    sizes = draw(
        st.lists(st.tuples(st.integers(1, shorter), st.integers(1, shorter)), min_size=1, max_size=3)
    )
    wanted = tuple(
        PieceToCut(f"p{number}", *size, draw(st.integers(1, 2)), draw(st.booleans()))
        for number, size in enumerate(sizes)
    )
    few = wanted[:2] if sum(each.count for each in wanted) > 5 else wanted
    return ArrangeProblem(width, height, few, EVERY_LENGTH)


@given(small_problems())
@settings(max_examples=examples(80))
def test_sheets_and_offcut_are_the_best_of_all_ways_to_cut(problem: ArrangeProblem) -> None:
    result = arrange(problem)

    assert (len(result.sheets), result.offcut) == best_by_trying_every_cut(problem)
    assert result.ended is Ended.PROVED
    assert_sound(problem, result)


@given(small_problems(), st.integers(1, 7))
@settings(max_examples=examples(80))
def test_a_short_trimmer_gets_the_fewest_sheets_that_it_can_cut(
    problem: ArrangeProblem, longest: int
) -> None:
    try:
        problem = replace(problem, longest_cut=longest)
    except CutTooLongError:
        return
    fewest, offcut = best_by_trying_every_cut(problem)

    result = arrange(problem)

    assert len(result.sheets) == result.bound == fewest
    assert result.offcut <= offcut <= result.offcut_bound
    assert_sound(problem, result)


# --- Facts ---


def test_it_works() -> None:
    # 12 wide is 8 1/2 + 3 1/2: three cards of 4 on one side, on the other two mats of 4 1/4 beside each other, and
    # below them 8 1/2 x 5 3/4 is left over.
    problem = on_12_by_12(inches("mat", "4 1/4 x 6 1/4", 2), inches("card", "3 1/2 x 4", 3))

    result = arrange(problem)

    assert (len(result.sheets), result.bound, result.ended) == (1, 1, Ended.PROVED)
    assert result.offcut == result.offcut_bound == 68 * 46 * E * E
    # five pieces and one offcut are six parts, which take five cuts
    assert (result.cuts, result.cuts_bound) == (5, 5)
    assert_sound(problem, result)


def test_a_sheet_yields_three_mats_for_photos_of_4_by_6_and_four_need_two_sheets() -> None:
    # Common practice, no source. In quarter inches 17 x 25 on 48 x 48. For four by cuts from edge to edge, one side of
    # the first cut would have to hold two; it is 25 to 31 across and leaves at most 23, which holds one.
    mats = inches("mat", "4 1/4 x 6 1/4")

    three = arrange(on_12_by_12(PieceToCut("mat", mats.width, mats.height, 3)))
    four = arrange(on_12_by_12(PieceToCut("mat", mats.width, mats.height, 4)))

    assert (len(three.sheets), three.bound) == (1, 1)
    assert (len(four.sheets), four.bound, four.ended) == (2, 2, Ended.PROVED)
    assert (
        best_use(SheetProblem(12 * INCH, 12 * INCH, (PieceSize("mat", mats.width, mats.height, 1),))).value
        == 3
    )


def test_four_mats_fit_if_cuts_need_not_run_from_edge_to_edge() -> None:
    # Common practice, no source: a pinwheel around a square of 2 in in the middle, in quarter inches.
    pinwheel = [(0, 0, 25, 17), (25, 0, 17, 25), (17, 25, 25, 17), (0, 17, 17, 25)]

    assert all(x + width <= 48 and y + height <= 48 for x, y, width, height in pinwheel)
    for (x, y, wide, high), (left, top, width, height) in combinations(pinwheel, 2):
        assert x + wide <= left or left + width <= x or y + high <= top or top + height <= y
    # No edge-to-edge cut parts it: each upright or level line between pieces runs through one of them.
    assert all(any(x < at < x + wide for x, _, wide, _ in pinwheel) for at in range(1, 42))
    assert all(any(y < at < y + high for _, y, _, high in pinwheel) for at in range(1, 42))


@pytest.mark.parametrize(
    ("sheet", "wanted", "waste"),
    [
        # IOI 2004 (Athens) day 2, task Phidias, no turning: of 21 x 11 the least waste is 10. Which pieces reach it is
        # computed: 2 x 40 + 3 x 12 + 3 x 35 = 221.
        ((21, 11), ((10, 4, 2), (6, 2, 3), (7, 5, 3)), 10),
        # Its second case: of 42 x 22 it is 40, by 3, 3 and 2 of these.
        ((42, 22), ((12, 4, 3), (14, 10, 3), (20, 8, 2)), 40),
    ],
)
def test_the_pieces_of_a_published_best_sheet_come_out_of_one(
    sheet: tuple[int, int], wanted: tuple[tuple[int, int, int], ...], waste: int
) -> None:
    listed = tuple(PieceToCut(f"{each}", *each, turn=False) for each in wanted)

    result = arrange(ArrangeProblem(*sheet, listed, EVERY_LENGTH))

    assert len(result.sheets) == 1
    assert sum(area(placed.part) for placed in pieces(result.sheets[0])) == sheet[0] * sheet[1] - waste


@given(
    st.lists(st.tuples(st.integers(8, 48), st.integers(8, 48)), min_size=1, max_size=3),
    st.sampled_from([Turn.FREE, Turn.NONE]),
)
@settings(max_examples=examples(25))
def test_what_the_best_use_of_a_sheet_yields_comes_out_of_one_sheet(
    sizes: list[tuple[int, int]], turn: Turn
) -> None:
    listed = tuple(
        PieceSize(f"p{index}", wide * E, high * E, turn=turn) for index, (wide, high) in enumerate(sizes)
    )
    best = count_pieces(best_use(SheetProblem(12 * INCH, 12 * INCH, listed)).tree)
    wanted = tuple(
        PieceToCut(each.name, each.width, each.height, best[each.name], turn is Turn.FREE)
        for each in listed
        if each.name in best
    )

    problem = on_12_by_12(*wanted)
    result = arrange(problem)

    assert len(result.sheets) == 1
    assert_sound(problem, result)


# Recipes as a designer draws them: most come out even. The area bound proves the sheets, an offcut as large as all
# that is left proves the offcut.
RECIPES = {
    "gate": (
        inches("photo mat", "4 1/4 x 6 1/4", 3),
        inches("story card", "3 1/2 x 4", 3),
        inches("caption", "6 1/4 x 1 1/2"),
        inches("tag", "2 1/4 x 4"),
        inches("label", "2 1/4 x 1 3/4"),
    ),
    "kite": (
        inches("strip", "12 x 1", 4, turn=False),
        inches("mat", "4 x 5 1/4", 3, turn=False),
        inches("tag", "4 x 2 3/4", 3, turn=False),
    ),
    "table": (
        inches("mat", "5 1/4 x 7 1/4", 2),
        inches("strip", "1 1/2 x 6", 2),
        inches("card", "3 x 4 3/4", 3),
    ),
    "25 pieces": (inches("card", "4 x 3", 12), inches("tag", "2 x 3", 8), inches("strip", "1 x 6", 5)),
    "25 of eight sizes": (
        inches("mat", "4 1/4 x 6 1/4", 2),
        inches("card", "3 x 4", 4),
        inches("tag", "2 x 3", 5),
        inches("strip", "1 x 6", 4),
        inches("label", "2 x 1 1/2", 4),
        inches("square", "2 1/2 x 2 1/2", 3),
        inches("band", "12 x 1", 2),
        inches("corner", "3 1/2 x 1 1/4"),
    ),
}


@pytest.mark.parametrize("name", RECIPES)
def test_recipes_are_arranged_well_and_soon(name: str) -> None:
    problem = on_12_by_12(*RECIPES[name])
    started = process_time()

    result = arrange(problem)

    took = process_time() - started
    assert len(result.sheets) == result.bound
    assert_sound(problem, result)
    assert took < 3  # at most half a second on a quiet machine


@pytest.mark.parametrize("name", ["gate", "kite", "table", "25 pieces"])
def test_recipes_that_come_out_even_are_proved(name: str) -> None:
    result = arrange(on_12_by_12(*RECIPES[name]))

    assert result.ended is Ended.PROVED


def test_the_largest_offcut_counts_as_the_most_useful() -> None:
    # 1 x 8 and 1 x 7 from 8 x 8: in two strips side by side they leave 6 x 8 = 48; with one along each side, 7 x 7 = 49.
    problem = ArrangeProblem(8 * INCH, 8 * INCH, (inches("long", "1 x 8"), inches("short", "1 x 7")), EIGHTHS)

    result = arrange(problem)

    assert largest_offcut(result.sheets[0]) == Offcut(7 * INCH, 7 * INCH)
    assert result.offcut_bound == 49 * INCH**2


def test_of_several_sheets_two_at_a_time_are_cut_anew_for_a_larger_offcut() -> None:
    # Computed by trying thousands of plans at random: three sheets can leave 10 1/2 x 11 1/4. Bundles of pieces laid
    # once leave no more than 110 1/4 square inches.
    problem = on_12_by_12(
        inches("flag", "0 3/4 x 2 1/2", 8),
        inches("mat", "5 1/4 x 7 1/4", 3, turn=False),
        inches("strip", "1 1/2 x 6", 3),
        inches("card", "3 x 4", 7),
        inches("square", "4 1/8 x 4 1/8", 3),
    )

    result = arrange(problem)

    assert (len(result.sheets), result.bound) == (3, 3)
    assert result.offcut >= 84 * 90 * E * E
    assert_sound(problem, result)


def test_of_equal_offcuts_the_squarer_one_is_left() -> None:
    # Two of 3 x 2 and one of 3 x 4 from 6 x 6 leave 12 square inches: as 6 x 2, or as 3 x 4.
    problem = ArrangeProblem(
        6 * INCH, 6 * INCH, (inches("tag", "3 x 2", 2), inches("card", "3 x 4")), EIGHTHS
    )

    offcut = largest_offcut(arrange(problem).sheets[0])

    assert offcut
    assert sorted((offcut.width, offcut.height)) == [3 * INCH, 4 * INCH]


def test_few_turns_are_taken() -> None:
    # Four columns of three cards: three cuts, then each column is turned and cut twice. Rows would take a turn to begin
    # with and one for each of the three.
    result = arrange(on_12_by_12(inches("card", "3 x 4", 12, turn=False)))

    assert (result.cuts, result.turns) == (11, 4)


def test_a_piece_may_be_as_wide_as_a_sheet_that_ends_off_the_ruler() -> None:
    # A4 is no whole number of eighths in either direction; a veil over its whole width is cut at 5 3/4 all the same.
    problem = ArrangeProblem(
        210 * MM, 297 * MM, (PieceToCut("veil", 210 * MM, 46 * E), inches("half", "4 x 5 3/4", 2)), EIGHTHS
    )

    result = arrange(problem)

    assert len(result.sheets) == 1
    assert_sound(problem, result)


def test_a_millimetre_ruler_is_kept_to() -> None:
    wanted = (PieceToCut("mat", 110 * MM, 160 * MM, 2), PieceToCut("card", 75 * MM, 100 * MM, 3))
    problem = ArrangeProblem(305 * MM, 305 * MM, wanted, RULERS[4])

    result = arrange(problem)

    assert (len(result.sheets), result.ended) == (1, Ended.PROVED)
    assert_sound(problem, result)


SIZES = st.tuples(st.integers(6, 60), st.integers(6, 60), st.integers(1, 4), st.booleans())


@given(st.lists(SIZES, min_size=1, max_size=9))
@settings(max_examples=examples(12))
def test_whatever_is_wanted_is_cut_once_and_on_the_ruler(sizes: list[tuple[int, int, int, bool]]) -> None:
    problem = on_12_by_12(
        *(
            PieceToCut(f"p{index}", wide * E, high * E, count, turn)
            for index, (wide, high, count, turn) in enumerate(sizes)
        )
    )

    assert_sound(problem, arrange(problem))


def test_pieces_that_can_hardly_be_joined_are_arranged_too() -> None:
    # Each is larger than half a sheet, so there is one on every sheet; nothing can be kept together.
    wanted = [PieceToCut(f"p{number}", (60 + number) * E, 80 * E) for number in range(20)]
    problem = on_12_by_12(*wanted)

    result = arrange(problem)

    assert (len(result.sheets), result.bound) == (20, 20)
    assert_sound(problem, result)


def test_the_same_question_has_the_same_answer() -> None:
    problem = on_12_by_12(*RECIPES["25 of eight sizes"])

    assert arrange(problem) == arrange(problem)


# --- What cannot be arranged ---


def test_a_piece_larger_than_the_sheet_is_told() -> None:
    with pytest.raises(
        DoesNotFitError, match=r"'wide', 12 1/8 in × 3 in does not fit a sheet of 12 in × 12 in"
    ):
        on_12_by_12(inches("wide", "12 1/8 x 3"))


def test_a_piece_that_would_fit_only_turned_is_told() -> None:
    with pytest.raises(DoesNotFitError, match="which may not turn"):
        ArrangeProblem(8 * INCH, 12 * INCH, (inches("wide", "10 x 6", turn=False),), EIGHTHS)


def test_a_piece_off_the_ruler_is_told() -> None:
    with pytest.raises(OffRulerError, match=r"not on the 1/8 in marks"):
        on_12_by_12(PieceToCut("photo", 102 * MM, 152 * MM))


def test_a_piece_that_takes_too_long_a_cut_is_told() -> None:
    # The trimmer cuts across 8 1/2 in, and then nothing longer than 9: 5 x 10 takes a cut of 10 along its side.
    letter = (17 * INCH // 2, 11 * INCH)
    strip = PieceToCut("strip", 17 * INCH // 2, 10 * INCH)

    arrange(ArrangeProblem(*letter, (strip, inches("card", "5 x 9")), EIGHTHS, 9 * INCH))
    with pytest.raises(CutTooLongError, match="by cuts of at most 9 in: take smaller paper"):
        ArrangeProblem(*letter, (inches("card", "5 x 10"),), EIGHTHS, 9 * INCH)
    with pytest.raises(CutTooLongError, match="12 in × 12 in by cuts of at most 9 in"):
        ArrangeProblem(12 * INCH, 12 * INCH, (inches("card", "5 x 9"),), EIGHTHS, 9 * INCH)


def test_too_many_pieces_are_told() -> None:
    with pytest.raises(ArrangeError, match="1 to 200 pieces"):
        on_12_by_12(inches("dot", "1 x 1", 201))
