"""Cut on what a text leaves over, and say what it is."""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from kits.guillotine import Cut, Direction, Offcut, Part, Piece, Placed
from kits.measures import Length, Ruler, format_exact
from kits.recipe.design import CutSheet, Design, PagePiece, WantedPiece
from kits.recipe.edit.ends import End, Kind, ends_of
from kits.recipe.edit.errors import EditError, EditName
from kits.recipe.edit.lines import after_sheets, put_cut, put_name
from kits.recipe.recipe import CutBy
from kits.recipe.text import Reading, read
from kits.recipe.text.lines import statements
from kits.recipe.text.words import name_text

OFFCUT = "offcut"


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """Where a text can be cut on, or what lies there named. number: from 0, in the order in which its sheet is cut.

    placed: a piece or an offcut with its place on the sheet.
    """

    sheet: CutSheet
    number: int
    placed: Placed
    end: End

    @property
    def part(self) -> Part:
        """What lies there."""
        return self.placed.part


def with_every_sheet(design: Design) -> tuple[CutSheet, ...]:
    """Return the sheets that a design cuts and, whole, those of its papers that it does not."""
    cut = {(sheet.role, sheet.number) for sheet in design.sheets}
    whole = (
        CutSheet(paper.role, number, Offcut(paper.width, paper.height))
        for paper in design.papers
        for number in range(1, paper.sheets + 1)
        if (paper.role, number) not in cut
    )
    return (*design.sheets, *whole)


def open_ends(text: str, reading: Reading) -> tuple[OpenEnd, ...]:
    """Return every end of a text with the part that lies there. reading: what `read` says of the text.

    The ends of a sheet whose lines cannot be followed are left out.
    """
    top, _ = statements(text, lambda problem: None)
    found = ends_of(top, reading.design)
    below = after_sheets(top, text.split("\n"))
    ends: list[OpenEnd] = []
    for sheet in with_every_sheet(reading.design):
        label = f"sheet {sheet.number} of {name_text(sheet.role)}"
        own = found.get((sheet.role, sheet.number), [End(Kind.ABSENT, below, 0, label=label)])
        ends += [OpenEnd(sheet, number, *pair) for number, pair in enumerate(_matched(sheet, own))]
    return tuple(ends)


def _matched(sheet: CutSheet, ends: Sequence[End]) -> list[tuple[Placed, End]]:
    """Pair the parts of a sheet with the ends of its lines: both stand in the order of cutting."""
    parts = list(_as_cut(Placed(sheet.tree, 0, 0, 0)))
    return list(zip(parts, ends, strict=True)) if len(parts) == len(ends) else []


def _as_cut(placed: Placed) -> Iterator[Placed]:
    """Yield pieces and offcuts as they come off, the far mark first."""
    part = placed.part
    if not isinstance(part, Cut):
        yield placed
        return
    upright = part.direction is Direction.UPRIGHT
    for start, inside in reversed(list(zip((0, *part.marks), part.parts, strict=True))):
        x, y = (placed.x + start, placed.y) if upright else (placed.x, placed.y + start)
        yield from _as_cut(Placed(inside, x, y, placed.level + 1))


def cut(text: str, sheet: str, number: int, direction: Direction, mark: Length) -> str:
    """Return the text with one more cut, made at an end of a sheet (by its label) with the mark from its own edge.

    What comes off is then its end `number` and what stays `number + 1`, both offcuts. Raises EditError.
    """
    reading = read(text)
    found = _find(text, reading, sheet, number)
    own = reading.design.ruler
    if isinstance(found.part, Piece):
        why = f"is finished there, so nothing is cut off it at {format_exact(mark, own.unit)}"
        allowed = "Name it offcut first, or choose another part."
        raise EditError(EditName.FINISHED, found.end.line, found.part.name, why, allowed)
    _check_mark(own, found, direction, mark)
    said = format_exact(mark, own.unit).removesuffix(f" {own.unit}")
    return put_cut(text, found.end, direction, [f"cut at {said}: {OFFCUT}", f"rest: {OFFCUT}"])


def name(text: str, sheet: str, number: int, piece: str, page: str = "") -> str:
    """Return the text in which an end is a piece for a page; an empty piece makes it an offcut.

    Raises EditError, also where the recipe wants no such piece in the size that lies there.
    """
    reading = read(text)
    found = _find(text, reading, sheet, number)
    wanted = suits(reading.design, found)
    if piece and (piece, page) not in {(each.piece, each.page) for each in wanted}:
        own = reading.design.ruler
        here = " x ".join(format_exact(side, own.unit) for side in (found.part.width, found.part.height))
        known = ", ".join(dict.fromkeys(each.piece for each in wanted)) or "none"
        why = f"{f'for page {page} ' if page else ''}is not wanted {here} from {found.sheet.role}"
        raise EditError(EditName.NOT_WANTED, found.end.line, piece, why, f"Pieces of that size: {known}.")
    leaf = name_text(piece) if piece else OFFCUT
    return put_name(text, found.end, f"{leaf} -> {name_text(page)}" if piece and page else leaf)


