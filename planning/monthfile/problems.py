"""What is wrong with a month file, worded so that whoever filled it in can put it right."""

from collections.abc import Iterable
from dataclasses import dataclass

from planning.faults import sentence
from planning.faults.texts import one_line


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing to put right. Without a sheet it is the file as a whole, without a row the sheet as a whole.

    column: its letter; heading: as it stands in the file. value: what stands in the cell; why goes on from it;
    allowed is a sentence of its own.
    """

    sheet: str = ""
    row: int | None = None
    column: str = ""
    heading: str = ""
    value: str = ""
    why: str
    allowed: str = ""

    def __str__(self) -> str:
        text = sentence(self.value, self.why, self.allowed)
        return one_line(f"{self.place}: {text}" if self.place else text[:1].upper() + text[1:])

    @property
    def place(self) -> str:
        """Where it is, as a person looks it up: Offers, row 14, column C "Material"."""
        cell = " ".join(
            part
            for part in (f"column {self.column}" if self.column else "", f'"{self.heading}"')
            if part != '""'
        )
        row = f"row {self.row}" if self.row else ""
        return ", ".join(part for part in (self.sheet, row, cell) if part)


class MonthFileError(ValueError):
    """A file that is no month, with everything to put right in the order of its sheets and rows."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)


class CellError(ValueError):
    """A cell does not say what its column asks for."""

    def __init__(self, value: str, why: str, allowed: str = "") -> None:
        super().__init__(value, why, allowed)
        self.value = value
        self.why = why
        self.allowed = allowed


def refuse(why: str, allowed: str) -> MonthFileError:
    """Return the error for a file that is not even looked into."""
    return MonthFileError([Problem(why=why, allowed=allowed)])
