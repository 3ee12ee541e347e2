"""A row as the texts of its fields, and texts as a row: what forms show and what is typed into them."""

from collections.abc import Mapping
from dataclasses import MISSING
from datetime import date
from typing import Any

from kits.measures import LengthUnit, UnknownRulerError, ruler
from planning.faults import sentence
from planning.month import Club
from planning.monthfile.codecs import Habits
from planning.monthfile.problems import CellError
from planning.monthfile.sheets import Column, Sheet


def habits_of(club: Club) -> Habits:
    """Return the club's ways with lengths and money."""
    try:
        return Habits(ruler(club.ruler).unit, club.currency)
    except UnknownRulerError:
        return Habits(LengthUnit.INCH, club.currency)


def text_of_field(column: Column, value: Any, habits: Habits) -> str:
    """Return a field as the text its column reads."""
    cell = None if value is None else column.codec.write(value, habits)
    if cell is None:
        return ""
    return cell.isoformat() if isinstance(cell, date) else str(cell)


def field_texts(sheet: Sheet, row: Any, habits: Habits) -> dict[str, str]:
    """Return the texts of a row, by field."""
    return {
        column.field: text_of_field(column, getattr(row, column.field), habits) for column in sheet.columns
    }


def read_fields(
    sheet: Sheet, texts: Mapping[str, str], habits: Habits
) -> tuple[dict[str, Any], dict[str, str]]:
    """Return the fields that some texts stand for, and what is wrong with the others in words, by field."""
    fields: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for column in sheet.columns:
        text = texts.get(column.field, "")
        try:
            fields[column.field] = read_text(sheet, column, text, habits)
        except CellError as error:
            wrong[column.field] = sentence(error.value, error.why, error.allowed)
    return fields, wrong


def read_text(sheet: Sheet, column: Column, text: str, habits: Habits) -> Any:
    """Return the field a text stands for; an empty one what an empty cell means. Raises CellError."""
    if text.strip():
        return column.codec.read(text, habits)
    return empty_field(sheet, column)


def empty_field(sheet: Sheet, column: Column) -> Any:
    """Return what an empty cell means. Raises CellError where it must be filled in."""
    default = sheet.default(column)
    if default is MISSING:
        raise CellError("", "it is empty", f"Fill it in. {column.note}".strip())
    return default
