"""A cut sheet to scale: pieces by name, and every measure from the two edges that touch the machine."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from string import ascii_uppercase

from kits.drawing import (
    LOOKS,
    Anchor,
    Drawing,
    Line,
    Path,
    Point,
    Rect,
    Shape,
    Style,
    Text,
    arrow_both_ways,
    fitted,
    hatched,
    text_width,
)
from kits.guillotine.describe import describe
from kits.guillotine.marks import TEXT, Axis, above, beside, size
from kits.guillotine.tree import (
    Cause,
    Cut,
    Direction,
    Offcut,
    Part,
    Piece,
    Placed,
    is_trimming,
    pieces,
    walk,
)
from kits.measures import Ruler

LONGER_SIDE = 96.0  # mm; a drawing may be printed at any scale
SIZES = (
    3.8,
    3.5,
    3.2,
)  # no smaller: on a screen 320 px wide that is 8 px high, and letters stand for what does not fit
BASELINE = 0.36 * TEXT
EDGE = LOOKS[Style.EDGE].stroke_width
LINE = 4.8
TICK = 1.2
GAP = 1.0
INDENT = 5.0
CORNER = 2.2
ARROW = 24.0
GRAIN_ROOM = 7.0


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A cut sheet, what is written about it, and where it lies in the drawing.

    keys: the letters that stand for names too long to be written on their pieces.
    """

    tree: Part
    ruler: Ruler
    grain: str | None
    scale: float
    across: Axis
    down: Axis
    keys: Mapping[str, str]

    @property
    def left(self) -> float:
        return self.down.room + 2 * TICK + 2 * GAP + EDGE

    @property
    def top(self) -> float:
        return self.across.room + 2 * TICK + 2 * GAP + EDGE

    @property
    def right(self) -> float:
        return self.left + self.tree.width * self.scale

    @property
    def bottom(self) -> float:
        return self.top + self.tree.height * self.scale

    def rect(self, placed: Placed, style: Style) -> Rect:
        part, scale = placed.part, self.scale
        x, y = self.left + placed.x * scale, self.top + placed.y * scale
        return Rect(x, y, part.width * scale, part.height * scale, style)

    def size(self, part: Part) -> str:
        return size(part.width, part.height, self.ruler)


def draw_sheet(tree: Part, ruler: Ruler, title: str, grain: str | None = None) -> Drawing:
    """Return the drawing of a cut sheet.

    Its top edge is the one at the back stop, its left edge the one at the side guide. grain: the side it runs
    along, `width` or `height`; anything else draws no arrow. Measures are on the ruler's marks; a size that lies on
    none is said in millimetres.
    """
    scale = LONGER_SIDE / max(tree.width, tree.height)
    across, down = above(tree, ruler, scale), beside(tree, ruler, scale)
    sheet = _Sheet(tree, ruler, grain, scale, across, down, _keys(tree, scale))
    width = sheet.right + max(GAP + GRAIN_ROOM * (grain == "height"), _overhang(across))
    width = max(width, _room_for_key(sheet))
    key, height = _key(sheet, width)
    shapes = [
        *_leaves(sheet),
        *_first_cuts(sheet),
        *_edges(sheet),
        *_marks_above(sheet),
        *_marks_beside(sheet),
        *_grain(sheet),
        *key,
    ]
    return Drawing(width, height, title, describe(tree, ruler, grain), tuple(shapes))


def _overhang(across: Axis) -> float:
    return TEXT if across.upwards else text_width(across.marks[-1].label, TEXT) / 2


def _keys(tree: Part, scale: float) -> dict[str, str]:
    """Return a letter for each piece whose name does not fit on it."""
    too_long: list[str] = []
    for placed in pieces(tree):
        if isinstance(piece := placed.part, Piece):
            rect = Rect(0, 0, piece.width * scale, piece.height * scale, Style.PIECE)
            if piece.name not in too_long and not fitted([[piece.name]], _room(piece, rect), SIZES):
                too_long.append(piece.name)
    return {name: _letters(number) for number, name in enumerate(too_long)}


def _letters(number: int) -> str:
    """Return A, B ... Z, AA, AB ..."""
    before, letter = divmod(number, len(ascii_uppercase))
    return (_letters(before - 1) if before else "") + ascii_uppercase[letter]


# --- What lies on the sheet ---


