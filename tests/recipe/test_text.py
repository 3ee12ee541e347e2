"""The text form: what it says, and that nothing is lost on the way there and back."""

from time import process_time

import pytest
from hypothesis import given, settings

from kits.guillotine import Cut, Direction, Offcut
from kits.measures import INCH, MM, RULERS
from kits.recipe import check
from kits.recipe.design import CutSheet, Design, Lift, PagePiece, Paper, Section, WantedPiece, usual_trimmer
from kits.recipe.text import parse, read, write
from tests.recipe.designs import SMALL, designs
from tests.support.effort import examples

E = INCH // 8  # one mark of the ruler


def test_it_works() -> None:
    design = parse(SMALL)

    mats = design.sheets[0].tree
    assert isinstance(mats, Cut)
    assert (mats.direction, mats.marks) == (Direction.UPRIGHT, (68 * E,))  # 8 1/2
    left, cards = mats.parts
    card = PagePiece("story card", 28 * E, 32 * E, page="right")
    assert cards == Cut(28 * E, 96 * E, Direction.LEVEL, (32 * E, 64 * E), (card, card, card))
    mat = PagePiece("photo mat", 34 * E, 50 * E, page="left")
    both = Cut(68 * E, 50 * E, Direction.UPRIGHT, (34 * E,), (mat, mat))
    assert left == Cut(68 * E, 96 * E, Direction.LEVEL, (50 * E,), (both, Offcut(68 * E, 46 * E)))


def test_what_a_text_says_reads_back_the_same() -> None:
    assert write(parse(SMALL)) == SMALL


@given(designs())
@settings(max_examples=examples(100))
def test_a_design_reads_back_the_same(design: Design) -> None:
    assert parse(write(design)) == design


@given(designs())
@settings(max_examples=examples(50))
def test_a_canonical_text_is_written_the_same_again(design: Design) -> None:
    text = write(design)

    assert write(parse(text)) == text


def test_sheets_that_share_their_first_cuts_are_written_once() -> None:
    first, second = parse(SMALL).lifts[1].sheets

    assert first.tree != second.tree
    assert [part.marks for part in (first.tree, second.tree) if isinstance(part, Cut)] == [
        (80 * E,),
        (80 * E,),
    ]


def test_a_cut_is_shared_even_where_only_one_sheet_goes_on_the_same_way() -> None:
    # Both sheets are cut at 10; then one of them at 4 the same way, the other after a turn.
    text = """\
recipe A: ""
ruler 1/8 in
trimmer 12, takes 2 sheets

paper p: 2 sheets 12 x 12

together: sheet 1 of p, sheet 2 of p
    cut at 10: offcut
    sheet 1 of p
        cut at 4: offcut
        rest: offcut
    sheet 2 of p
        turn
        cut at 4: offcut
        rest: offcut
"""
    design = parse(text)

    one, other = (sheet.tree for sheet in design.sheets)
    assert isinstance(one, Cut)
    assert isinstance(other, Cut)
    assert (one.marks, other.marks) == ((32 * E, 80 * E), (80 * E,))
    assert write(design) == text


def test_spaces_signs_and_case_may_vary() -> None:
    text = SMALL.replace("    ", "\t").replace("12 x 12", "12×12").replace("-> ", "->")
    text = text.replace("cut at 8 1/2", "Cut  at 8½").replace("rest: ", "REST :")

    assert parse(text.replace("\n", "\r\n")) == parse(SMALL)


def test_lengths_may_name_the_unit_of_the_ruler() -> None:
    assert parse(
        SMALL.replace("cut at 8 1/2", 'cut at 8.5"').replace("cut at 6 1/4:", "cut at 6-1/4 in:")
    ) == parse(SMALL)


