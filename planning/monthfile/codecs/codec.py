"""What a codec is: how a column's cells become a field of a row, and how the field becomes a cell again."""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import ClassVar, Generic, TypeAlias, TypeVar

from kits.measures import LengthUnit, MeasureError
from planning.faults.texts import shown
from planning.monthfile.problems import CellError
from planning.monthfile.xlsx import Broken, Value, number_text

T = TypeVar("T")
Cell: TypeAlias = str | int | Decimal | date | None

TEXT = "@"
MOST_DIGITS = 15  # of a number in a cell; one with more is written as text


@dataclass(frozen=True, slots=True)
class Habits:
    """The club's ways in a file: the unit of a length that has none, and its money as headings name it."""

    unit: LengthUnit = LengthUnit.INCH
    money: str = "the club's money"


class Codec(ABC, Generic[T]):
    """One kind of cell. shown_as: its number format; width: of its column, in characters; wraps: it shows its lines."""

    shown_as: ClassVar[str] = TEXT
    width: ClassVar[int] = 14
    is_number: ClassVar[bool] = False
    wraps: ClassVar[bool] = False

    @abstractmethod
    def read(self, value: Value, habits: Habits) -> T:
        """Return the field a cell stands for; the cell is not empty. Raises CellError."""

    @abstractmethod
    def write(self, field: T, habits: Habits) -> Cell:
        """Return the cell that `read` takes for the field."""

    @property
    def choices(self) -> tuple[str, ...]:
        """What the cell may say, where that is a short list."""
        return ()


def text_of(value: Value) -> str:
    """Return what a cell shows, for messages and for columns that take text. Raises CellError for broken cells."""
    if isinstance(value, Broken):
        raise CellError(value.shown, value.why, value.allowed)
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, date):
        return f"{value:%-d %b %Y}"
    return value if isinstance(value, str) else number_text(value)


def typed_text(value: Value) -> str:
    """Return the text a person typed, or the number as text. Raises CellError for what can be neither."""
    if isinstance(value, bool | datetime | date):
        kind = "a yes or no" if isinstance(value, bool) else "a date"
        advice = "Format the cell as text and type it again."
        raise CellError(text_of(value), f"has become {kind} in the spreadsheet", advice)
    return text_of(value)


def measure_error(error: MeasureError) -> CellError:
    """Return a measure's complaint as a cell's."""
    return CellError(shown(error.read), f"is not {error.what}: {error.why}", f"{error.allowed}.")


def number_cell(number: int | Decimal) -> Cell:
    """Return a number as a cell keeps it without loss, or as text where a cell would round it."""
    text = number_text(Decimal(number))
    if len(text.replace(".", "").replace("-", "").strip("0")) > MOST_DIGITS:
        return text
    return Decimal(text) if "." in text else int(text)
