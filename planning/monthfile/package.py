"""Workbooks as bytes: the same workbook, the same bytes."""

import io
import shutil
from os import PathLike
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.writer.excel import ExcelWriter

EARLIEST = (1980, 1, 1, 0, 0, 0)  # a zip archive knows no earlier time
ORDINARY = 0o600 << 16  # rights of a part, where somebody unpacks the file


class TimelessZip(ZipFile):
    """An archive whose parts carry no time of writing."""

    def writestr(
        self,
        zinfo_or_arcname: str | ZipInfo,
        data: Any,
        compress_type: int | None = None,
        compresslevel: int | None = None,
    ) -> None:
        """Write a part from memory."""
        super().writestr(timeless(str(zinfo_or_arcname)), data, compress_type, compresslevel)

    def write(self, filename: str | PathLike[str], arcname: Any = None, *args: Any, **kwargs: Any) -> None:
        """Write a part from a file."""
        with open(filename, "rb") as source, self.open(timeless(str(arcname)), "w") as part:  # noqa: PTH123
            shutil.copyfileobj(source, part)


def timeless(name: str) -> ZipInfo:
    """Return the entry of a part."""
    entry = ZipInfo(name, EARLIEST)
    entry.compress_type = ZIP_DEFLATED
    entry.external_attr = ORDINARY
    return entry


def saved(workbook: Workbook) -> bytes:
    """Return a workbook as bytes that depend on nothing but the workbook (openpyxl's own `save` adds the time)."""
    buffer = io.BytesIO()
    ExcelWriter(workbook, TimelessZip(buffer, "w", ZIP_DEFLATED)).save()
    return buffer.getvalue()
