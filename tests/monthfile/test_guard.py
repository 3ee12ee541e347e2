"""What is not let in at all: each its own message, no traceback, and no long wait."""

import io
import time
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZIP_LZMA, ZIP_STORED, ZipFile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.monthfile import MonthFileError, read_month
from planning.monthfile.guard import MOST_BYTES, OLE, PASSWORD
from tests.monthfile.files import TINY_FILE, TODAY, report, with_parts
from tests.support.effort import examples

SAVE_AS = "Open it in your spreadsheet and save it as .xlsx."
DAMAGED = [
    "The file is damaged or incomplete. Copy or download it again, or save it again from your spreadsheet."
]
LONG = 15  # seconds, on a loaded machine


def zipped(parts: dict[str, bytes]) -> bytes:
    """Return a zip archive."""
    buffer = io.BytesIO()
    with ZipFile(buffer, "w", ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return buffer.getvalue()


CROWDED = 2_001 + len(ZipFile(io.BytesIO(TINY_FILE)).namelist())


def crowded() -> bytes:
    """Return a workbook of too many parts."""
    return with_parts(TINY_FILE, {f"xl/extra{number}.xml": b"<x/>" for number in range(2_001)})


def locked_part() -> bytes:
    """Return a workbook whose parts say that they are encrypted, as a zip archive with a password has them."""
    at = TINY_FILE.index(b"PK\x01\x02")
    return TINY_FILE[: at + 8] + bytes([TINY_FILE[at + 8] | 1]) + TINY_FILE[at + 9 :]


def spoilt() -> bytes:
    """Return a workbook one part of which does not match its check sum."""
    buffer = io.BytesIO()
    with ZipFile(io.BytesIO(TINY_FILE)) as old, ZipFile(buffer, "w", ZIP_STORED) as new:
        for name in old.namelist():
            new.writestr(name, old.read(name))
    return buffer.getvalue().replace(b"Daisy print", b"Daisy paint", 1)


def oddly_packed() -> bytes:
    """Return a workbook packed in a way no workbook is, one that unpacks with errors of its own when it is damaged."""
    buffer = io.BytesIO()
    with ZipFile(io.BytesIO(TINY_FILE)) as old, ZipFile(buffer, "w", ZIP_LZMA) as new:
        for name in old.namelist():
            new.writestr(name, old.read(name))
    return buffer.getvalue()


MACRO_TYPES = b"""<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Override PartName="/xl/workbook.xml" ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/></Types>"""

REFUSED: dict[str, tuple[bytes, list[str]]] = {
    "nothing": (b"", ["The file is empty (0 bytes). Copy or download it again."]),
    "an old workbook": (
        OLE + b"\0" * 4000 + "Workbook".encode("utf-16-le"),
        [f"The file is a workbook of the old kind (.xls). {SAVE_AS}"],
    ),
    "a workbook with a password": (
        OLE + b"\0" * 9000 + PASSWORD,
        ["The file is protected by a password. Save it again without one."],
    ),
    "a zip archive with a password": (
        locked_part(),
        ["The file is protected by a password. Save it again without one."],
    ),
    "a macro workbook": (
        with_parts(TINY_FILE, {"xl/vbaProject.bin": b"macros"}),
        [f"The workbook contains macros (.xlsm). {SAVE_AS} That leaves them out."],
    ),
    "a macro workbook without its macros": (
        with_parts(TINY_FILE, {"[Content_Types].xml": MACRO_TYPES}),
        [f"The workbook contains macros (.xlsm). {SAVE_AS} That leaves them out."],
    ),
    "a workbook with macros of the older kind": (
        with_parts(TINY_FILE, {"xl/macrosheets/sheet1.xml": b"<x/>"}),
        [f"The workbook contains macros (.xlsm). {SAVE_AS} That leaves them out."],
    ),
    "a binary workbook": (
        zipped({"[Content_Types].xml": b"<Types/>", "xl/workbook.bin": b"x"}),
        [f"The file is a binary workbook (.xlsb). {SAVE_AS}"],
    ),
    "an OpenDocument file": (
        zipped({"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": b"<x/>"}),
        [f"The file is an OpenDocument file (.ods). {SAVE_AS}"],
    ),
    "a text document": (
        zipped({"[Content_Types].xml": b"<Types/>", "word/document.xml": b"<x/>"}),
        ["The file is a text document or a presentation. A month file is an .xlsx workbook."],
    ),
    "a zip archive": (
        zipped({"month.xlsx": b"x"}),
        ["The file is a zip archive, not a workbook. Unpack it, and choose the workbook inside."],
    ),
    "a PDF": (b"%PDF-1.7\n", ["The file is a PDF. Choose the workbook it was printed from."]),
    "a CSV file": (
        b"Code;Name\nCARD;White card\n",
        [f"The file is plain text, such as CSV, not a workbook. {SAVE_AS}"],
    ),
    "a web page": (
        b"\xef\xbb\xbf<html><table></table></html>",
        [f"The file is a web page or XML under the name of a workbook. {SAVE_AS}"],
    ),
    "a picture": (
        b"\x89PNG\r\n\x1a\n\0\0",
        ["The file is not a workbook. A month file is an .xlsx workbook."],
    ),
    "half a file": (TINY_FILE[: len(TINY_FILE) // 2], DAMAGED),
    "a file that lacks its end": (TINY_FILE[:-30], DAMAGED),
    "a spoilt file": (spoilt(), DAMAGED),
    "a file packed in another way": (oddly_packed(), DAMAGED),
    "a format that has no number": (
        with_parts(
            TINY_FILE, {"xl/styles.xml": b"<styleSheet><cellXfs><xf numFmtId='x'/></cellXfs></styleSheet>"}
        ),
        DAMAGED,
    ),
    "too many parts": (crowded(), [f"The file is made of {CROWDED:,} parts. A workbook has at most 2,000."]),
    "a zip bomb": (
        with_parts(TINY_FILE, {"xl/worksheets/sheet3.xml": b"<worksheet>" + b" " * 30_000_000}),
        [
            "The file is small but would unpack to 30 MB. That is no table anyone filled in, so it was not opened.",
        ],
    ),
    "a part that is held in memory, and large": (
        with_parts(TINY_FILE, {"xl/styles.xml": bytes(range(256)) * 250_000}),
        [
            "The file is small but would unpack to 64 MB. That is no table anyone filled in, so it was not opened."
        ],
    ),
}


@pytest.mark.parametrize("kind", REFUSED)
def test_it_is_refused_with_a_message_of_its_own(kind: str) -> None:
    file, expected = REFUSED[kind]
    start = time.monotonic()
    assert report(file) == expected
    assert time.monotonic() - start < LONG


def told_of(path: Path) -> str:
    with pytest.raises(MonthFileError) as error:
        read_month(path, TODAY)
    return str(error.value)


def test_a_folder_a_missing_file_and_an_impossible_name_are_told_apart(tmp_path: Path) -> None:
    assert told_of(tmp_path) == f"{tmp_path} is a folder. Name the workbook itself."
    missing = tmp_path / "month.xlsx"
    assert told_of(missing) == f"There is no file {missing}. Look at the name and the folder."
    endless = tmp_path / ("x" * 300)
    assert told_of(endless) == (
        f"{endless} cannot be opened (File name too long). Look at the name and at who may read it."
    )


def test_a_file_too_large_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "month.xlsx"
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1_000_000)
    assert told_of(path) == (
        "The file has 201 MB. A month file has at most 200 MB; a month of a million boxes takes half that."
    )


def test_a_file_is_read_from_its_path_as_from_its_bytes(tmp_path: Path) -> None:
    path = tmp_path / "month of April.XLSM"  # the name says nothing
    path.write_bytes(TINY_FILE)
    assert read_month(path, TODAY) == read_month(str(path), TODAY) == read_month(TINY_FILE, TODAY)


PARTS = ZipFile(io.BytesIO(TINY_FILE)).namelist()


@settings(max_examples=examples(60))
@given(st.data())
def test_whatever_is_spoilt_in_a_file_there_is_a_report_and_no_traceback(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(PARTS))
    part = ZipFile(io.BytesIO(TINY_FILE)).read(name)
    start = data.draw(st.integers(0, len(part) - 1))
    end = start + data.draw(st.integers(0, 12))
    new = data.draw(
        st.one_of(
            st.binary(max_size=6), st.sampled_from([b"<", b">", b'"', b"-1", b"99999999", b"&x;", b"="])
        )
    )
    spoilt = part[:start] + new + part[end:]
    report(with_parts(TINY_FILE, {name: spoilt}))


@settings(max_examples=examples(60))
@given(st.binary(min_size=1, max_size=200), st.integers(0, len(TINY_FILE)))
def test_bytes_thrown_into_a_file_are_no_traceback_either(thrown: bytes, at: int) -> None:
    report(TINY_FILE[:at] + thrown + TINY_FILE[at + len(thrown) :])
