import re
from collections.abc import Sequence
from heapq import heappop, heappush

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.calendar import YearMonth
from planning.documents.codes import (
    ALPHANUMERIC,
    FNC1,
    BoxCodeError,
    CodeError,
    alphanumeric_check,
    box_code,
    check_box_code,
    check_symbol,
    code128,
    gs1_check_digit,
    slip_code,
    sscc,
    version_scanned,
)
from planning.tracking import S10Error, check_digit

APRIL = YearMonth(2027, 4)
ASCII_TEXT = st.text(st.characters(max_codepoint=127), max_size=12)


# --- UPU S10 ---


@pytest.mark.parametrize(
    ("serial", "check"),
    [
        ("47312482", "9"),  # the standard's own example (Wikipedia, "S10 (UPU standard)")
        ("28704377", "5"),  # remainder 0; the photographed item RR287043775IN (Wikipedia, same page)
        ("00000008", "0"),  # worked by hand: 8 x 7 = 56 = 5 x 11 + 1, and 11 - 1 = 10 is printed 0
        ("12345678", "5"),  # worked by hand: 8+12+12+8+15+30+63+56 = 204 = 18 x 11 + 6, and 11 - 6 = 5
    ],
)
def test_a_postal_serial_number_gets_the_check_digit_of_s10(serial: str, check: str) -> None:
    assert str(check_digit(serial)) == check


@pytest.mark.parametrize("serial", ["", "1234567", "123456789", "1234567a", "١٢٣٤٥٦٧٨"])
def test_a_postal_serial_number_has_eight_digits(serial: str) -> None:
    with pytest.raises(S10Error, match="eight digits"):
        check_digit(serial)


# --- GS1 ---


@pytest.mark.parametrize(
    ("payload", "check"),
    [
        ("629104150021", "3"),  # gs1.org, "How to calculate a check digit manually"
        ("890400021003", "7"),  # gs1india.org
        ("730001100001", "7"),  # gs1.se
        ("03600024145", "7"),  # Wikipedia, "Universal Product Code"
        ("01010101010", "5"),  # worked by hand: 5 x 3 = 15
        ("4098765000022", "3"),  # a GTIN-14; prefix from ibm.com, worked by hand: 97
    ],
)
def test_a_trade_item_number_gets_the_check_digit_of_gs1(payload: str, check: str) -> None:
    assert gs1_check_digit(payload) == check


@pytest.mark.parametrize(
    ("payload", "check"),
    # From memory of the GS1 General Specifications and the EPC Tag Data Standard; by hand: 101, 132, 140.
    [("37610425002123456", "9"), ("10614141234567890", "8"), ("00614141123456789", "0")],
)
def test_a_shipping_container_code_ends_in_the_same_check_digit(payload: str, check: str) -> None:
    assert sscc(payload) == payload + check


def test_a_shipping_container_code_has_seventeen_digits_before_its_check_digit() -> None:
    with pytest.raises(CodeError, match="17 digits"):
        sscc("3761042500212345")


# --- Code 128 ---


@pytest.mark.parametrize(
    ("symbols", "check"),
    [
        ([103, 48, 42, 42, 17, 18, 19, 35], 54),  # PJJ123C in set A: 878 (Wikipedia, "Code 128")
        ([103, 40, 41, 99, 34, 56, 78], 67),  # HI345678 in sets A and C: 1406 (barcodeisland.com)
        ([104, 40, 41, 99, 34, 56, 78], 68),  # the same from set B: 1407, worked by hand
        ([103, *range(33, 39)], 42),  # ABCDEF in set A: 866 (barcoderesource.com)
        ([104, *range(65, 71)], 97),  # abcdef in set B: 1539 (barcoderesource.com)
        ([105, 34, 56, 78], 73),  # 345678 in set C: 485 (barcoderesource.com)
        (
            [105, 102, 12, 34, 56, 100, 56, 23, 24, 25],
            14,
        ),  # FNC1 123456 X789 in C and B: 1971 (barcode-net.com)
        # (00)376104250021234569 in set C: 2316, worked by hand
        ([105, 102, 0, 37, 61, 4, 25, 0, 21, 23, 45, 69], 50),
    ],
)
def test_symbols_of_code_128_get_the_published_check_symbol(symbols: Sequence[int], check: int) -> None:
    assert check_symbol(symbols) == check


@pytest.mark.parametrize(
    ("text", "symbols"),
    [
        ("345678", (105, 34, 56, 78, 73, 106)),
        ("abcdef", (104, *range(65, 71), 97, 106)),
        ("HI345678", (104, 40, 41, 99, 34, 56, 78, 68, 106)),
        (FNC1 + "00376104250021234569", (105, 102, 0, 37, 61, 4, 25, 0, 21, 23, 45, 69, 50, 106)),
        # A control character between small letters: a shift (2 symbols) beats two switches (3).
        # 104 + 65 + 2x98 + 3x73 + 4x66 = 848
        ("a\tb", (104, 65, 98, 73, 66, 848 % 103, 106)),
        ("", (104, 104 % 103, 106)),
    ],
)
def test_a_text_is_spelled_with_few_symbols(text: str, symbols: tuple[int, ...]) -> None:
    assert code128(text) == symbols


def test_a_text_beyond_ascii_has_no_code_128() -> None:
    with pytest.raises(CodeError, match="É ł"):
        code128("Él ł É")


@given(ASCII_TEXT)
def test_a_reader_that_follows_the_switches_reads_the_text_back(text: str) -> None:
    assert read_back(code128(text)) == text


@given(st.text("09aA\t", max_size=7))
def test_no_way_through_the_code_sets_is_shorter(text: str) -> None:
    assert len(code128(text)) == 3 + fewest_symbols(text)


