"""Texts are texts in a workbook, whatever they look like."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from io import BytesIO

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from planning.documents.workbook.cells import put, stored
from planning.documents.workbook.table import Value
from tests.support.effort import examples

PRINTABLE = st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="\ufffe\uffff")
LEADS = st.sampled_from(["", "=", "+", "-", "@", "#N/A", "=HYPERLINK(", "http://", "1", "TRUE"])


@given(LEADS, st.text(PRINTABLE, max_size=40))
@settings(max_examples=examples(40))
def test_any_text_comes_back_as_the_text_it_was(lead: str, text: str) -> None:
    book = Workbook()
    cell = book.worksheets[0]["A1"]
    put(cell, lead + text)
    file = BytesIO()
    book.save(file)
    found = openpyxl.load_workbook(file).worksheets[0]["A1"]
    assert found.data_type != "f"
    assert (found.value or "") == lead + text


def test_a_control_character_becomes_a_mark_in_its_place() -> None:
    cell = Workbook().worksheets[0]["A1"]
    put(cell, "a\x07b")
    assert cell.value == "a\N{REPLACEMENT CHARACTER}b"


@pytest.mark.parametrize(
    ("figure", "text", "kind"),
    [
        (12, "12", None),
        (Decimal("0.10"), "0.10", None),
        (Fraction(1, 8), "0.125", None),
        (True, "1", "b"),
        (False, "0", "b"),
        ("in time", "in time", "str"),
        (date(1900, 3, 1), "61", None),  # ECMA-376 part 1, 18.17.4.1: 1 March 1900 is day 61 (from memory)
        (date(2027, 3, 3), "46449", None),  # 46,023 is 1 January 2026; 365 + 31 + 28 + 2 days later
        (None, "0", None),
    ],
)
def test_the_figure_of_a_formula_is_stored_as_its_kind(figure: Value, text: str, kind: str | None) -> None:
    assert stored(figure) == (text, kind)