def _leaves(sheet: _Sheet) -> Iterator[Shape]:
    for placed in walk(sheet.tree):
        if isinstance(placed.part, Piece):
            yield from _piece(sheet, placed, placed.part)
        elif isinstance(placed.part, Offcut):
            yield from _offcut(sheet, placed, placed.part)


def _piece(sheet: _Sheet, placed: Placed, piece: Piece) -> Iterator[Shape]:
    rect = sheet.rect(placed, Style.PIECE)
    yield rect
    if piece.turned:
        yield _corner(rect)
    room = _room(piece, rect)
    if piece.name in sheet.keys:
        yield from fitted([[sheet.keys[piece.name]]], room, SIZES)
        return
    turned = [[piece.name, sheet.size(piece), "turned"]] if piece.turned else []
    yield from fitted([*turned, [piece.name, sheet.size(piece)], [piece.name]], room, SIZES)


def _room(piece: Piece, rect: Rect) -> Rect:
    """Return where a piece has room for words beside the mark in its corner."""
    if not piece.turned:
        return rect
    if rect.width > rect.height:
        return Rect(rect.x + CORNER, rect.y, rect.width - 2 * CORNER, rect.height, Style.PIECE)
    return Rect(rect.x, rect.y + CORNER, rect.width, rect.height - 2 * CORNER, Style.PIECE)


def _corner(rect: Rect) -> Path:
    """Return the mark of a piece that lies turned: one corner filled."""
    return _triangle(rect.x + rect.width, rect.y, min(CORNER, rect.width / 3, rect.height / 3))


def _triangle(right: float, top: float, side: float) -> Path:
    return Path((((right - side, top), (right, top), (right, top + side)),), Style.CORNER, closed=True)


def _offcut(sheet: _Sheet, placed: Placed, offcut: Offcut) -> Iterator[Shape]:
    if offcut.cause is Cause.SPACING:
        yield sheet.rect(placed, Style.GAP)
        return
    rect = sheet.rect(placed, Style.OFFCUT)
    yield rect
    yield hatched(rect.x, rect.y, rect.width, rect.height)
    words = "trim" if offcut.cause is Cause.EDGE_TRIM else "left over"
    texts = fitted([[words, sheet.size(offcut)], [words]], rect, SIZES)
    yield from (_blank(text) for text in texts)
    yield from texts


def _blank(text: Text) -> Rect:
    """Return a clear ground for a text in the middle of hatching."""
    half, rise, drop = text_width(text.text, text.size) / 2 + 0.4, text.size * 0.86, text.size * 0.32
    if text.upwards:
        return Rect(text.x - rise, text.y - half, rise + drop, 2 * half, Style.BLANK)
    return Rect(text.x - half, text.y - rise, 2 * half, rise + drop, Style.BLANK)


def _first_cuts(sheet: _Sheet) -> Iterator[Shape]:
    """Yield the cuts that are made first once the edges are trimmed: they part the sheet from edge to edge."""
    first = next((p for p in walk(sheet.tree) if isinstance(p.part, Cut) and not is_trimming(p.part)), None)
    if first is None or not isinstance(first.part, Cut):
        return
    rect = sheet.rect(first, Style.SHEET)
    for before, mark in zip(first.part.parts, first.part.marks, strict=False):
        if isinstance(before, Offcut) and before.cause is Cause.SPACING:
            continue  # one line for the two cuts beside a gap: they would run together
        at = mark * sheet.scale
        if first.part.direction is Direction.UPRIGHT:
            yield Line(rect.x + at, rect.y, rect.x + at, rect.y + rect.height, Style.CUT)
        else:
            yield Line(rect.x, rect.y + at, rect.x + rect.width, rect.y + at, Style.CUT)


# --- What is written around it ---


def _edges(sheet: _Sheet) -> Iterator[Shape]:
    yield Rect(sheet.left, sheet.top, sheet.right - sheet.left, sheet.bottom - sheet.top, Style.OUTLINE)
    left, top = sheet.left - EDGE / 2, sheet.top - EDGE / 2  # beside the sheet, so that it hides nothing
    yield Path((((left, sheet.bottom), (left, top), (sheet.right, top)),), Style.EDGE)


