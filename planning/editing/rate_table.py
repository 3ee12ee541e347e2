"""A carrier's rate table as carriers print it: weights down, zones across, a price where they meet."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from planning.monthfile.codecs import Habits
from planning.monthfile.headings import LAST_HEADING_ROW
from planning.monthfile.problems import refuse
from planning.monthfile.sheets import BY_TABLE
from planning.monthfile.tables import is_blank
from planning.monthfile.xlsx import Row, Value

RATES = BY_TABLE["rates"]
PLACES = {column.field: at for at, column in enumerate(RATES.columns, 1)}


def rows_of_rate_table(
    rows: Iterable[Row], service: str, first: date | None, habits: Habits
) -> Iterator[Row]:
    """Yield a rate table as rows of the Rates sheet, its headings first; each keeps its row in the file.

    The first of the top rows with two cells names the zones; the first column below it holds the weights. first: the day
    from which the rates hold. An empty price is no rate. Raises MonthFileError where no row names zones.
    """
    kept = [(number, filled) for number, cells in rows if (filled := without_blanks(cells))]
    head = next((at for at, (_, cells) in enumerate(kept) if len(cells) > 1), None)
    if head is None or kept[head][0] > LAST_HEADING_ROW:
        raise refuse(
            "no zones were found in the first ten rows",
            "Write the zones beside each other, the weights below each other, and a price where they meet.",
        )
    yield 0, {at: column.title(habits) for at, column in enumerate(RATES.columns, 1)}
    below = kept[head + 1 :]
    weights = min((at for _, cells in below for at in cells), default=0)
    for column, zone in sorted(kept[head][1].items()):
        if column != weights:
            yield from rates_to(zone, column, weights, below, service, first)


def without_blanks(cells: dict[int, Value]) -> dict[int, Value]:
    """Return the cells that hold something."""
    return {at: value for at, value in cells.items() if not is_blank(value)}


def rates_to(
    zone: Value, column: int, weights: int, rows: Sequence[Row], service: str, first: date | None
) -> Iterator[Row]:
    """Yield the rates of one column."""
    for number, cells in rows:
        if column in cells:
            row: dict[int, Value] = {
                PLACES["service"]: service,
                PLACES["zone"]: zone,
                PLACES["up_to"]: cells.get(weights, ""),
                PLACES["price"]: cells[column],
            }
            yield number, row | ({PLACES["valid_from"]: first} if first else {})
