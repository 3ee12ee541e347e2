"""What can still be won around a part that lies in a corner of the sheet.

After X. Viswanathan and A. Bagchi, Oper. Res. 41 (1993) 768-776: every plan grows from a part in its corner by
parts beside it and below it, so that the best of these, without regard to limits but less the prices on them,
bounds what any plan with that part in it is worth.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from kits.guillotine.limited.bound import PARTS
from kits.guillotine.limited.lengths import floors
from kits.guillotine.limited.question import Question
from kits.guillotine.points import Whole
from kits.guillotine.table import Table, Worths, raise_rows


class Outside(Protocol):
    """What is left of the sheet around a part in its corner.

    The rests beside and below a part are numbers that rise with what they can hold.
    """

    def beside(self, width: Whole) -> Whole:
        """Return the rests beside parts of these widths."""

    def below(self, height: Whole) -> Whole:
        """Return the rests below parts of these heights."""

    def most(self, beside: Whole, below: Whole) -> Worths:
        """Return what can be won at most outside parts with these rests, less the prices."""


@dataclass(frozen=True, slots=True)
class Prospect:
    """What can be won around a part at certain prices: a bound for every build.

    prices: for one of each kind. left: the worth of one less its price.
    """

    outside: Outside
    prices: Whole
    left: Whole
    constant: int


def prospect(question: Question, outside: Outside, prices: Whole) -> Prospect:
    """Return what can be won around parts at these prices."""
    return Prospect(outside, prices, question.worth * PARTS - prices, int(prices @ question.limits))


class TableOutside:
    """The best of what fits around each part, from the table of a sheet with prices."""

    def __init__(self, question: Question, table: Table) -> None:
        self.width, self.height = question.width, question.height
        self.columns = floors(table.across.lengths, question.width)
        self.rows = floors(table.down.lengths, question.height)
        self.worth = _around(question, table, self.columns, self.rows)

    def beside(self, width: Whole) -> Whole:
        """Return the rests beside parts of these widths."""
        return self.columns[self.width - width]

    def below(self, height: Whole) -> Whole:
        """Return the rests below parts of these heights."""
        return self.rows[self.height - height]

    def most(self, beside: Whole, below: Whole) -> Worths:
        """Return what can be won at most outside parts with these rests, less the prices."""
        return self.worth[beside, below]


class AreaOutside:
    """The area left, at the highest worth less price of any piece for its area: where a table is too dear."""

    def __init__(self, question: Question, prices: Whole) -> None:
        self.width, self.height = question.width, question.height
        rates = (question.worth * PARTS - prices) / question.areas
        self.rate = float(rates.max()) * (1 + 1e-12)  # never below the exact one

    def beside(self, width: Whole) -> Whole:
        """Return the rests beside parts of these widths."""
        return self.width - width

    def below(self, height: Whole) -> Whole:
        """Return the rests below parts of these heights."""
        return self.height - height

    def most(self, beside: Whole, below: Whole) -> Worths:
        """Return what can be won at most outside parts with these rests, less the prices."""
        width, height = self.width - beside.astype(np.int64), self.height - below.astype(np.int64)
        area = self.width * self.height - width * height
        most: Worths = np.ceil(area * self.rate).astype(np.int64)
        return most


def _around(question: Question, table: Table, columns: Whole, rows: Whole) -> Worths:
    """Return what fits around a part, by what is left beside and below it.

    Band by band as `kits.guillotine.table` fills its table: the part grows by one beside it as high as itself,
    or by one below it as wide as itself, or by nothing but waste.
    """
    across, down = table.across, table.down
    beside = np.ascontiguousarray(table.worth[:, rows[question.height - down.lengths]])
    below = np.ascontiguousarray(table.worth[columns[question.width - across.lengths]].T)
    around = np.zeros_like(table.worth)
    for band, cuts in zip(across.bands, across.cuts, strict=True):
        within = slice(band.start, band.stop)
        raise_rows(around, beside, around, cuts)
        raise_rows(around, around, beside, cuts)
        np.maximum(around[within], beside[within] + around[0], out=around[within])
        _spread(around, band)
        turned = np.ascontiguousarray(around[within].T)
        _grow_down(turned, np.ascontiguousarray(below[:, within]), table)
        around[within] = turned.T
        _spread(around, band)
    return around


def _grow_down(turned: Worths, below: Worths, table: Table) -> None:
    for band, cuts in zip(table.down.bands, table.down.cuts, strict=True):
        within = slice(band.start, band.stop)
        raise_rows(turned, below, turned, cuts)
        raise_rows(turned, turned, below, cuts)
        np.maximum(turned[within], below[within] + turned[0], out=turned[within])
        _spread(turned, band)


def _spread(worth: Worths, band: range) -> None:
    """Let each row of a band be worth at least what the row before is: more is left there."""
    for row in range(max(band.start, 1), band.stop):
        np.maximum(worth[row], worth[row - 1], out=worth[row])