@given(st.text("0123456789", min_size=1, max_size=20))
def test_digits_are_printed_two_to_a_symbol(number: str) -> None:
    pairs, odd = divmod(len(number), 2)
    extra = {(0, 1): 1, (1, 1): 3, (1, 0): 1}.get(
        (pairs, odd), pairs + 2 * odd
    )  # an odd digit costs a switch
    assert len(code128(number)) == 3 + extra


def read_back(symbols: Sequence[int]) -> str:
    """Read symbols as a scanner does: one set in force, a shift good for one symbol."""
    assert symbols[-1] == 106
    assert check_symbol(symbols[:-2]) == symbols[-2]
    in_force, shifted, text = "ABC"[symbols[0] - 103], "", ""
    for value in symbols[1:-2]:
        read_in, shifted = shifted or in_force, ""
        if read_in == "C":
            in_force = {100: "B", 101: "A"}.get(value, "C")
            text += FNC1 if value == 102 else f"{value:02}" if value < 100 else ""
        elif value < 96:
            text += chr(value + 32 if read_in == "B" or value < 64 else value - 64)
        elif value == 98:
            shifted = "B" if read_in == "A" else "A"
        else:
            in_force = {99: "C", 100: "B", 101: "A"}[value]
    return text


def fewest_symbols(text: str) -> int:
    """Count the symbols of the cheapest path through places and sets, by Dijkstra's rule."""
    paths = [(0, 0, code_set) for code_set in "ABC"]
    while True:
        cost, at, code_set = heappop(paths)
        if at == len(text):
            return cost
        for other in "ABC":
            width = 2 if other == "C" else 1
            if spells(text[at : at + width], other):
                dearer = cost + 1 + (other != code_set)  # a switch and a shift cost one symbol each
                heappush(paths, (dearer, at + width, other))
                if "C" not in (code_set, other):
                    heappush(paths, (dearer, at + width, code_set))


def spells(piece: str, code_set: str) -> bool:
    if code_set == "C":
        return re.fullmatch("[0-9]{2}", piece) is not None
    return ord(piece) < 96 if code_set == "A" else ord(piece) >= 32


# --- ISO/IEC 7064 and the box code ---


@pytest.mark.parametrize(
    ("text", "check"),
    [
        ("A12425GABC1234002", "M"),  # the example of the GRid standard, published as A1-2425G-ABC1234002-M
        (
            "B159D8FA01240000",
            "K",
        ),  # International Standard Audiovisual Numbers, as published with their check
        ("188166C734200000", "3"),
    ],
)
def test_alphanumeric_codes_get_the_published_check_character(text: str, check: str) -> None:
    assert alphanumeric_check(text) == check


def test_a_check_character_stands_behind_digits_and_capitals_only() -> None:
    with pytest.raises(CodeError, match="digits and capital letters"):
        alphanumeric_check("rív")


def test_a_box_code_holds_club_month_and_serial() -> None:
    assert box_code("riv-er", APRIL, 123) == "RIVER2704000123" + alphanumeric_check("RIVER2704000123")


def test_a_club_without_a_latin_letter_still_gets_box_codes() -> None:
    assert check_box_code(box_code("клуб", APRIL, 1)).startswith("2704000001")


def test_boxes_are_counted_from_one() -> None:
    with pytest.raises(CodeError, match="counted from 1"):
        box_code("RIV", APRIL, 0)


def test_a_box_code_typed_with_spaces_and_small_letters_is_read_as_printed() -> None:
    code = box_code("RIV", APRIL, 123)
    assert check_box_code(f" {code[:3].lower()} {code[3:7]}-{code[7:]}\n") == code


def test_a_square_code_names_the_version_of_the_plan_and_is_read_as_the_box_code() -> None:
    code = box_code("RIV", APRIL, 123)
    assert slip_code(code, 12) == f"{code}/12"
    assert check_box_code(f"{code}/12\n") == code
    assert (version_scanned(f"{code}/12\n"), version_scanned(code)) == (12, None)
    with pytest.raises(BoxCodeError):
        check_box_code(f"{code}/V2")


SERIALS = st.integers(1, 2_000_000)


@given(SERIALS, st.data())
def test_every_single_wrong_character_is_noticed(serial: int, data: st.DataObject) -> None:
    code = box_code("RIV", APRIL, serial)
    at = data.draw(st.integers(0, len(code) - 1))
    wrong = data.draw(st.sampled_from(ALPHANUMERIC.replace(code[at], "")))
    with pytest.raises(BoxCodeError, match="not a box code"):
        check_box_code(code[:at] + wrong + code[at + 1 :])


def test_hardly_one_swap_of_neighbours_in_two_hundred_goes_unnoticed() -> None:
    codes = [box_code("RIV", APRIL, serial) for serial in range(1, 3000)]
    swapped = [
        (code, code[:at] + code[at + 1] + code[at] + code[at + 2 :]) for code in codes for at in range(12)
    ]
    wrong = [text for code, text in swapped if text != code]
    missed = [text for text in wrong if text[-1] == alphanumeric_check(text[:-1])]
    assert 0 < len(missed) < len(wrong) / 200


@pytest.mark.parametrize("text", ["", "K", "RIV", "RIV2704", "*", "ÉÉÉ2704000123J", "RIV270400012"])
def test_what_is_not_a_box_code_is_refused_by_name(text: str) -> None:
    with pytest.raises(BoxCodeError, match="Scan the box again"):
        check_box_code(text)


@given(SERIALS, SERIALS)
def test_different_boxes_have_different_codes(one: int, other: int) -> None:
    assert (box_code("RIV", APRIL, one) == box_code("RIV", APRIL, other)) == (one == other)
