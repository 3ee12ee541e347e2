"""The door: only a whole, plain workbook of bearable size comes in. Nothing is unpacked before it has passed.

Bounds. A roster of 1,000,000 rows is a file of some 100 MB whose sheet unpacks to about 1 GB. Sheets are read as a
stream, so their size costs time but no memory; every other part is held in memory and may not be that large. A part
of more than 1 MB that shrank to less than a 200th is no table anyone filled in.
"""

import io
import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from planning.monthfile.problems import MonthFileError, refuse

MB = 1_000_000
MOST_BYTES = 200 * MB
MOST_PARTS = 2_000
MOST_UNPACKED = 2_000 * MB
MOST_OF_OTHER_PART = 50 * MB
MOST_OF_TEXTS = 300 * MB  # the texts of a large roster, shared by its cells
MOST_SHRUNK = 200
SMALL_PART = MB

OLE = bytes.fromhex("D0CF11E0A1B11AE1")  # the container of .xls, and of workbooks with a password
PASSWORD = "EncryptedPackage".encode("utf-16-le")
SAVE_AS = "Open it in your spreadsheet and save it as .xlsx."
DAMAGED = (
    "the file is damaged or incomplete",
    "Copy or download it again, or save it again from your spreadsheet.",
)
PACKINGS = (
    ZIP_STORED,
    ZIP_DEFLATED,
)  # the only ones of Open Packaging Conventions (ECMA-376 part 2, from memory)
ENCRYPTED_PART = 0x1  # bit of a zip entry's flags


@contextmanager
def opened(source: Path | str | bytes) -> Iterator[ZipFile]:
    """Open a workbook for reading. Raises MonthFileError with the one reason why it is not even looked into."""
    try:
        with stream_of(source) as stream:
            refuse_other_kinds(stream)
            with ZipFile(stream) as archive:
                refuse_bombs(archive.infolist())
                refuse_other_archives(archive)
                refuse_macros(archive)
                yield archive
    except (BadZipFile, zlib.error, EOFError, NotImplementedError):
        raise refuse(*DAMAGED) from None


def stream_of(source: Path | str | bytes) -> BinaryIO:
    """Return the file's bytes as a stream, without reading them yet."""
    if isinstance(source, bytes):
        refuse_size(len(source))
        return io.BytesIO(source)
    path = Path(source)
    try:
        if path.is_dir():
            raise refuse(f"{path} is a folder", "Name the workbook itself.")
        if not path.is_file():
            raise refuse(f"there is no file {path}", "Look at the name and the folder.")
        refuse_size(path.stat().st_size)
        return path.open("rb")
    except (OSError, ValueError) as error:
        if isinstance(error, MonthFileError):
            raise
        why = getattr(error, "strerror", None) or "its name cannot be one"
        raise refuse(f"{path} cannot be opened ({why})", "Look at the name and at who may read it.") from None


def refuse_size(size: int) -> None:
    """Refuse nothing at all, and too much."""
    if size == 0:
        raise refuse("the file is empty (0 bytes)", "Copy or download it again.")
    if size > MOST_BYTES:
        much = f"the file has {size / MB:,.0f} MB"
        raise refuse(
            much,
            f"A month file has at most {MOST_BYTES // MB} MB; a month of a million boxes takes half that.",
        )


def refuse_other_kinds(stream: BinaryIO) -> None:
    """Refuse files whose first bytes say that they are something else, whatever their name."""
    start = stream.read(4096)
    stream.seek(0)
    if start.startswith(OLE):
        refuse_ole(stream)
    if start.startswith(b"%PDF"):
        raise refuse("the file is a PDF", "Choose the workbook it was printed from.")
    if start.startswith(b"PK"):
        return
    text = start.lstrip(b"\xef\xbb\xbf \r\n\t").lower()
    if text.startswith((b"<!doctype", b"<html", b"<table", b"<?xml")):
        raise refuse("the file is a web page or XML under the name of a workbook", SAVE_AS)
    if b"\0" not in start:
        raise refuse("the file is plain text, such as CSV, not a workbook", SAVE_AS)
    raise refuse("the file is not a workbook", "A month file is an .xlsx workbook.")


def refuse_ole(stream: BinaryIO) -> None:
    """Say whether it is the old format or a password that keeps the file shut."""
    if PASSWORD in stream.read(MOST_OF_OTHER_PART):
        raise refuse("the file is protected by a password", "Save it again without one.")
    raise refuse("the file is a workbook of the old kind (.xls)", SAVE_AS)


def refuse_bombs(parts: Sequence[ZipInfo]) -> None:
    """Refuse what would unpack to more than it can honestly hold. Zip never unpacks more than its list says."""
    if len(parts) > MOST_PARTS:
        raise refuse(f"the file is made of {len(parts):,} parts", f"A workbook has at most {MOST_PARTS:,}.")
    if len({part.filename for part in parts}) < len(parts):
        raise refuse(*DAMAGED)
    if any(part.compress_type not in PACKINGS for part in parts):
        raise refuse(*DAMAGED)
    if any(part.flag_bits & ENCRYPTED_PART for part in parts):
        raise refuse("the file is protected by a password", "Save it again without one.")
    total = sum(part.file_size for part in parts)
    if total > MOST_UNPACKED or any(is_bomb(part) for part in parts):
        why = f"the file is small but would unpack to {total / MB:,.0f} MB"
        raise refuse(why, "That is no table anyone filled in, so it was not opened.")


def is_bomb(part: ZipInfo) -> bool:
    """Tell whether a part is larger, or was packed tighter, than a filled-in table can be."""
    name = part.filename.casefold()
    most = MOST_OF_OTHER_PART
    if "worksheets/" in name:
        most = MOST_UNPACKED
    elif "sharedstrings" in name:
        most = MOST_OF_TEXTS
    shrunk = part.file_size > SMALL_PART and part.file_size > MOST_SHRUNK * max(part.compress_size, 1)
    return part.file_size > most or shrunk


def refuse_other_archives(archive: ZipFile) -> None:
    """Refuse zip archives that are no .xlsx."""
    names = set(archive.namelist())
    if "mimetype" in names and b"opendocument" in archive.read("mimetype")[:200]:
        raise refuse("the file is an OpenDocument file (.ods)", SAVE_AS)
    if "xl/workbook.bin" in names:
        raise refuse("the file is a binary workbook (.xlsb)", SAVE_AS)
    if "word/document.xml" in names or "ppt/presentation.xml" in names:
        raise refuse("the file is a text document or a presentation", "A month file is an .xlsx workbook.")
    if "[Content_Types].xml" not in names:
        raise refuse(
            "the file is a zip archive, not a workbook", "Unpack it, and choose the workbook inside."
        )


def refuse_macros(archive: ZipFile) -> None:
    """Refuse programs inside a workbook, whatever its name says."""
    names = [name.casefold() for name in archive.namelist()]
    held = any("vbaproject" in name or "macrosheets/" in name for name in names)
    types = archive.read("[Content_Types].xml").lower()
    if held or b"macroenabled" in types or b"vbaproject" in types:
        raise refuse("the workbook contains macros (.xlsm)", f"{SAVE_AS} That leaves them out.")
