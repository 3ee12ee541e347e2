"""Opening a roster: what the file is by its first bytes, and its rows, one at a time."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from planning.faults.hints import bare_letters
from planning.monthfile.guard import OLE, opened, refuse_size, stream_of
from planning.monthfile.problems import refuse
from planning.monthfile.sheets import Sheet
from planning.monthfile.xlsx import Row, Workbook
from planning.rosterfile.text import Records, text_of, wrong_encoding

ZIP, PDF = b"PK", b"%PDF"
WEB_PAGE = (b"<!doctype", b"<html", b"<table", b"<?xml")


@dataclass(frozen=True, slots=True)
class Source:
    """Rows of a file with the name of what they stand on. width: how many cells a row of headings has, 0 for any."""

    title: str
    rows: Iterator[Row]
    width: Callable[[int], int] = lambda row: 0


@contextmanager
def open_roster(path: Path, sheet: Sheet) -> Iterator[Source]:
    """Open CSV or a workbook. Raises MonthFileError with the reason why it cannot be read, here or while it is read."""
    if is_text(path):
        try:
            with stream_of(path) as stream, text_of(stream) as text:
                records = Records(text, sheet)
                yield Source(path.name, records.rows(), lambda row: records.widths.get(row, 0))
        except UnicodeError:
            raise wrong_encoding(path) from None
    else:
        with opened(path) as archive:
            workbook = Workbook(archive)
            title = sheet_title(workbook, sheet)
            yield Source(title, workbook.rows(title))


def is_text(path: Path) -> bool:
    """Tell CSV from workbooks and from what else the guard of workbooks refuses. Raises MonthFileError."""
    with stream_of(path) as stream:
        start = stream.read(4096)
    refuse_size(len(start))
    if start.startswith((ZIP, OLE, PDF)) or start.lstrip(b"\xef\xbb\xbf \r\n\t").lower().startswith(WEB_PAGE):
        return False
    if b"\0" in start and not start.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise refuse("the file is neither CSV nor a workbook", "Save the roster as “CSV UTF-8”, or as .xlsx.")
    return True


def sheet_title(workbook: Workbook, sheet: Sheet) -> str:
    """Return the sheet of a workbook that holds the roster: by its title, or the only one there is."""
    named = [title for title in workbook.sheets if bare_letters(title) == bare_letters(sheet.title)]
    if named or len(workbook.sheets) == 1:
        return (named or list(workbook.sheets))[0]
    raise refuse(
        f"the workbook has {len(workbook.sheets)} sheets, none of them titled {sheet.title}",
        f"Give the sheet with the subscribers the title {sheet.title}.",
    )
