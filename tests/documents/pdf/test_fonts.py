import pytest

from planning.documents.pdf import unprintable
from planning.documents.pdf.fonts import STRONG, TEXT, printable, text_width

ALPHABETS = {
    "Polish, Czech": "ĄąĆćĘęŁłŃńÓóŚśŹźŻż ČčĎďĚěŇňŘřŠšŤťŮůŽž",
    "Turkish, Romanian, Hungarian": "ĞğİıŞş ȘșȚț ŐőŰű",
    "Icelandic, Sámi, Maltese": "ÐðÞþÆæ ŊŋŦŧ ĦħĠġ",
    "Vietnamese": "ẮằẵỄểỗỢụỹĐđ",
    "Greek": "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ άέήίόύώϊΰς",
    "Russian, Ukrainian, Kazakh": "АБВГДЕЁЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯ ҐґЄєЇї ҒғҚқҢңӨөҰұҮүҺһ",
    "signs": "¼ ½ ¾ ⅛ ⅜ ⅝ ⅞ ⁄ ← ↑ → ↓ × − ≈ ≤ ≥ ″ ′ “” ‘’ „ « » – — … • · ° µ ² ³ € £ ¥ ₺ ₴ № §",
}


@pytest.mark.parametrize("alphabet", ALPHABETS)
def test_the_typeface_holds(alphabet: str) -> None:
    assert unprintable(ALPHABETS[alphabet]) == set()
    assert printable(ALPHABETS[alphabet]) == ALPHABETS[alphabet]


def test_other_scripts_are_reported_and_seen_on_paper() -> None:
    assert unprintable("李明 Li") == {"李", "明"}
    assert printable("李明 Li") == "?? Li"


def test_a_question_mark_of_ones_own_is_no_missing_character() -> None:
    assert unprintable("Really?") == set()
    assert printable("Really?") == "Really?"


def test_an_accent_typed_apart_joins_its_letter() -> None:
    assert printable("Zoe\N{COMBINING DIAERESIS}") == "Zoë"
    assert unprintable("Zoe\N{COMBINING DIAERESIS}") == set()


def test_marks_that_are_never_seen_leave_nothing_behind() -> None:
    assert printable("Ann\N{ZERO WIDTH SPACE}a\tB\N{NON-BREAKING HYPHEN}C\n") == "Anna B-C "


def test_figures_are_equally_wide_so_that_columns_line_up() -> None:
    for font in (TEXT, STRONG):
        assert len({text_width(figure, font, 10) for figure in "0123456789"}) == 1