def test_a_sheet_keeps_the_unit_of_its_maker() -> None:
    # A4 is 210 x 297 mm; 5 3/4 in of its height are cut off over its whole width, which is on no mark of the ruler.
    text = """\
recipe A: ""
ruler 1/8 in
trimmer 12, takes 1 sheet

paper veil: 1 sheet 210 x 297 mm

piece veil: 1 of 210 mm x 5 3/4 from veil -> left
piece wide: 1 of 5 in x 210 mm from veil -> left, cut by the club

sheet 1 of veil
    turn
    cut at 5 3/4: offcut
    rest: veil -> left
"""
    design = parse(text)

    assert design.papers[0] == Paper(role="veil", width=210 * MM, height=297 * MM)
    assert design.pieces[0] == WantedPiece(
        piece="veil", width=210 * MM, height=46 * E, role="veil", page="left"
    )
    assert write(design) == text


def test_a_mark_may_have_a_decimal_comma() -> None:
    assert parse(SMALL.replace("cut at 8 1/2", "cut at 8,5")) == parse(SMALL)


def test_a_metric_recipe_is_measured_in_millimetres() -> None:
    text = """\
recipe A: ""
ruler 0.5 mm
trimmer 310, takes 1 sheet

paper p: 1 sheet 210 x 297

piece mat: 2 of 105 x 148.5 from p

sheet 1 of p
    cut at 105: offcut
    turn
    cut at 148.5: mat
    rest: mat
"""
    design = parse(text)

    assert (design.ruler, design.pieces[0].height) == (RULERS[3], 297 * MM // 2)
    assert write(design) == text


def test_the_usual_trimmer_takes_a_sheet_of_12_in_in_any_unit() -> None:
    # common practice, no source: paper of 12 x 12 in is sold as 305 x 305 mm
    text = "recipe A: Square\nruler {}\npaper p: 1 sheet {}\nsheet 1 of p\n    cut at {}: offcut\n    rest: offcut\n"

    for ruler, size, mark in (("1/8 in", "12 x 12", "4"), ("1 mm", "305 x 305", "100")):
        assert check(parse(text.format(ruler, size, mark))) == ()


def test_a_piece_may_be_centred_and_a_photo_may_fit_its_mat() -> None:
    text = SMALL.replace(
        "photo mat at 3, 5, layer 2\n        photo 4 x 6,",
        "photo mat at centred, centred, layer 2\n        photo that fits,",
    )

    placed = parse(text).pages[0].placements[2]

    # (12 - 4 1/4) / 2 = 3 7/8 and (12 - 6 1/4) / 2 = 2 7/8; a mat of 4 1/4 x 6 1/4 less 1/8 on every side is 4 x 6
    assert (placed.x, placed.y) == (31 * E, 23 * E)
    assert (placed.openings[0].width, placed.openings[0].height) == (32 * E, 48 * E)


def test_equal_pieces_lie_in_a_row_with_equal_gaps() -> None:
    # three cards of 3 1/2 on 12 leave 1 1/2 for four gaps of 3/8; with a margin of 1/2 there is 1/2 for two of 1/4
    cards = "page right: 12 x 12\n" + "".join(
        f"    story card at place {n} of 3, centred\n" for n in (1, 2, 3)
    )
    text = SMALL[: SMALL.index("page right")] + cards

    loose = parse(text).pages[1].placements
    tight = parse(text.replace("12 x 12\n    story", "12 x 12, margin 1/2\n    story")).pages[1].placements

    assert [placed.x for placed in loose] == [3 * E, 34 * E, 65 * E]
    assert [placed.x for placed in tight] == [4 * E, 34 * E, 64 * E]
    assert [placed.y for placed in loose] == [32 * E] * 3


def test_places_that_no_ruler_has_are_written_as_they_were_told() -> None:
    # On a page of 210 mm a card of 3 1/2 in starts 60.55 mm from the edge, two leave three gaps of 32.2/3 mm, and a
    # photo 1/8 in inside of a veil as wide as its sheet is 203.65 mm wide.
    text = """\
recipe A: Veil
ruler 1/8 in
trimmer 12, takes 1 sheet

paper veil: 1 sheet 210 x 297 mm
paper card: 1 sheet 12 x 12

piece veil: 1 of 210 mm x 5 from veil -> left
piece card: 3 of 3 1/2 x 4 from card -> left

page left: 210 x 297 mm, spacing 1/8
    veil at 0, centred
        photo that fits, border 1/8
    card at centred, 0
    card at place 1 of 2, 7
    card at place 2 of 2, 7
"""
    design = parse(text)

    [veil, middle, first, second] = design.pages[0].placements
    assert middle.x * 1000 == 60_550 * MM
    assert (first.x, second.x) == (322 * MM // 30, 2 * 322 * MM // 30 + 28 * E)
    assert veil.openings[0].width * 100 == 20_365 * MM
    assert write(design) == text


def test_comments_stay_with_their_section() -> None:
    comments = parse(SMALL).comments

    assert [(comment.section, comment.text) for comment in comments] == [
        (Section.PAPERS, "What the subscriber finds in the box"),
        (Section.SHEETS, "both mats lie side by side now"),
    ]


def test_a_comment_may_follow_on_the_line_and_quotes_may_hold_its_sign() -> None:
    design = parse('recipe A: "no. #1" # the first\nruler 1/8 in\npaper p: 1 sheet 4" x 6" # in inches\n')

    assert (design.title, design.papers[0].height) == ("no. #1", 6 * INCH)
    assert [comment.text for comment in design.comments] == ["the first", "in inches"]


def test_what_cannot_be_read_yet_is_an_offcut() -> None:
    reading = read(SMALL.replace("cut at 6 1/4: offcut", "cut at 60: offcut"))

    mats = reading.design.sheets[0].tree
    assert isinstance(mats, Cut)
    assert mats.parts[0] == Offcut(68 * E, 96 * E)
    assert len(reading.problems) == 1


def test_a_reading_knows_where_things_begin() -> None:
    lines = read(SMALL).lines

    assert SMALL.splitlines()[lines["sheet 2 of band"] - 1].startswith("together:")
    assert SMALL.splitlines()[lines["page right"] - 1].startswith("page right")
    assert SMALL.splitlines()[lines["piece stripe -> right"] - 1].endswith("-> right")


def test_parallel_cuts_belong_into_one_list() -> None:
    inner = Cut(8 * E, 8 * E, Direction.UPRIGHT, (4 * E,), (Offcut(4 * E, 8 * E), Offcut(4 * E, 8 * E)))
    outer = Cut(12 * E, 8 * E, Direction.UPRIGHT, (8 * E,), (inner, Offcut(4 * E, 8 * E)))

    with pytest.raises(ValueError, match="one list of marks"):
        CutSheet("p", 1, outer)


def test_a_sheet_without_recipe_pieces_cannot_be_written() -> None:
    from kits.guillotine import Piece

    design = Design(
        code="A",
        papers=(Paper(role="p", width=E, height=E),),
        lifts=(Lift((CutSheet("p", 1, Piece("a", E, E)),)),),
    )

    with pytest.raises(ValueError, match="PagePiece"):
        write(design)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("photo mat: 2", "photo{} mat: 2"),
        ("1/4 x 6 1/4 from", "1/4{}x 6 1/4{}from"),
        ("at 8 1/2", "at 8 1/{}2"),
        ("160 g/m²", "160{}g/m²"),
    ],
)
def test_a_line_of_many_spaces_takes_no_longer_than_many_lines(old: str, new: str) -> None:
    assert SMALL.count(old) == 1
    text = SMALL.replace(old, new.replace("{}", " " * 20_000))

    started = process_time()
    read(text)

    assert process_time() - started < 2  # a hundredth of a second; by the square of the spaces 20 s


def test_ten_thousand_lines_take_about_a_second() -> None:
    lines = ["recipe A: Large", "ruler 0.5 mm", "paper p: 1 sheet 3000 x 3000"]
    lines += ["piece a: 9999 of 0.5 x 3000 from p", "piece b: 9999 of 3 x 3 from p -> left", "sheet 1 of p"]
    lines += [f"    cut at {2999.5 - number / 2}: a" for number in range(4000)]
    lines += ["    rest: offcut", "page left: 3000 x 3000"]
    lines += [f"    b at {number % 800}, {number // 8}.5" for number in range(6000)]

    started = process_time()
    design = parse("\n".join(lines))

    assert process_time() - started < 3  # about 0.5 s on a quiet machine
    assert design.trimmer == usual_trimmer(design.ruler)
    assert len(design.pages[0].placements) == 6000
