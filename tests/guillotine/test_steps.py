"""The cuts in order, as an operator makes them."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import (
    Cause,
    Direction,
    Edge,
    EdgeTrim,
    Lot,
    Offcut,
    Part,
    Piece,
    PieceSize,
    SheetProblem,
    Step,
    best_use,
    count_cuts,
    count_turns,
    divide,
    number_out,
    steps,
    walk,
)

CARD = Piece("card", 4, 3)
CARDS = divide(Direction.LEVEL, [CARD, CARD])


def test_it_works() -> None:
    # 10 x 6: cuts at 9 and 4 with the left edge at the stop, far mark first; then the cards are turned and parted.
    tree = divide(Direction.UPRIGHT, [CARDS, Piece("banner", 5, 6), Offcut(1, 6)])

    assert steps(tree) == (
        Step("sheet", 10, 6, Edge.LEFT, 9, 0, Lot("left over", Offcut(1, 6)), None),
        Step("sheet", 9, 6, Edge.LEFT, 4, 0, Lot("banner", Piece("banner", 5, 6)), Lot("1", CARDS)),
        Step("1", 4, 6, Edge.TOP, 3, 1, Lot("card", CARD), Lot("card", CARD)),
    )
    assert count_turns(steps(tree)) == 1


def test_an_edge_trim_always_comes_off_in_front_of_the_blade() -> None:
    # 10 x 6 with 1 off each edge: right at 9; turned half round, left at 8; turned a quarter, bottom at 5; half
    # round, top at 4.
    tree = best_use(SheetProblem(10, 6, (PieceSize("card", 8, 4),), EdgeTrim(1, 1, 1, 1))).tree

    made = steps(tree)

    assert [(step.stop, step.gauge, step.turns) for step in made] == [
        (Edge.LEFT, 9, 0),
        (Edge.RIGHT, 8, 2),
        (Edge.TOP, 5, 1),
        (Edge.BOTTOM, 4, 2),
    ]
    assert {step.off.name for step in made} == {"edge trim"}
    assert made[-1].kept == Lot("card", Piece("card", 8, 4))
    assert count_turns(made) == 3


def test_what_is_too_small_to_be_held_comes_off_in_front_of_the_blade() -> None:
    # 4 and 5 of 9: the machine holds 5, so the part is turned half round before the cut.
    tree = divide(Direction.UPRIGHT, [CARDS, Piece("banner", 5, 6)])

    [cut, _] = steps(tree, smallest_strip=5)

    assert cut == Step("sheet", 9, 6, Edge.RIGHT, 5, 0, Lot("1", CARDS), Lot("banner", Piece("banner", 5, 6)))
    assert steps(tree, smallest_strip=4) == steps(tree)


def test_parts_are_numbered_from_the_part_they_came_from() -> None:
    made = steps(divide(Direction.LEVEL, [divide(Direction.UPRIGHT, [CARDS, CARDS]), Offcut(8, 2)]))

    assert [step.hand for step in made] == ["sheet", "1", "1.1", "1.2"]


def test_a_sheet_that_is_one_piece_needs_no_cut() -> None:
    assert steps(CARD) == ()


def follow(tree: Part, made: tuple[Step, ...]) -> Counter[tuple[str, int, int]]:
    """Do what the steps say with sizes alone, and return what lies on the table in the end."""
    name = tree.name if isinstance(tree, Piece) else "sheet"
    table = Counter({(name, tree.width, tree.height): 1})
    for step in made:
        in_hand = (step.hand, step.width, step.height)
        assert table[in_hand] > 0, f"{in_hand} is not on the table"
        table[in_hand] -= 1
        along = step.width if step.stop in (Edge.LEFT, Edge.RIGHT) else step.height
        assert 0 < step.gauge < along
        behind, front = step.gauge, along - step.gauge
        upright = along == step.width and step.stop in (Edge.LEFT, Edge.RIGHT)
        size_off = (front, step.height) if upright else (step.width, front)
        size_kept = (behind, step.height) if upright else (step.width, behind)
        assert size_off == (step.off.part.width, step.off.part.height)
        table[(step.off.name, *size_off)] += 1
        table[(step.kept.name if step.kept else step.hand, *size_kept)] += 1
    return +table


@given(
    st.integers(5, 40),
    st.integers(5, 40),
    st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), min_size=1, max_size=3),
    st.integers(0, 1),
)
def test_who_follows_the_steps_has_the_pieces_of_the_tree(
    width: int, height: int, sizes: list[tuple[int, int]], spacing: int
) -> None:
    listed = tuple(PieceSize(f"p{number}", *size) for number, size in enumerate(sizes))
    tree = best_use(SheetProblem(width, height, listed, spacing=spacing)).tree

    made = steps(tree)

    leaves = [placed.part for placed in walk(tree) if placed.part.kind != "cut"]
    assert follow(tree, made) == Counter(
        (part.name if isinstance(part, Piece) else str(part.cause), part.width, part.height)
        for part in leaves
        if isinstance(part, Piece | Offcut)
    )
    assert len(made) == count_cuts(tree)


def test_spacing_comes_off_as_a_strip_of_its_own() -> None:
    made = steps(number_out(10, 3, 4, 3, spacing=2).tree)

    assert [(step.gauge, step.off.name) for step in made] == [(6, "piece"), (4, str(Cause.SPACING))]
