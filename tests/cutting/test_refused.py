"""Questions about cutting that are refused, each with what is wrong with it."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from kits.measures import INCH, MM
from planning.cutting import CuttingError, CuttingProblem, LengthJob, Roll
from tests.cutting.test_cutting import SHEET, TRIMMER, job

CARD = job("3", "4")


def asked(**changes: object) -> CuttingProblem:
    plain = CuttingProblem(pieces=(CARD,), sheets=(SHEET,), guillotines=(TRIMMER,))
    return replace(plain, **changes)  # type: ignore[arg-type]


REFUSED: dict[str, tuple[Callable[[], object], str]] = {
    "less than none": (lambda: job("3", "4", count=-1), "Piece: the number wanted must not be below 0"),
    "no size": (lambda: replace(CARD, width=0), "Piece: every side must be longer than 0"),
    "no name": (lambda: replace(CARD, name=" "), "a piece needs a name"),
    "a sheet of nothing": (lambda: replace(SHEET, height=0), "Card: every side must be longer than 0"),
    "trimmed away": (
        lambda: replace(SHEET, trim=6 * INCH),
        "Card: a trim of 6 in off each edge leaves nothing of a side of 12 in",
    ),
    "one name for two pieces": (
        lambda: asked(pieces=(CARD, CARD)),
        "two pieces or lengths with one name: piece:P: give each its own",
    ),
    "one name for two sheets": (
        lambda: asked(sheets=(SHEET, SHEET)),
        "two sheets with one name: CARD: give each its own",
    ),
    "a roll that is not there": (
        lambda: asked(lengths=(LengthJob(item="l", name="Bow", length=1, count=1, cut_from="R"),)),
        "Bow: 'R' is none of the rolls",
    ),
    "a roll of nothing": (
        lambda: Roll(material="R", name="Ribbon", length=0),
        "Ribbon: every side must be longer than 0",
    ),
    "pieces between the marks of the ruler": (
        lambda: asked(
            pieces=(CARD, replace(CARD, item="piece:Q", name="Tag", width=10 * MM)), ruler=INCH // 8
        ),
        "not whole numbers of 1/8 in, the ruler: Tag (10 mm x 4 in). Change them, or take a finer ruler",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_it_is_refused_in_words(case: str) -> None:
    ask, said = REFUSED[case]
    with pytest.raises(CuttingError) as error:
        ask()
    assert str(error.value) == said
