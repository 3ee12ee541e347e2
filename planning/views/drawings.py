"""The drawings of the pages, on the same display list as those that are printed.

Each comes in two sizes: with its words for a step's own page, and as a small mark for the month page.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from kits.drawing import Anchor, Drawing, Group, Line, Rect, Shape, Style, Text, fitted, hatched
from planning.calendar import DAY

WIDE, LOW = 120.0, 60.0
LETTERS = 3.2
NAMES = 9.0  # room for names below bars
NEED = "need"  # the group the page's stylesheet sets in the colour that means "needs you"
DARK = (Style.NOTE, Style.CORNER)


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar: what it stands for, how long it is, against how much; needs: it waits for somebody."""

    name: str
    value: float
    limit: float = 0
    needs: bool = False


def upright_bars(title: str, bars: Sequence[Bar], description: str, *, small: bool = False) -> Drawing:
    """Draw bars side by side, each with its limit as a line where it has one."""
    room = LOW - (0 if small else NAMES)
    most = max((max(bar.value, bar.limit) for bar in bars), default=0) or 1
    step = WIDE / max(len(bars), 3)
    shapes: list[Shape] = [Line(0, room - 0.2, WIDE, room - 0.2, Style.OUTLINE)]
    for number, bar in enumerate(bars):
        shapes += upright_bar(bar, number * step, step, room, most, small)
    return Drawing(WIDE, LOW, title, description, tuple(shapes))


def upright_bar(bar: Bar, x: float, step: float, room: float, most: float, small: bool) -> Iterator[Shape]:
    """Yield one bar, its limit and its name."""
    scale = (room - 2) / most
    left, wide = x + step * 0.18, step * 0.64
    high = bar.value * scale
    if bar.limit:
        yield Rect(left, room - bar.limit * scale, wide, bar.limit * scale, Style.SHEET)
    mark = Rect(left, room - high, wide, high, Style.NOTE)
    yield Group((mark,), NEED) if bar.needs else mark
    if bar.name and not small:
        below = Rect(x - 0.5, room, step + 1, NAMES, Style.BLANK)
        yield from fitted([bar.name.split(), [bar.name]], below, (LETTERS, 2.8, 2.4))


@dataclass(frozen=True, slots=True)
class Part:
    """Part of a bar lying on its side: what it stands for, how long it is, and its tone."""

    name: str
    size: float
    style: Style


@dataclass(frozen=True, slots=True)
class Row:
    """A bar lying on its side, made of parts that follow each other."""

    name: str
    parts: tuple[Part, ...]


def lying_bars(title: str, rows: Sequence[Row], description: str, *, small: bool = False) -> Drawing:
    """Draw a row for each bar, its parts in tones that differ in grey too, with their words where there is room."""
    most = max((sum(part.size for part in row.parts) for row in rows), default=0) or 1
    high = 12.0 if small else 16.0
    shapes: list[Shape] = []
    for number, row in enumerate(rows):
        shapes += lying_bar(row, number * high, high, WIDE / most, small)
    return Drawing(WIDE, max(len(rows), 1) * high + 0.5, title, description, tuple(shapes))


def lying_bar(row: Row, top: float, high: float, scale: float, small: bool) -> Iterator[Shape]:
    """Yield one lying bar with its name above."""
    title = 0.0 if small else LETTERS * 1.6
    if not small:
        yield Text(0, top + LETTERS * 1.2, row.name, LETTERS)
    x = 0.2
    for part in row.parts:
        wide = max(0.0, part.size * scale - 0.4)
        if wide:
            yield from part_shapes(part, Rect(x, top + title, wide, high - title - 2, part.style), small)
        x += part.size * scale


def part_shapes(part: Part, room: Rect, small: bool) -> Iterator[Shape]:
    """Yield one part, with its words where there is room."""
    outline = Rect(room.x, room.y, room.width, room.height, Style.OUTLINE)
    if part.style is Style.HATCH:
        yield hatched(room.x, room.y, room.width, room.height)
    else:
        yield room
    yield outline
    if not small:
        ink = Style.BLANK if part.style in DARK else Style.LABEL
        yield from (replace(word, style=ink) for word in fitted([[part.name]], room, (LETTERS, 2.6)))


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of days: from the first to the last, which is when it is needed."""

    name: str
    first: date
    last: date
    needs: bool = False


def timeline(
    title: str, spans: Sequence[Span], today: date, description: str, *, small: bool = False
) -> Drawing:
    """Draw each span against the calendar, with today as an upright line."""
    days = [today, *(span.first for span in spans), *(span.last for span in spans)]
    first, last = min(days), max(days) + DAY
    scale = WIDE / max((last - first).days, 1)
    high = 12.0 if not small else LOW / max(len(spans), 4)
    bottom = max(len(spans), 1) * high + (LETTERS * 2 if not small else 0)
    shapes: list[Shape] = []
    for number, span in enumerate(spans):
        shapes += span_shapes(span, first, number * high, high, scale, small)
    at = (today - first).days * scale + 0.3
    shapes.append(Line(at, 0, at, bottom, Style.CUT))
    if not small:
        shapes.append(Text(at + 1, bottom - 0.8, f"today, {today:%-d %b}", LETTERS))
    return Drawing(WIDE, bottom, title, description, tuple(shapes))


def span_shapes(
    span: Span, first: date, top: float, high: float, scale: float, small: bool
) -> Iterator[Shape]:
    """Yield one span and its name."""
    x = (span.first - first).days * scale
    wide = max((span.last - span.first).days, 1) * scale
    words = 0.0 if small else LETTERS * 1.5
    mark = Rect(x, top + words, wide, high - words - 2, Style.NOTE)
    yield Group((mark,), NEED) if span.needs else mark
    if not small:
        late_half = x > WIDE / 2
        anchor, at = (Anchor.END, x + wide) if late_half else (Anchor.START, x)
        yield Text(at, top + LETTERS * 1.1, span.name, LETTERS, anchor)


def stack(title: str, layers: Sequence[tuple[str, float]], depth: float, description: str) -> Drawing:
    """Draw what lies in a carton, from the bottom, to the scale of its inside depth (mm)."""
    high = max(depth, sum(size for _, size in layers)) or 1
    scale = (LOW - 6) / high
    floor = LOW - 2
    shapes: list[Shape] = []
    y = floor
    for number, (name, size) in enumerate(layers):
        y -= size * scale
        room = Rect(14, y, WIDE - 28, size * scale, Style.PIECE if number % 2 else Style.PHOTO)
        shapes += [room, *fitted([[name]], room, (LETTERS, 2.6, 2.0))]
    top = floor - depth * scale
    shapes += [
        Line(12, top, 12, floor, Style.EDGE),
        Line(WIDE - 12, top, WIDE - 12, floor, Style.EDGE),
        Line(12, floor, WIDE - 12, floor, Style.EDGE),
    ]
    return Drawing(WIDE, LOW, title, description, tuple(shapes))
