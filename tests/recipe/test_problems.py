"""What is wrong with a text, each problem by the line and the measure where it stands, with what is allowed."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.recipe import check, draw_page, draw_step, trim_steps
from kits.recipe.text import Problem, ProblemName, RecipeTextError, parse, read, write
from tests.recipe.designs import SMALL
from tests.support.effort import examples


def changed(old: str, new: str) -> str:
    assert SMALL.count(old) == 1, f"{old!r} stands {SMALL.count(old)} times in the small recipe"
    return SMALL.replace(old, new)


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(RecipeTextError) as raised:
        parse(text)
    assert [problem.line for problem in raised.value.problems] == sorted(
        p.line for p in raised.value.problems
    )
    return raised.value.problems


def only_problem(old: str, new: str) -> Problem:
    """Return the one problem of the small recipe with one change."""
    [problem] = problems(changed(old, new))
    return problem


def test_it_works() -> None:
    problem = only_problem("cut at 8 1/2", "cut at 8 9/16")

    assert str(problem) == (
        "line 18, column 12: 8 9/16 is not on a mark of the 1/8 in ruler. "
        "The nearest marks are 8 1/2 in and 8 5/8 in."
    )


# what is changed, into what, the problem, what its message says, what it allows; each stands on the changed line
CASES = [
    # cuts
    (
        "cut at 8 1/2",
        "cut at 0",
        ProblemName.CUT_AT_NOTHING,
        "cuts nothing off",
        "between 1/8 in and 11 7/8 in",
    ),
    ("cut at 8 1/2", "cut at 12", ProblemName.CUT_AT_EDGE, "is at the edge", "between 1/8 in and 11 7/8 in"),
    ("cut at 8 1/2", "cut at 12 1/8", ProblemName.CUT_BEYOND_EDGE, "beyond the edge", "and 11 7/8 in"),
    # what is in hand ends at 8 once the first card is off
    ("cut at 4: story", "cut at 8: story", ProblemName.CUT_AT_EDGE, "reaches to 8 in", "and 7 7/8 in"),
    ("cut at 4: story", "cut at 9: story", ProblemName.CUT_BEYOND_EDGE, "reaches to 8 in", "and 7 7/8 in"),
    (
        "cut at 8 1/2",
        "cut at 8.55",
        ProblemName.OFF_RULER,
        "not on a mark of the 1/8 in",
        "8 1/2 in and 8 5/8 in",
    ),
    ("cut at 8 1/2", "cut at 11 15/16", ProblemName.OFF_RULER, "not on a mark", "nearest mark is 11 7/8 in"),
    (
        "cut at 8 1/2",
        "cut at 215.9 mm",
        ProblemName.MIXED_UNITS,
        "measured in mm",
        "nearest mark is 8 1/2 in",
    ),
    ("cut at 8 1/2", "cut at 216 mm", ProblemName.MIXED_UNITS, "measured in mm", "8 1/2 in and 8 5/8 in"),
    ("cut at 8 1/2", "cut at 8 in 3 mm", ProblemName.MIXED_UNITS, "mixes in and mm", "one unit"),
    ("cut at 8 1/2", "cut at eight", ProblemName.LENGTH, "is no length", "such as 9 1/4"),
    ("cut at 8 1/2", "cut at -3", ProblemName.LENGTH, "minus sign", "such as 9 1/4"),
    ("cut at 8 1/2", "cut at", ProblemName.LENGTH, "where a length should", "cut at MARK"),
    ("cut at 8 1/2", "fold at 8", ProblemName.LINE, "nothing one does with a sheet", "cut at MARK, turn"),
    (
        "cut at 6 1/4: offcut",
        "cut at 6 1/4",
        ProblemName.NOT_FINISHED,
        "not cut and not named",
        "PIECE -> PAGE",
    ),
    # pieces
    ("6 1/4: offcut", "6 1/4: offcut -> left", ProblemName.UNKNOWN, "not a piece", "left over is offcut"),
    ("6 1/4: offcut", "6 1/4: lid", ProblemName.UNKNOWN, "not a piece", "photo mat, story card, stripe"),
    (
        "cut at 8: story",
        "cut at 7: story",
        ProblemName.PIECE_SIZE,
        "3 1/2 in x 5 in here",
        "3 1/2 in x 4 in or turned",
    ),
    (
        "8: story card -> right",
        "8: story card -> left",
        ProblemName.OTHER_PAGE,
        "not wanted on left",
        "on right",
    ),
    ("8: story card -> right", "8: story card", ProblemName.OTHER_PAGE, "says no page", "wanted on right"),
    (
        "8: story card -> right",
        "8: tag -> left",
        ProblemName.OTHER_PAPER,
        "cut from mats",
        "wanted from band",
    ),
    ("8: story card -> right", "8:", ProblemName.NAME, "where a name should", "PIECE -> PAGE"),
    # sheets
    (
        "sheet 1 of mats\n",
        "sheet 2 of mats\n",
        ProblemName.UNKNOWN,
        "no sheet of the recipe",
        "1 sheet of mats",
    ),
    ("sheet 1 of mats\n", "sheet 1 of card\n", ProblemName.UNKNOWN, "not a paper", "mats or band"),
    (
        "sheet 1 of mats\n",
        "sheet one of mats\n",
        ProblemName.NUMBER,
        "no whole number",
        "sheet NUMBER of PAPER",
    ),
    (
        ": sheet 1 of band, sheet 2",
        ": sheet 1 of band, sheet 1",
        ProblemName.TWICE,
        "already cut",
        "each sheet once",
    ),
    # the list of papers and pieces
    ("1 sheet 12 x 12", "1 sheet 12 in x 305 mm", ProblemName.MIXED_UNITS, "mixes in and mm", "in one unit"),
    ("1 sheet 12 x 12", "1 sheet 12 x 0", ProblemName.LENGTH, "is no side", "above zero"),
    ("1 sheet 12 x 12", "1 sheet 12", ProblemName.LENGTH, "no width x height", "WIDTH x HEIGHT"),
    ("1 sheet 12 x 12", "1 leaf 12 x 12", ProblemName.LINE, "where 'sheets' should", "COUNT sheets"),
    ("2 sheets 12 x 12", "1000 sheets 12 x 12", ProblemName.NUMBER, "too many", "at most 999 sheets"),
    ("print one way", "shiny", ProblemName.LINE, "nothing a paper can be", "print one way"),
    ("at least 160 g/m²", "at least 80 lb", ProblemName.WEIGHT, "without their grade", "80 lb cover"),
    ("160 g/m²", "160 g/m², at most 150 g/m²", ProblemName.WEIGHT, "heavier than 150", "the lighter"),
    ("4 1/4 x 6 1/4", "4 1/4 x 6 5/16", ProblemName.OFF_RULER, "not on a mark", "6 1/4 in and 6 3/8 in"),
    ("4 1/4 x 6 1/4", "108 x 159 mm", ProblemName.MIXED_UNITS, "measured in mm", "4 1/4 in and 4 3/8 in"),
    ("2 of 4 1/4", "0 of 4 1/4", ProblemName.NUMBER, "no number of pieces", "at least 1"),
    (
        "tag: 1 of 10 x 4 from band",
        "tag: 1 of 10 x 4 from bend",
        ProblemName.UNKNOWN,
        "not a paper",
        "mats or band",
    ),
    (
        "x 4 from band -> left",
        "x 4 from band -> left, gold",
        ProblemName.LINE,
        "nothing a piece can be",
        "either way",
    ),
    (
        "2 x 12 from band -> right",
        "2 x 11 from band -> right",
        ProblemName.PIECE_SIZE,
        "same as on line 12",
        "of their own",
    ),
    (
        "2 x 12 from band -> right",
        "2 x 12 from band -> left",
        ProblemName.TWICE,
        "on line 12 already",
        "once",
    ),
    # the head
    ("ruler 1/8 in", "ruler 1/7 in", ProblemName.RULER, "is no ruler", "1/16 in"),
    ("trimmer 12,", "trimmer 0,", ProblemName.LENGTH, "no length of a trimmer", "how long"),
    ("takes 2 sheets", "takes 0 sheets", ProblemName.NUMBER, "no number of sheets", "1 to 99"),
    ("trimmer 12, takes 2 sheets", "trimmer 12", ProblemName.LINE, "where ',' should", "takes COUNT sheets"),
    ("trimmer 12, takes 2 sheets", "ruler 1 mm", ProblemName.TWICE, "on line 3 already", "Say it once"),
    ("note: Two", "remark: Two", ProblemName.LINE, "begins no line of a recipe", "recipe, note, ruler"),
    ("note: Two", 'note: "Two', ProblemName.NAME, "not closed", "note: TEXT"),
    # pages
    ("tag at 2, 1/2", "tag at 2", ProblemName.LINE, "where ',' should", "PIECE at X, Y"),
    ("tag at 2, 1/2", "tag on 2, 1/2", ProblemName.UNKNOWN, "not a piece", "photo mat, story card"),
    ("tag at 2, 1/2", "lid at 2, 1/2", ProblemName.UNKNOWN, "not a piece", "photo mat, story card"),
    ("tag at 2, 1/2", "tag at 2, 12 mm", ProblemName.MIXED_UNITS, "measured in mm", "3/8 in and 1/2 in"),
    ("tag at 2, 1/2", "tag at place 3 of 2, 1/2", ProblemName.NUMBER, "no place", "from 1"),
    ("tag at 2, 1/2", "tag at place 0 of 2, 1/2", ProblemName.NUMBER, "no place", "from 1"),
    (
        "tag at 2, 1/2",
        "tag at place 1 of 2, 1/2",
        ProblemName.LENGTH,
        "not fit 2 times",
        "20 1/2 in do not fit",
    ),
    ("tag at 2, 1/2", "tag at 2, 1/2, layer 0", ProblemName.NUMBER, "no layer", "1 to 99"),
    ("3 x 5 at 5/8, 1/2", "3 x 5 at 5/8", ProblemName.LENGTH, "no length", "such as 9 1/4"),
    ("3 x 5 at 5/8, 1/2", "76 x 127 mm", ProblemName.MIXED_UNITS, "measured in mm", "Write in"),
    (
        "photo 4 x 6, border 1/8",
        "foto 4 x 6",
        ProblemName.LINE,
        "where 'photo' should",
        "photo WIDTH x HEIGHT",
    ),
    (
        "4 x 6, border 1/8",
        "that fits, border 3",
        ProblemName.LENGTH,
        "no room for a photo",
        "6 in do not fit",
    ),
    ("page right: 12", "page left: 12", ProblemName.TWICE, "already laid out on line 40", "its own name"),
    ("12, margin 1/4", "12, rim 1/4", ProblemName.LINE, "nothing a page can have", "margin LENGTH"),
]


@pytest.mark.parametrize(("old", "new", "name", "says", "allows"), CASES)
def test_each_problem_says_where_it_is_and_what_is_allowed(
    old: str, new: str, name: ProblemName, says: str, allows: str
) -> None:
    text = changed(old, new)

    problem = problems(text)[0]

    assert problem.name is name
    assert says in problem.why
    assert allows in problem.allowed
    assert new.strip() in text.splitlines()[problem.line - 1]


def test_a_piece_named_twice_is_told_with_both_lines() -> None:
    problem = only_problem(
        "cut at 4: offcut\n        rest: tag -> left", "cut at 4: offcut\n        rest: stripe -> left"
    )

    assert problem.name is ProblemName.TWICE
    assert "1 is wanted on left (first on line 32)" in problem.why


def test_a_cut_on_a_finished_piece_is_told_with_the_line_that_finished_it() -> None:
    after = only_problem("    rest: photo mat -> left", "    rest: photo mat -> left\n    cut at 2: offcut")
    inside = only_problem(
        "cut at 8: story card -> right", "cut at 8: story card -> right\n            cut at 2: offcut"
    )

    assert (after.name, after.line, after.found) == (ProblemName.FINISHED, 29, "cut at 2: offcut")
    assert "finished on line 28" in after.why
    assert (inside.name, inside.line) == (ProblemName.FINISHED, 21)
    assert "finished on line 20" in inside.why


def test_turning_twice_without_a_cut_is_told() -> None:
    problem = only_problem("    turn\n    cut at 6 1/4", "    turn\n    turn\n    cut at 6 1/4")

    assert (problem.name, problem.line) == (ProblemName.TURN, 24)


def test_a_piece_of_the_club_is_not_cut_by_the_subscriber() -> None:
    found = problems(changed("from mats -> left", "from mats -> left, cut by the club"))

    assert {(problem.name, problem.line) for problem in found} == {
        (ProblemName.OTHER_PAPER, 27),
        (ProblemName.OTHER_PAPER, 28),
    }


def test_a_part_without_its_rest_is_told() -> None:
    problem = only_problem("    cut at 4 1/4: photo mat -> left\n    rest: photo", "    cut at 4 1/4: photo")

    assert (problem.name, problem.line) == (ProblemName.NOT_FINISHED, 27)
    assert problem.found == "the rest of sheet 1 of mats"


def test_a_turn_of_a_one_way_print_is_told() -> None:
    # the panel lies 10 wide and 12 high; asked for as 12 x 10 it would lie on its side
    problem = only_problem("panel: 1 of 10 x 12", "panel: 1 of 12 x 10")

    assert str(problem) == (
        "line 34, column 22: panel would lie turned here, 10 in x 12 in, but its print runs one way. Cut it 12 in x 10 in."
    )


def test_a_piece_that_may_not_turn_is_told_on_plain_paper_too() -> None:
    text = changed("from mats -> right", "from mats -> right, not turned").replace(
        "3 of 3 1/2 x 4", "3 of 4 x 3 1/2"
    )

    assert {(problem.name, problem.line) for problem in problems(text)} == {
        (ProblemName.ONE_WAY, line) for line in (20, 21, 22)
    }


def test_a_piece_of_two_sizes_is_told_where_it_is_listed_and_not_where_it_is_cut() -> None:
    problem = only_problem("2 x 12 from band -> right", "2 x 11 from band -> right")

    assert (problem.name, problem.line) == (ProblemName.PIECE_SIZE, 13)


def test_a_sheet_that_is_named_twice_is_told_once() -> None:
    found = problems(f"{SMALL}sheet 1 of mats: offcut\n")

    assert [(problem.name, problem.why) for problem in found] == [
        (ProblemName.TWICE, "is already cut on line 17")
    ]


def test_a_piece_may_have_a_name_that_begins_like_what_is_left_over() -> None:
    text = changed("rest: tag -> left", "rest: spacing tag -> left")

    read_back = parse(
        text.replace("piece tag", "piece spacing tag").replace("    tag at", "    spacing tag at")
    )

    assert '"spacing tag" -> left' in write(read_back)


def test_sheets_of_two_sizes_are_not_cut_together() -> None:
    text = changed("paper band: 2 sheets 12 x 12", "paper band: 1 sheet 12 x 12").replace(
        "trimmer", "trimmer 12, takes 2 sheets\npaper small: 1 sheet 8 x 8\n#"
    )

    found = problems(text.replace("sheet 2 of band", "sheet 1 of small"))

    assert (ProblemName.TOGETHER, "differ in size") in [(problem.name, problem.why) for problem in found]


def test_a_sheet_taken_from_the_others_must_be_one_of_them() -> None:
    other = only_problem(
        "    sheet 1 of band: panel -> right\n",
        "    sheet 1 of mats: offcut\n    sheet 1 of band: panel -> right\n",
    )
    twice = only_problem(
        "    sheet 1 of band: panel -> right\n",
        "    sheet 1 of band: panel -> right\n    sheet 1 of band: offcut\n",
    )
    none = only_problem("    sheet 1 of band: panel -> right\n", "")

    assert (other.name, other.line, other.found) == (ProblemName.TOGETHER, 34, "sheet 1 of mats")
    assert (twice.name, twice.line) == (ProblemName.TWICE, 35)
    assert (none.name, none.found) == (ProblemName.NOT_FINISHED, "sheet 1 of band")


def test_cuts_after_the_sheets_were_taken_apart_are_told() -> None:
    problem = only_problem(
        "    sheet 1 of band: panel -> right\n", "    sheet 1 of band: panel -> right\n    turn\n"
    )

    assert (problem.name, problem.line) == (ProblemName.FINISHED, 35)


def test_every_problem_of_a_text_is_told_at_once() -> None:
    text = (
        SMALL.replace("cut at 8 1/2", "cut at 0")
        .replace("photo 4 x 6", "photo 4")
        .replace("rest: tag", "rest: tog")
    )

    assert [problem.name for problem in problems(text)] == [
        ProblemName.CUT_AT_NOTHING,
        ProblemName.UNKNOWN,
        ProblemName.LENGTH,
    ]


def test_what_follows_from_one_problem_is_not_told_again() -> None:
    # The paper's line cannot be read; that its pieces and its sheet then have no paper is no news.
    found = problems(changed("paper mats: 1 sheet 12 x 12", "paper mats: 1 sheet 12 by 12"))

    assert [problem.line for problem in found] == [7]


def test_lines_indented_like_no_other_are_told() -> None:
    problem = only_problem("    turn\n    cut at 6 1/4: offcut", "      turn\n    cut at 6 1/4: offcut")

    assert problem.name is ProblemName.INDENT


def test_a_text_says_which_recipe_it_is() -> None:
    assert [problem.why for problem in problems("")] == ["does not say which recipe it is"]


def test_cuts_inside_cuts_end_somewhere() -> None:
    lines = ["recipe A: Deep", "ruler 1 mm", "paper p: 1 sheet 900 x 900", "sheet 1 of p"]
    for number in range(100):
        lines += ["    turn", f"    cut at {800 - number}: offcut"]

    found = read("\n".join([*lines, "    rest: offcut"])).problems

    assert {problem.name for problem in found} == {ProblemName.TOO_DEEP}


@pytest.mark.parametrize(
    "text",
    ["\x00", "\ud800", '"', "#", "\\", "recipe", "page : x", "sheet 1 of", "together:,", "\t \n  \u2028x"],
)
def test_any_text_is_read_or_refused_but_never_breaks(text: str) -> None:
    for whole in (text, f"{SMALL}{text}", SMALL.replace("offcut", text), SMALL.replace("12 x 12", text)):
        read(whole)


EDITS = st.tuples(
    st.integers(0, len(SMALL)),
    st.integers(0, 12),
    st.sampled_from(
        (
            "",
            "0",
            "12",
            "1/8",
            " mm",
            '"',
            "#",
            "->",
            ":",
            ",",
            "\n",
            "    ",
            "turn\n",
            "offcut",
            "ruler 1 mm\n",
        )
    ),
)


@given(st.lists(EDITS, min_size=1, max_size=4))
@settings(max_examples=examples(100))
def test_whatever_is_typed_can_be_checked_drawn_and_written(edits: list[tuple[int, int, str]]) -> None:
    text = SMALL
    for start, length, new in edits:
        text = text[:start] + new + text[start + length :]

    reading = read(text)

    check(reading.design)
    for page in reading.design.pages:
        draw_page(reading.design, page)
    for step in trim_steps(reading.design).steps:
        draw_step(step, reading.design.ruler)
    written = write(reading.design)
    if not reading.problems:
        assert parse(written) == reading.design
