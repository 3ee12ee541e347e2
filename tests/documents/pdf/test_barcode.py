"""Every symbol is printed, drawn as a 200 dpi printer in black and white does it, and read back by zxing."""

from collections.abc import Callable
from io import BytesIO

import pytest
import zxingcpp
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from planning.documents.codes import FNC1, code128
from planning.documents.pdf.barcode import DOT, WIDTHS, bars, code_marks

Printed = Callable[[bytes], list[Image.Image]]
TEXTS = [
    *("".join(map(chr, range(start, start + 19))) for start in range(32, 127, 19)),  # set B
    *("".join(map(chr, range(start, start + 8))) for start in range(0, 32, 8)),  # set A
    *("".join(f"{pair:02}" for pair in range(start, start + 20)) for start in range(0, 100, 20)),  # set C
    "PJJ123C",
    "HI345678",
    "RIV2704000123K",
    "1234AB\x01\x02\x03ab1234\x01cdef\x02",  # through all three sets
]
SSCC = "00376104250021234569"


def sheet_of(*texts: str) -> bytes:
    file = BytesIO()
    canvas = Canvas(file, (420, 60 * len(texts)), pageCompression=1, invariant=1)
    for number, text in enumerate(texts):
        canvas._code.append(code_marks(text, 0, 60 * number + 12, 420, 36))  # type: ignore[attr-defined]
    canvas.save()
    return file.getvalue()


@pytest.mark.parametrize("text", TEXTS)
def test_a_code_printed_at_200_dpi_is_read_back(text: str, printed: Printed) -> None:
    [page] = printed(sheet_of(text))
    [read] = zxingcpp.read_barcodes(page)
    assert read.bytes.decode("ascii") == text
    assert read.format == zxingcpp.BarcodeFormat.Code128


def test_every_symbol_has_been_read_back() -> None:
    """Values 0 to 102, a start of each set, and the stop are all among the texts above and the one below."""
    used = {symbol for text in (*TEXTS, FNC1 + SSCC) for symbol in code128(text)}
    assert used == set(range(107))


def test_a_gs1_symbol_is_read_as_one(printed: Printed) -> None:
    """SSCC (00)376104250021234569, GS1-128; the payload is from memory."""
    [page] = printed(sheet_of(FNC1 + SSCC))
    [read] = zxingcpp.read_barcodes(page)
    assert read.symbology_identifier == "]C1"
    assert read.bytes.decode("ascii") == SSCC


def test_symbols_are_eleven_modules_wide_and_no_two_are_alike() -> None:
    """Code 128 (ISO/IEC 15417, from memory): three bars and three spaces in 11 modules; the stop has 13."""
    assert len(WIDTHS) == len(set(WIDTHS)) == 107
    assert all(sum(pattern) == 11 and len(pattern) == 6 for pattern in WIDTHS[:-1])
    assert all(sum(pattern[::2]) % 2 == 0 for pattern in WIDTHS[:-1])
    assert sum(WIDTHS[-1]) == 13


def test_bars_stand_where_the_symbols_say() -> None:
    # Start B is 211214: bars at 0, 0 + 2 + 1, 3 + 1 + 2. The stop is 2331112: bars at 11, 11 + 2 + 3 ...
    assert list(bars((104, 106))) == [(0, 2), (3, 1), (6, 1), (11, 2), (16, 3), (20, 1), (22, 2)]


def test_every_bar_is_a_whole_number_of_dots_and_stands_on_one(printed: Printed) -> None:
    """So nothing is rounded: in the printed row the narrowest run of black is as wide as each module."""
    [page] = printed(sheet_of("RIV2704000123K"))
    row = page.crop((0, page.height // 2, page.width, page.height // 2 + 1)).tobytes()
    runs = [len(run) for run in row.replace(b"\xff", b" ").split()]
    module = min(runs)
    assert module == 3
    assert all(run % module == 0 for run in runs)


def test_bars_that_find_no_room_with_their_quiet_zones_are_refused() -> None:
    """Ten modules on either side (ISO/IEC 15417, from memory)."""
    modules = sum(sum(WIDTHS[symbol]) for symbol in code128("RIV2704000123K")) + 20
    code_marks("RIV2704000123K", 0, 0, (modules + 0.5) * DOT, 36)
    with pytest.raises(ValueError, match="do not fit"):
        code_marks("RIV2704000123K", 0, 0, (modules - 0.5) * DOT, 36)