def _marks_above(sheet: _Sheet) -> Iterator[Shape]:
    edge = sheet.top - EDGE
    for mark in sheet.across.marks:
        x = sheet.left + mark.at
        label_x = x if mark.label_at is None else sheet.left + mark.label_at
        yield _tick((x, edge), (x, edge - TICK), (label_x, edge - 2 * TICK))
        if mark.label_at is not None and sheet.across.upwards:
            place = (label_x + BASELINE, edge - 2 * TICK - GAP)
            yield Text(*place, mark.label, TEXT, Anchor.START, upwards=True)
        elif mark.label_at is not None:
            yield Text(label_x, edge - 2 * TICK - GAP, mark.label, TEXT, Anchor.MIDDLE)


def _marks_beside(sheet: _Sheet) -> Iterator[Shape]:
    edge = sheet.left - EDGE
    for mark in sheet.down.marks:
        y = sheet.top + mark.at
        label_y = y if mark.label_at is None else sheet.top + mark.label_at
        yield _tick((edge, y), (edge - TICK, y), (edge - 2 * TICK, label_y))
        if mark.label_at is not None:
            yield Text(edge - 2 * TICK - GAP, label_y + BASELINE, mark.label, TEXT, Anchor.END)


def _tick(*points: Point) -> Path:
    return Path((points,), Style.TICK)


def _grain(sheet: _Sheet) -> Iterator[Shape]:
    if sheet.grain == "height":
        x, y = sheet.right + GRAIN_ROOM - GAP, (sheet.top + sheet.bottom) / 2
        half = min(ARROW, sheet.bottom - sheet.top) / 2
        yield arrow_both_ways((x, y - half), (x, y + half))
        yield Text(x - GAP, y, "grain", TEXT, Anchor.MIDDLE, upwards=True, style=Style.NOTE)
    if sheet.grain == "width":
        x, y = (sheet.left + sheet.right) / 2, sheet.bottom + GRAIN_ROOM - GAP
        half = min(ARROW, sheet.right - sheet.left) / 2
        yield arrow_both_ways((x - half, y), (x + half, y))
        yield Text(x, y - GAP, "grain", TEXT, Anchor.MIDDLE, style=Style.NOTE)


def _room_for_key(sheet: _Sheet) -> float:
    """Return how wide a narrow sheet's drawing must be for what stands below it; no wider than a square sheet is."""
    lines = [GAP + text_width(_caption(sheet), TEXT)]
    lines += [GAP + INDENT + text_width(words, TEXT) for _, words in _named(sheet)]
    return min(max(lines) + GAP, LONGER_SIDE)


def _placed_pieces(sheet: _Sheet) -> list[Piece]:
    return [each.part for each in pieces(sheet.tree) if isinstance(each.part, Piece)]


def _caption(sheet: _Sheet) -> str:
    whole = size(sheet.tree.width, sheet.tree.height, sheet.ruler, unit=True)
    return f"{whole}, {len(_placed_pieces(sheet))} out"


def _named(sheet: _Sheet) -> Iterator[tuple[str, str]]:
    """Yield each name once with what the key says of it."""
    placed = _placed_pieces(sheet)
    for name in dict.fromkeys(piece.name for piece in placed):
        same = [piece for piece in placed if piece.name == name]
        yield name, f"{name}, {sheet.size(_as_given(same[0]))}, {len(same)} out"


def _key(sheet: _Sheet, width: float) -> tuple[list[Shape], float]:
    """Return what stands below the sheet, and where it ends."""
    y = sheet.bottom + LINE + GAP + GRAIN_ROOM * (sheet.grain == "width")
    shapes: list[Shape] = [_note(_caption(sheet), GAP, y, width)]
    for name, words in _named(sheet):
        y += LINE
        shapes.append(_note(sheet.keys.get(name, "·"), GAP, y, width))
        shapes.append(_note(words, GAP + INDENT, y, width))
    if any(piece.turned for piece in _placed_pieces(sheet)):
        y += LINE
        shapes += [_triangle(GAP + CORNER, y - CORNER, CORNER), _note("turned", GAP + INDENT, y, width)]
    return shapes, y + LINE / 2


def _as_given(piece: Piece) -> Piece:
    return Piece(piece.name, piece.height, piece.width) if piece.turned else piece


def _note(text: str, x: float, y: float, width: float) -> Text:
    """Return a line of text, shortened to end within the width."""
    shown = text
    while text_width(shown, TEXT) > width - x and len(shown) > 1:
        shown = shown.removesuffix("…")[:-1] + "…"
    return Text(x, y, shown, TEXT)
