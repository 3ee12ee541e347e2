"""A column's cells as text: what `workbook.cells.put` makes of figures, without an object for each.

Some hundred cells are looked at together, and one by one only where something among them is not what it seems.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeAlias
from xml.sax.saxutils import escape

from planning.documents.workbook import looks
from planning.documents.workbook.cells import FORMULA_SIGNS, stored
from planning.documents.workbook.table import WORDS, Column, Look, Value
from planning.faults.texts import LONGEST_TEXT
from planning.monthfile.cells import storable
from planning.monthfile.codecs.codec import MOST_DIGITS
from planning.monthfile.codecs.days import FIRST_DAY

Styles: TypeAlias = Mapping[tuple[str, bool], int]
"""Style, and whether its text is marked as text because it looks like a formula -> its number in the workbook."""

ColumnWriter: TypeAlias = Callable[[Sequence[Any]], list[str]]
"""Some rows of a table -> what follows `<c r="A4"` in the column's cell of each."""

END = "</t></is></c>"
KEPT = ' xml:space="preserve"'
BETWEEN = "\x1f"  # texts looked at together; no text that may be written holds it
UNUSUAL = re.compile("[^\x1f -~\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
ASKS_FOR_CARE = (*(f"{BETWEEN}{sign}" for sign in (*FORMULA_SIGNS, " ")), f" {BETWEEN}", "_x")
PLAIN_UP_TO = LONGEST_TEXT // 2  # characters; one beyond U+FFFF counts as two
ALIKE = 4_096  # figures remembered: weights and dates come again and again
MOST = 10**MOST_DIGITS  # a cell keeps every digit of whole numbers below


def column_writer(column: Column[Any], styles: Styles) -> ColumnWriter:
    """Return how the cells of a column are written. Raises TypeError for a column whose look changes."""
    figure, look, needs_you = column.figure, column.look, column.needs_you
    if not isinstance(look, Look):
        raise TypeError(f"{column.key}: the cells of a list's column all look alike")
    plain = values_writer(look, look.value, styles)
    if needs_you is USUAL:
        return lambda rows: plain(map(figure, rows))
    marked = values_writer(look, f"{look} {looks.NEEDS_YOU}", styles)
    return lambda rows: [(marked if needs_you(row) else plain)([figure(row)])[0] for row in rows]


USUAL = Column.__dataclass_fields__["needs_you"].default


def values_writer(look: Look, style: str, styles: Styles) -> Callable[[Iterable[Any]], list[str]]:
    """Return how figures of a look are written in a style."""
    texts = texts_writer(styles[style, False], styles[style, True])
    return texts if look in WORDS else figures_writer(styles[style, False], texts)


# --- Texts ---


def texts_writer(number: int, quoted: int) -> Callable[[Iterable[str | None]], list[str]]:
    """Return how texts are written; one that looks like a formula gets the style numbered `quoted`."""
    empty, begin = f' s="{number}"/>', f' s="{number}" t="inlineStr"><is><t>'

    def write(values: Iterable[str | None]) -> list[str]:
        texts = [value or "" for value in values]
        together = BETWEEN + BETWEEN.join(texts) + BETWEEN
        if asks_for_care(together, texts):
            return [careful(text, quoted if text.startswith(FORMULA_SIGNS) else number) for text in texts]
        escaped = escape(together)[1:-1].split(BETWEEN)
        return [f"{begin}{text}{END}" if text else empty for text in escaped]

    return write


def asks_for_care(together: str, texts: list[str]) -> bool:
    """Tell whether any of some texts is more than its characters one by one."""
    return (
        any(sign in together for sign in ASKS_FOR_CARE)
        or UNUSUAL.search(together) is not None
        or together.count(BETWEEN) != len(texts) + 1
        or max(map(len, texts), default=0) > PLAIN_UP_TO
    )


def careful(text: str, style: int) -> str:
    """Write one text, whatever it is."""
    if not text:
        return f' s="{style}"/>'
    kept = KEPT if text != text.strip() or "\n" in text else ""
    return f' s="{style}" t="inlineStr"><is><t{kept}>{escape(storable(text))}{END}'


# --- Figures ---


def figures_writer(
    number: int, texts: Callable[[list[str]], list[str]]
) -> Callable[[Iterable[Value]], list[str]]:
    """Return how numbers, dates and checks are written; one that a cell would change is written as text."""
    begin, end = f' s="{number}"><v>', "</v></c>"

    @lru_cache(maxsize=ALIKE, typed=True)
    def other(value: Value) -> str:
        if value is None or isinstance(value, str):
            return texts([value or ""])[0]
        if not is_kept(value):
            return texts([f"{value:%-d %b %Y}" if isinstance(value, date) else str(value)])[0]
        figure, kind = stored(value)
        return f' s="{number}" t="{kind}"><v>{figure}{end}' if kind else f"{begin}{figure}{end}"

    def write(values: Iterable[Value]) -> list[str]:
        return [
            f"{begin}{value}{end}" if type(value) is int and -MOST < value < MOST else other(value)
            for value in values
        ]

    return write


def is_kept(value: int | Decimal | Fraction | date) -> bool:
    """Tell whether a cell keeps a figure: finite, of no more digits before its point, of a day that can be counted."""
    if isinstance(value, date):
        return value >= FIRST_DAY
    if isinstance(value, Decimal) and not value.is_finite():
        return False
    return bool(-MOST < value < MOST)
