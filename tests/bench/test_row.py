"""The table of a bench."""

from decimal import Decimal
from fractions import Fraction

from planning.bench.row import HEADING, Row, reference, timed


def test_it_works() -> None:
    row = Row("cards", 1234, 1233, Fraction(4939, 4), "stopped", 0.5)

    assert row.line(reference=0.25) == (
        "cards                                      1,234       1,233   1,234.750    0.500    2.00  stopped"
    )


def test_every_column_ends_below_its_heading() -> None:
    line = Row("cards", None, Decimal("3.50"), None, "proved best", 0.125).line(reference=1)

    for word, figure in (("optimum", "-"), ("found", "3.50"), ("seconds", "0.125"), ("ratio", "0.12")):
        assert line[: HEADING.index(word) + len(word)].endswith(figure)
    assert line.index("proved") == HEADING.index("ended")


def test_work_is_timed() -> None:
    answer, seconds = timed(lambda: 7)

    assert answer == 7
    assert 0 <= seconds < 1
    assert reference() > 0