def suits(design: Design, found: OpenEnd) -> tuple[WantedPiece, ...]:
    """Return the pieces wanted in the size that lies there from its paper, either way round where they may turn."""
    size = (found.part.width, found.part.height)
    return tuple(
        each
        for each in design.pieces
        if each.role == found.sheet.role
        and each.cut_by is CutBy.SUBSCRIBER
        and (size == (each.width, each.height) or (each.turn and size == (each.height, each.width)))
    )


def marks(
    design: Design, found: OpenEnd, direction: Direction, still: Collection[tuple[str, str]]
) -> tuple[Length, ...]:
    """Return the marks at which a side of a piece that is `still` missing would come off or stay.

    First come those that give a whole piece, then the others; of either kind the far ones first.
    """
    upright = direction is Direction.UPRIGHT
    part = found.part
    along, across = (part.width, part.height) if upright else (part.height, part.width)
    whole: dict[Length, bool] = {}
    for wide, high in _sizes(design, found.sheet.role, still):
        side, other = (wide, high) if upright else (high, wide)
        for mark in (along - side, side):
            if other <= across and 0 < mark < along and design.ruler.holds(mark):
                whole[mark] = whole.get(mark, False) or other == across
    return tuple(sorted(whole, key=lambda mark: (whole[mark], mark), reverse=True))


def _sizes(design: Design, role: str, still: Collection[tuple[str, str]]) -> Iterator[tuple[Length, Length]]:
    """Yield the sizes of pieces that are still to be cut from a paper, each way round it may lie."""
    for each in design.pieces:
        if each.role == role and (each.piece, each.page) in still:
            yield each.width, each.height
            if each.turn:
                yield each.height, each.width


def missing(design: Design) -> Counter[tuple[str, str]]:
    """Return how many of each piece for each page the subscriber is still to cut; none that are all cut."""
    wanted: Counter[tuple[str, str]] = Counter()
    for each in design.pieces:
        if each.cut_by is CutBy.SUBSCRIBER:
            wanted[each.piece, each.page] += each.count
    for sheet in design.sheets:
        for placed in _as_cut(Placed(sheet.tree, 0, 0, 0)):
            if isinstance(placed.part, PagePiece):
                wanted[placed.part.name, placed.part.page] -= 1
    return +wanted


def _find(text: str, reading: Reading, sheet: str, number: int) -> OpenEnd:
    ends = [each for each in open_ends(text, reading) if each.sheet.label == sheet]
    if 0 <= number < len(ends):
        return ends[number]
    line = reading.lines.get(sheet, 1)
    if ends or sheet not in {each.label for each in with_every_sheet(reading.design)}:
        why = f"has no part {number + 1}" if ends else "is no sheet of the recipe"
        raise EditError(EditName.NO_PART, line, sheet, why, "Choose a part of a sheet again.")
    line = next((each.line for each in reading.problems if each.line >= line), line)
    allowed = "Mend the fault on this line first."
    raise EditError(EditName.PROBLEM, line, sheet, "has lines that cannot be followed", allowed)


def _check_mark(own: Ruler, found: OpenEnd, direction: Direction, mark: Length) -> None:
    def say(length: Length) -> str:
        return format_exact(length, own.unit)

    edge = found.part.width if direction is Direction.UPRIGHT else found.part.height
    last = (edge - 1) // own.step * own.step
    between = f"Cut between {say(own.step)} and {say(last)}." if last else "Nothing can be cut off it."
    if mark <= 0:
        name, why, allowed = EditName.CUT_AT_NOTHING, "cuts nothing off", between
    elif mark >= edge:
        is_edge = mark == edge
        name = EditName.CUT_AT_EDGE if is_edge else EditName.CUT_BEYOND_EDGE
        why = f"is {'at' if is_edge else 'beyond'} the edge: what is in hand reaches to {say(edge)}"
        allowed = between
    elif not own.holds(mark):
        below = mark // own.step * own.step
        near = [say(each) for each in (below, below + own.step) if 0 < each < edge]
        name, why = EditName.OFF_RULER, f"is not on a mark of the {own.name} ruler"
        allowed = f"The nearest marks are {' and '.join(near)}." if near else between
    else:
        return
    raise EditError(name, found.end.line, f"a cut at {say(max(mark, 0))}", why, allowed)
