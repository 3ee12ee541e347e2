"""Month files for the tests: the tiny month's own with some cells typed over, and ones typed by hand."""

import io
from collections.abc import Callable, Mapping
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


def with_parts(file: bytes, parts: Mapping[str, bytes]) -> bytes:
    """Return a workbook with some of its parts exchanged or added."""
    buffer = io.BytesIO()
    with ZipFile(io.BytesIO(file)) as old, ZipFile(buffer, "w", ZIP_DEFLATED) as new:
        for name, data in ({part: old.read(part) for part in old.namelist()} | dict(parts)).items():
            new.writestr(name, data)
    return buffer.getvalue()
