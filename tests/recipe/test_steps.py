"""The cuts of a recipe in the order in which one person makes them."""

from collections import Counter

import pytest
from hypothesis import given, settings

from kits.guillotine import Cut, Edge, Part, count_cuts, walk
from kits.measures import INCH
from kits.recipe import Design, Fate, PagePiece, parse, say_step, trim_steps
from kits.recipe.steps import OFFCUT
from tests.recipe.designs import SMALL, designs, leaves_of
from tests.recipe.follow import Trimmer
from tests.support.effort import examples

E = INCH // 8
DESIGN = parse(SMALL)


def test_it_works() -> None:
    steps = trim_steps(DESIGN)

    # By hand: the sheet of mats at 8 1/2, turned at 6 1/4, turned at 4 1/4; the strip of cards turned at 8 and 4. Both
    # sheets of band at 10, then the second one turned at 4.
    assert [(step.hand, step.mark, step.turned, step.picked_up) for step in steps.steps] == [
        ("sheet 1 of mats", 68 * E, False, True),
        ("sheet 1 of mats", 50 * E, True, False),
        ("sheet 1 of mats", 34 * E, True, False),
        ("strip A", 64 * E, True, True),
        ("strip A", 32 * E, False, False),
        ("sheet 1 of band and sheet 2 of band", 80 * E, False, True),
        ("sheet 2 of band", 32 * E, True, False),
    ]
    assert (steps.cuts, steps.turns, steps.pick_ups) == (7, 4, 3)


def test_parallel_cuts_go_from_the_far_mark_down_with_the_same_edge_at_the_fence() -> None:
    cards = [step for step in trim_steps(DESIGN).steps if step.hand == "strip A"]

    assert [step.mark for step in cards] == [64 * E, 32 * E]
    assert {step.fence for step in cards} == {Edge.TOP}
    # what is in hand is 3 1/2 x 12, then 3 1/2 x 8
    assert [(step.width, step.height) for step in cards] == [(28 * E, 96 * E), (28 * E, 64 * E)]


def test_each_piece_is_sorted_to_its_page_as_it_comes_off() -> None:
    third = trim_steps(DESIGN).steps[2]

    assert [(lot.name, lot.page, lot.fate) for lot in (*third.off, *third.kept)] == [
        ("photo mat", "left", Fate.PIECE),
        ("photo mat", "left", Fate.PIECE),
    ]


def test_sheets_cut_together_part_where_their_cuts_differ() -> None:
    together, alone = trim_steps(DESIGN).steps[5:]

    assert together.sheets == ("sheet 1 of band", "sheet 2 of band")
    assert [(lot.sheets, lot.name, lot.page) for lot in together.off] == [
        (("sheet 1 of band",), "stripe", "left"),
        (("sheet 2 of band",), "stripe", "right"),
    ]
    assert [(lot.name, lot.fate) for lot in together.kept] == [
        ("panel", Fate.PIECE),
        ("sheet 2 of band", Fate.IN_HAND),
    ]
    assert alone.sheets == ("sheet 2 of band",)


def test_a_sheet_that_is_used_whole_takes_no_cut() -> None:
    design = parse(
        'recipe A: ""\npaper ground: 1 sheet 12 x 12\npiece ground: 1 of 12 x 12 from ground -> left\n'
        "sheet 1 of ground: ground -> left\npage left: 12 x 12\n"
    )

    steps = trim_steps(design)

    assert steps.steps == ()
    assert [(lot.sheets, lot.name, lot.page) for lot in steps.uncut] == [
        (("sheet 1 of ground",), "ground", "left")
    ]


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (1, "Take sheet 1 of mats and cut at 8 1/2 in, with the left edge at the fence. "
            "Off comes strip A (lay it aside)."),
        (2, "Go on with sheet 1 of mats, turn it a quarter and cut at 6 1/4 in, with the top edge at the fence. "
            "Off comes an offcut."),
        (5, "Go on with strip A and cut at 4 in, as it lies. Off comes story card for page right. "
            "What stays is story card for page right."),
        (6, "Take sheet 1 of band and sheet 2 of band and cut at 10 in, with the left edge at the fence. "
            "Off come stripe (sheet 1 of band) for page left and stripe (sheet 2 of band) for page right. "
            "What stays is panel (sheet 1 of band) for page right and sheet 2 of band (go on with it)."),
    ],
)  # fmt: skip
def test_a_step_is_said_as_one_would_say_it(number: int, words: str) -> None:
    assert say_step(trim_steps(DESIGN).steps[number - 1], DESIGN.ruler) == words


def test_equal_parts_of_several_sheets_are_counted() -> None:
    text = SMALL.replace("paper mats: 1 sheet", "paper mats: 2 sheets").replace("3 of 3 1/2", "6 of 3 1/2")
    text = text.replace("piece photo mat: 2 of", "piece photo mat: 4 of").replace(
        "sheet 1 of mats\n", "together: sheet 1 of mats, sheet 2 of mats\n"
    )
    design = parse(text)

    steps = trim_steps(design).steps

    assert say_step(steps[1], design.ruler).endswith("Off come 2 offcuts.")
    assert say_step(steps[2], design.ruler).endswith("What stays is 2 × photo mat for page left.")


def turns_of(part: Part, direction: object) -> int:
    """Every part that is cut across what it came from is turned once."""
    if not isinstance(part, Cut):
        return 0
    return int(part.direction is not direction) + sum(turns_of(each, part.direction) for each in part.parts)


@given(designs())
@settings(max_examples=examples(60))
def test_the_steps_cut_exactly_what_the_trees_say(design: Design) -> None:
    steps = trim_steps(design)

    given_off: Counter[tuple[str, object]] = Counter()
    cuts: Counter[str] = Counter()
    for step in steps.steps:
        cuts.update(step.sheets)
        for lot in (*step.off, *step.kept):
            if lot.fate in (Fate.PIECE, Fate.OFFCUT):
                given_off.update((sheet, lot.part) for sheet in lot.sheets)
    for lot in steps.uncut:
        given_off.update((sheet, lot.part) for sheet in lot.sheets)
    assert given_off == Counter(
        (sheet.label, leaf) for sheet in design.sheets for leaf in leaves_of(sheet.tree)
    )
    assert cuts == +Counter({sheet.label: count_cuts(sheet.tree) for sheet in design.sheets})


@given(designs())
@settings(max_examples=examples(100))
def test_whoever_follows_the_steps_gets_every_piece_from_its_place(design: Design) -> None:
    wanted = [
        (
            sheet.label,
            placed.x,
            placed.y,
            getattr(placed.part, "name", OFFCUT),
            getattr(placed.part, "page", ""),
        )
        for sheet in design.sheets
        for placed in walk(sheet.tree)
        if not isinstance(placed.part, Cut)
    ]

    assert sorted(Trimmer(design).follow()) == sorted(wanted)


@given(designs())
@settings(max_examples=examples(60))
def test_alone_each_sheet_takes_the_turns_of_its_tree(design: Design) -> None:
    from kits.guillotine import Direction

    for lift in design.lifts:
        if len(lift.sheets) == 1:
            alone = trim_steps(Design(code="A", lifts=(lift,)))
            assert alone.turns == turns_of(lift.sheets[0].tree, Direction.UPRIGHT)


@given(designs())
@settings(max_examples=examples(60))
def test_every_mark_lies_inside_what_is_in_hand(design: Design) -> None:
    for step in trim_steps(design).steps:
        assert 0 < step.mark < (step.width if step.fence is Edge.LEFT else step.height)
        assert all(lot.page == "" or isinstance(lot.part, PagePiece) for lot in (*step.off, *step.kept))
