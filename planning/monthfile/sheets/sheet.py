"""What a sheet of the month file is: a table of the month, and a column for each field of its rows."""

from dataclasses import MISSING, dataclass, fields
from typing import Any

from planning.faults import TITLES
from planning.monthfile.codecs import Codec, Habits

Anything = Any  # the type of a field is known to its codec alone


@dataclass(frozen=True, slots=True)
class Column:
    """One field of a row: what stands above it, how its cells read, and what to type there.

    heading: may say {money} for the club's currency. note: how to fill it in, with an example. empty: what an empty
    cell means, where the row itself has no default.
    """

    field: str
    heading: str
    codec: Codec[Anything]
    note: str
    empty: str = ""

    def title(self, habits: Habits) -> str:
        """Return the heading as it stands in a club's file."""
        return self.heading.format(money=habits.money)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table of the month. needed: a file without this sheet is no month. missing: its rows in a file without it."""

    table: str
    row_type: type[Anything]
    columns: tuple[Column, ...]
    needed: bool = False
    missing: tuple[Anything, ...] = ()

    def __post_init__(self) -> None:
        own = [column.field for column in self.columns]
        if own != [one.name for one in fields(self.row_type)]:
            raise ValueError(
                f"the columns of {self.title} are not the fields of {self.row_type.__name__}: {own}"
            )

    @property
    def title(self) -> str:
        """What its tab says."""
        return TITLES[self.table]

    def default(self, column: Column) -> Anything:
        """Return what an empty cell of a column means, MISSING where the row has no default for it."""
        return next(one.default for one in fields(self.row_type) if one.name == column.field)

    def is_needed(self, column: Column) -> bool:
        """Tell whether the cells of a column must be filled in."""
        return self.default(column) is MISSING and not column.empty
