"""Month files for the tests: the tiny month's own with some cells typed over, and ones typed by hand."""

import io
from collections.abc import Callable
from datetime import date
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

import openpyxl
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from planning.monthfile import MonthFileError, month_to_workbook, read_month
from tests.support.months import tiny_month

TODAY = date(2027, 3, 1)
TINY_FILE = month_to_workbook(tiny_month())

Edit = Callable[[Workbook], None]


def edited(*edits: Edit) -> bytes:
    """Return the tiny month's file with some edits."""
    workbook = openpyxl.load_workbook(io.BytesIO(TINY_FILE))
    for edit in edits:
        edit(workbook)
    return saved(workbook)


def saved(workbook: Workbook) -> bytes:
    """Return a workbook as bytes."""
    buffer = io.BytesIO()
    workbook.save(buffer)
    return buffer.getvalue()


def typed(sheet: str, cell: str, value: Any, shown_as: str | None = None) -> Edit:
    """Return the edit that types something over a cell."""

    def edit(workbook: Workbook) -> None:
        page = workbook[sheet]
        assert isinstance(page, Worksheet)
        page[cell] = value
        if shown_as is not None:
            page[cell].number_format = shown_as

    return edit


def report(file: bytes) -> list[str]:
    """Return what is wrong with a file, line by line, nothing if it is right."""
    try:
        read_month(file, TODAY)
    except MonthFileError as error:
        return str(error).split("\n")
    return []


def with_parts(file: bytes, **parts: bytes | None) -> bytes:
    """Return a workbook with some of its parts exchanged, added, or taken out; `__` in a name is a slash, `_0` a dot."""
    names = {name.replace("__", "/").replace("_0", "."): data for name, data in parts.items()}
    buffer = io.BytesIO()
    with ZipFile(io.BytesIO(file)) as old, ZipFile(buffer, "w", ZIP_DEFLATED) as new:
        for name in old.namelist():
            if name not in names:
                new.writestr(name, old.read(name))
        for name, data in names.items():
            if data is not None:
                new.writestr(name, data)
    return buffer.getvalue()
