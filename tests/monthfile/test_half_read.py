"""A cell that cannot be read makes no other cell look wrong, and hides none."""

from datetime import date

from planning.faults import faults
from tests.monthfile.files import edited, report, typed
from tests.support.months import tiny_month, with_rows

TINY = tiny_month()


def test_a_material_with_a_bad_cell_is_not_called_unknown_where_it_is_named() -> None:
    assert report(edited(typed("Materials", "D3", "wide"))) == [
        "Materials, row 3, column D \"Width (in or mm)\": wide is not a length: there is no number where 'wide' stands. "
        "Write a length above zero, at most 100 km, such as 9 1/4 in, 9.25 in, 235 mm, 23.5 cm, 1.5 m, 2 yd or 1 ft 6 in."
    ]


def test_another_material_that_is_unknown_still_is() -> None:
    lines = report(edited(typed("Materials", "D3", "wide"), typed("Offers", "C4", "PRNT")))
    assert [line.partition(": ")[2][:60] for line in lines] == [
        "wide is not a length: there is no number where 'wide' stands",
        "PRNT is not on the Materials sheet. Did you mean PRINT?",
    ]


def test_where_a_code_itself_cannot_be_read_nothing_is_called_unknown() -> None:
    lines = report(edited(typed("Materials", "A3", date(2027, 1, 2)), typed("Offers", "C4", "PRNT")))
    assert [line.partition(": ")[0] for line in lines] == ['Materials, row 3, column A "Code"']


def test_a_missing_sheet_is_told_once_and_not_by_all_who_name_it() -> None:
    lines = report(edited(lambda workbook: workbook.remove(workbook["Zones"])))
    assert lines == ["Zones: the file has no such sheet. Add a sheet with the title Zones."]


def test_a_settings_sheet_that_is_missing_hides_nothing_else() -> None:
    lines = report(
        edited(
            lambda workbook: workbook.remove(workbook["Club"]),
            typed("Stock", "A3", "CARTEN"),
            typed("Tiers", "C3", 9.999),
        )
    )
    assert lines == [
        "Club: the file has no such sheet. Add a sheet with the title Club.",
        'Stock, row 3, column A "Item": CARTEN is not on the Materials or Pre-cuts sheet. Did you mean CARTON?',
    ]


def test_rows_that_were_not_read_stop_no_rule_that_needs_them_not() -> None:
    month = with_rows(TINY, "price_breaks", TINY.price_breaks[3:])
    month = with_rows(month, "materials", TINY.materials[1:])
    half = {"price_breaks": [{"offer": "M-CARD"}, {}], "materials": [{"code": "CARD"}]}
    assert faults(month, half) == ()
    assert [str(fault) for fault in faults(month, {"price_breaks": [{}]})] == [
        "CARD is not on the Materials sheet. Did you mean CARTON?",
        "CARD is not on the Materials sheet. Did you mean CARTON?",
    ]


def test_a_value_that_a_terminal_would_obey_is_shown_and_not_sent() -> None:
    lines = report(edited(typed("Stock", "A3", "CAR_x001B_[2JTON\nx")))
    assert lines == [
        'Stock, row 3, column A "Item": CAR�[2JTON / x holds a character that cannot be printed (U+001B, number 4). '
        "Type the text again without it.",
        'Stock, row 3, column A "Item": CAR�[2JTON / x is not on the Materials or Pre-cuts sheet. Did you mean CARTON?',
    ]
