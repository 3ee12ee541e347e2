"""Edit a recipe's text at the trimmer: text before -> text after, all other lines as they were."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.guillotine import Direction, Ended, Offcut, Piece, count_cuts
from kits.measures import INCH, MM
from kits.recipe import DoesNotFitError, check, parse, read, write
from kits.recipe.edit import (
    EditError,
    EditName,
    OpenEnd,
    arranged,
    cut,
    marks,
    missing,
    name,
    open_ends,
    suits,
    with_every_sheet,
)
from tests.recipe.designs import SMALL, designs
from tests.support.effort import examples

UPRIGHT, LEVEL = Direction.UPRIGHT, Direction.LEVEL
MATS = "sheet 1 of mats"
BARE = """\
recipe A: Cards
ruler 1/8 in

paper mats: 1 sheet 12 x 12  # the white one

piece card: 2 of 4 x 6 from mats -> left

# where they go
page left: 12 x 12
    card at 0, 0
    card at 4, 0
"""


def ends(text: str) -> tuple[OpenEnd, ...]:
    return open_ends(text, read(text))


def sheet_lines(text: str) -> list[str]:
    """Return the lines of the first sheet."""
    return text.partition("\nsheet 1 of mats")[2].partition("\n\n")[0].split("\n")


def refused(text: str, mark: int, number: int = 0, direction: Direction = UPRIGHT) -> EditError:
    with pytest.raises(EditError) as error:
        cut(text, MATS, number, direction, mark)
    return error.value


def test_a_recipe_is_cut_and_named_from_nothing_to_no_faults() -> None:
    text = cut(BARE, MATS, 0, LEVEL, 6 * INCH)
    assert sheet_lines(text) == ["", "    turn", "    cut at 6: offcut", "    rest: offcut"]
    text = cut(text, MATS, 1, UPRIGHT, 8 * INCH)  # what stays is turned once more
    text = cut(text, MATS, 2, UPRIGHT, 4 * INCH)
    text = name(name(text, MATS, 2, "card", "left"), MATS, 3, "card", "left")
    assert sheet_lines(text) == [
        "",
        "    turn",
        "    cut at 6: offcut",
        "    turn",
        "    cut at 8: offcut",
        "    cut at 4: card -> left",
        "    rest: card -> left",
    ]
    assert check(parse(text)) == ()
    without = text.replace("\nsheet 1 of mats\n" + "\n".join(sheet_lines(text)[1:]) + "\n", "", 1)
    assert without == BARE  # comments and all


def test_what_comes_off_is_cut_on_in_lines_of_its_own() -> None:
    text = cut(cut(BARE, MATS, 0, UPRIGHT, 8 * INCH), MATS, 0, LEVEL, 6 * INCH)
    assert sheet_lines(text) == [
        "",
        "    cut at 8",
        "        turn",
        "        cut at 6: offcut",
        "        rest: offcut",
        "    rest: offcut",
    ]


def test_a_turn_that_a_cut_makes_needless_goes() -> None:
    text = (
        BARE
        + "\nsheet 1 of mats\n    cut at 8: offcut\n    turn  # mind the top\n    rest: offcut  # for tags\n"
    )
    assert cut(text, MATS, 1, LEVEL, 6 * INCH).endswith(
        "    cut at 8: offcut\n    turn  # mind the top\n    cut at 6: offcut\n    rest: offcut  # for tags\n"
    )
    assert cut(text, MATS, 1, UPRIGHT, 6 * INCH).endswith(
        "    cut at 8: offcut\n    # mind the top\n    cut at 6: offcut\n    rest: offcut  # for tags\n"
    )


@pytest.mark.parametrize(
    ("lines", "number"),
    [
        ("sheet 1 of mats", 0),
        ("sheet 1 of mats: offcut  # whole", 0),
        ("sheet 1 of mats\n    turn\n    cut at 6: offcut", 1),
        ("sheet 1 of mats\n\tturn\n\tcut at 6\n\trest: offcut", 0),
    ],
)
def test_an_end_can_be_cut_and_named_however_the_text_leaves_it(lines: str, number: int) -> None:
    text = f"{BARE}\n{lines}\n"
    before = ends(text)
    after = cut(text, MATS, number, UPRIGHT, 8 * INCH)
    found = ends(after)
    assert len(found) == len(before) + 1
    assert [each.part.width for each in found[number : number + 2]] == [4 * INCH, 8 * INCH]
    if found[number].part.height == 6 * INCH:
        assert isinstance(ends(name(after, MATS, number, "card", "left"))[number].part, Piece)


def test_sheets_in_hand_together_are_cut_together() -> None:
    text = SMALL.replace(
        "        sheet 1 of band: stripe -> left\n        sheet 2 of band: stripe -> right\n", ""
    )
    text = text.replace("    cut at 10\n", "    cut at 10: offcut\n")
    after = parse(cut(text, "sheet 2 of band", 0, LEVEL, 5 * INCH))
    assert [count_cuts(sheet.tree) for sheet in after.sheets] == [5, 2, 3]


def test_a_sheet_left_out_when_others_are_taken_apart_can_be_cut() -> None:
    text = SMALL.replace("    sheet 1 of band: panel -> right\n", "")
    text = name(text, "sheet 1 of band", 1, "panel", "right")
    assert "    sheet 1 of band: panel -> right\n" in text
    assert parse(text).sheets == parse(SMALL).sheets


def test_pieces_of_the_size_that_lies_there_are_offered() -> None:
    found = ends(cut(cut(BARE, MATS, 0, UPRIGHT, 6 * INCH), MATS, 0, LEVEL, 4 * INCH))
    assert [[each.piece for each in suits(read(BARE).design, end)] for end in found] == [[], ["card"], []]
    assert missing(read(BARE).design) == {("card", "left"): 2}


def test_marks_at_which_a_missing_piece_comes_out_are_offered() -> None:
    design = read(BARE).design
    still = missing(design)

    def offered(end: OpenEnd, direction: Direction) -> list[int]:
        return [mark // INCH for mark in marks(design, end, direction, still)]

    [whole] = ends(BARE)  # 12 x 12; the card is 4 x 6 or 6 x 4
    assert offered(whole, UPRIGHT) == [8, 6, 4]
    off, kept = ends(cut(BARE, MATS, 0, UPRIGHT, 7 * INCH))  # 5 x 12 and 7 x 12
    assert offered(off, UPRIGHT) == [4, 1]
    assert offered(off, LEVEL) == [6]  # a card that lies turned is too wide
    assert offered(kept, LEVEL) == [8, 6, 4]
    _, low = ends(cut(BARE, MATS, 0, LEVEL, 6 * INCH))  # 12 x 6, as high as a card: at 8 and 4 one is whole
    assert offered(low, UPRIGHT) == [8, 4, 6]
    assert marks(design, low, UPRIGHT, ()) == ()


def test_every_sheet_posted_can_be_cut_even_before_the_text_says_so() -> None:
    assert [sheet.label for sheet in with_every_sheet(read(BARE).design)] == [MATS]
    assert [end.sheet.label for end in ends(BARE)] == [MATS]


# --- What cannot be done ---


@pytest.mark.parametrize(
    ("mark", "reason", "said"),
    [
        (0, EditName.CUT_AT_NOTHING, "cuts nothing off. Cut between 1/8 in and 11 7/8 in."),
        (12 * INCH, EditName.CUT_AT_EDGE, "is at the edge: what is in hand reaches to 12 in."),
        (13 * INCH, EditName.CUT_BEYOND_EDGE, "is beyond the edge: what is in hand reaches to 12 in."),
        (
            INCH // 16,
            EditName.OFF_RULER,
            "is not on a mark of the 1/8 in ruler. The nearest marks are 1/8 in.",
        ),
        (5 * MM, EditName.OFF_RULER, "The nearest marks are 1/8 in and 1/4 in."),
    ],
)
def test_a_cut_on_no_mark_of_what_is_in_hand_is_refused(mark: int, reason: EditName, said: str) -> None:
    error = refused(BARE, mark)
    assert error.name is reason
    assert said in str(error)


def test_a_finished_piece_is_not_cut() -> None:
    error = refused(SMALL, INCH)
    assert (error.name, error.line, error.what) == (EditName.FINISHED, 20, "story card")
    assert "so nothing is cut off it at 1 in" in str(error)


def test_a_piece_of_another_size_paper_or_page_is_not_named() -> None:
    for piece, page in (("story card", "right"), ("tag", "left"), ("photo mat", "right"), ("moon", "")):
        with pytest.raises(EditError, match="is not wanted 8 1/2 in x 5 3/4 in from mats") as error:
            name(SMALL, MATS, 3, piece, page)
        assert error.value.name is EditName.NOT_WANTED
    with pytest.raises(EditError, match=r"Pieces of that size: story card\."):
        name(SMALL, MATS, 0, "moon")


def test_a_part_that_is_not_there_is_told() -> None:
    assert refused(BARE, INCH, number=7).name is EditName.NO_PART
    with pytest.raises(EditError, match="is no sheet of the recipe"):
        cut(BARE, "sheet 9 of moon", 0, UPRIGHT, INCH)


def test_lines_that_cannot_be_followed_are_told_with_the_line_to_mend() -> None:
    error = refused(SMALL.replace("cut at 6 1/4", "cut at six"), INCH)
    assert (error.name, error.line) == (EditName.PROBLEM, 24)


# --- Whatever the text ---


@given(designs(), st.randoms(use_true_random=False))
@settings(max_examples=examples(40))
def test_a_cut_changes_one_end_and_nothing_else(design: object, chance: Random) -> None:
    text = write(design)  # type: ignore[arg-type]
    reading = read(text)
    free = [each for each in open_ends(text, reading) if isinstance(each.part, Offcut)]
    own = reading.design.ruler
    for found in chance.sample(free, min(len(free), 2)):
        direction = chance.choice((UPRIGHT, LEVEL))
        side = found.part.width if direction is UPRIGHT else found.part.height
        if side <= own.step:
            continue
        after = cut(text, found.sheet.label, found.number, direction, own.step)
        again = read(after)
        assert again.problems == ()
        assert after.count("cut at") == text.count("cut at") + 1
        assert (again.design.papers, again.design.pieces, again.design.pages) == (
            reading.design.papers,
            reading.design.pieces,
            reading.design.pages,
        )


@given(designs())
@settings(max_examples=examples(40))
def test_every_end_is_found_and_can_be_called_what_it_is_called(design: object) -> None:
    text = write(design)  # type: ignore[arg-type]
    for found in open_ends(text, read(text)):
        if isinstance(found.part, Piece):
            page = getattr(found.part, "page", "")
            assert name(text, found.sheet.label, found.number, found.part.name, page) == text
            assert read(name(text, found.sheet.label, found.number, "")).problems == ()


# --- Other trims ---


def test_arranging_changes_the_lines_of_sheets_and_the_count_of_papers_alone() -> None:
    found = arranged(BARE.replace("1 sheet 12", "3 sheets 12"))
    assert "paper mats: 1 sheet 12 x 12  # the white one\n" in found.text
    assert found.arranged.results["mats"].ended is Ended.PROVED
    assert check(parse(found.text)) == ()
    assert found.text.endswith(BARE[BARE.index("# where") :])


def test_arranging_needs_no_sheets_that_can_be_read() -> None:
    assert check(parse(arranged(SMALL.replace("cut at 6 1/4", "cut at six")).text)) == ()


def test_what_is_to_be_cut_must_be_known_to_be_arranged() -> None:
    with pytest.raises(EditError) as error:
        arranged(BARE.replace("2 of 4 x 6", "two of 4 x 6"))
    assert (error.value.name, error.value.line) == (EditName.PROBLEM, 6)
    with pytest.raises(DoesNotFitError):
        arranged(BARE.replace("2 of 4 x 6", "2 of 4 x 60"))
