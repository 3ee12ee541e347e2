"""Write a design as text: one way of saying each thing, so that the same design is always the same text."""

from collections.abc import Iterable, Iterator

from kits.catalogue import Print
from kits.guillotine import Offcut, Part
from kits.measures import Length, LengthUnit, Ruler, format_exact
from kits.recipe.design import (
    FIRST_LAYER,
    CutSheet,
    Design,
    Opening,
    Page,
    PagePiece,
    Paper,
    Placement,
    Section,
    Trimmer,
    WantedPiece,
)
from kits.recipe.hand import Hand, in_hand
from kits.recipe.layout import in_row, mat_for
from kits.recipe.recipe import CutBy
from kits.recipe.text.leaves import CAUSES
from kits.recipe.text.words import name_text, sentence_text

INDENT = " " * 4
GAPS = (Section.SHEETS, Section.PAGES)  # in these a blank line stands before each thing


def write(design: Design) -> str:
    """Return the text of a design; `parse` reads an equal design from it.

    Of a faulty design it says as much as the form can, and parsing then points at the faults.
    """
    sections = {
        Section.HEAD: list(_head(design)),
        Section.PAPERS: [_paper(paper, design.ruler) for paper in design.papers],
        Section.PIECES: [_wanted(piece, design.paper(piece.role), design.ruler) for piece in design.pieces],
        Section.SHEETS: [line for lift in design.lifts for line in _lift(in_hand(lift), design.ruler)],
        Section.PAGES: [line for page in design.pages for line in _page(page, design)],
        Section.END: [""],
    }
    comments: dict[tuple[Section, int], list[str]] = {}
    for comment in design.comments:
        comments.setdefault((comment.section, comment.line), []).append(f"# {comment.text}".rstrip())
    blocks = [list(_with_comments(section, lines, comments)) for section, lines in sections.items()]
    return "\n".join(line for block in blocks for line in ("", *block) if block).strip("\n") + "\n"


def _with_comments(
    section: Section, lines: Iterable[str], comments: dict[tuple[Section, int], list[str]]
) -> Iterator[str]:
    for number, line in enumerate(lines):
        before = comments.get((section, number), [])
        indent = line[: len(line) - len(line.lstrip())]
        if number and section in GAPS and not indent:
            yield ""
        yield from (indent + comment for comment in before)
        if line:
            yield line


# --- What stands alone ---


def _head(design: Design) -> Iterator[str]:
    yield f"recipe {name_text(design.code)}: {sentence_text(design.title)}"
    if design.note:
        yield f"note: {sentence_text(design.note)}"
    yield f"ruler {design.ruler.name}"
    yield _trimmer(design.trimmer, design.ruler)


def _trimmer(trimmer: Trimmer, own: Ruler) -> str:
    return f"trimmer {_length(trimmer.length, own)}, takes {_sheets(trimmer.sheets)}"


def _sheets(count: int) -> str:
    return f"{count} {'sheet' if count == 1 else 'sheets'}"


def _paper(paper: Paper, own: Ruler) -> str:
    size = _size(paper.width, paper.height, own)
    parts = [f"paper {name_text(paper.role)}: {_sheets(paper.sheets)} {size}"]
    parts += ["print one way"] * (paper.print is Print.ONE_WAY)
    parts += [f"at least {paper.lightest}"] if paper.lightest else []
    parts += [f"at most {paper.heaviest}"] if paper.heaviest else []
    return ", ".join(parts)


def _wanted(piece: WantedPiece, paper: Paper | None, own: Ruler) -> str:
    size = _piece_size(piece.width, piece.height, own)
    line = f"piece {name_text(piece.piece)}: {piece.count} of {size} from {name_text(piece.role)}{_to(piece.page)}"
    by_itself = paper is None or paper.print is Print.NO_DIRECTION
    if piece.turn is not by_itself:
        line += ", either way" if piece.turn else ", not turned"
    return line + ", cut by the club" * (piece.cut_by is CutBy.CLUB)


def _to(page: str) -> str:
    return f" -> {name_text(page)}" if page else ""


# --- Sheets ---


def _lift(hand: Hand, own: Ruler) -> Iterator[str]:
    """Yield the line that takes sheets to hand, and what is done with them."""
    yield from _said(_labels(hand.sheets), hand, own)


def _labels(sheets: tuple[CutSheet, ...]) -> str:
    labels = [f"sheet {sheet.number} of {name_text(sheet.role)}" for sheet in sheets]
    return labels[0] if len(labels) == 1 else f"together: {', '.join(labels)}"


def _said(begins: str, hand: Hand, own: Ruler) -> Iterator[str]:
    """Yield a line and, if what is in hand is cut on, the lines of that."""
    leaf = hand.leaf
    if leaf is not None:
        yield f"{begins}: {_leaf(leaf)}"
        return
    yield begins
    for line in _done(hand, own):
        yield INDENT + line


def _done(hand: Hand, own: Ruler) -> Iterator[str]:
    """Yield what is done with what is in hand until nothing is left."""
    while hand.leaf is None:
        apart = hand.apart()
        if len(apart) > 1:
            for some in apart:
                yield from _said(_labels(some.sheets), some, own)
            return
        if hand.needs_turn:
            yield "turn"
            hand = hand.turned()
        mark = hand.mark
        off, hand = hand.cut_off()
        yield from _said(f"cut at {_length(mark, own)}", off, own)
    yield f"rest: {_leaf(hand.leaf)}"


def _leaf(part: Part) -> str:
    if isinstance(part, Offcut):
        return CAUSES[part.cause]
    if isinstance(part, PagePiece):
        return f"{name_text(part.name)}{_to(part.page)}"
    raise ValueError("every piece of a recipe's sheet is a PagePiece")


# --- Pages ---


def _page(page: Page, design: Design) -> Iterator[str]:
    own = design.ruler
    line = f"page {name_text(page.name)}: {_size(page.width, page.height, own)}"
    line += f", margin {_length(page.margin, own)}" if page.margin else ""
    yield line + (f", spacing {_length(page.spacing, own)}" if page.spacing else "")
    for placement in page.placements:
        size = _size_on_page(design, placement)
        yield INDENT + _placement(placement, size, page, own)
        for opening in placement.openings:
            yield INDENT * 2 + _opening(opening, size, own)


def _size_on_page(design: Design, placement: Placement) -> tuple[Length, Length]:
    """Return width and height of a piece as it lies on its page; that of nothing where it is not wanted."""
    wanted = design.wanted(placement.piece)
    if wanted is None:
        return (0, 0)
    return (wanted.height, wanted.width) if placement.turned else (wanted.width, wanted.height)


def _placement(placement: Placement, size: tuple[Length, Length], page: Page, own: Ruler) -> str:
    x = _start(placement.x, page.width, size[0], page.margin, own)
    y = _start(placement.y, page.height, size[1], page.margin, own)
    line = f"{name_text(placement.piece)} at {x}, {y}"
    line += f", layer {placement.layer}" if placement.layer != FIRST_LAYER else ""
    return line + ", turned" * placement.turned


def _start(start: Length, room: Length, size: Length, margin: Length, own: Ruler) -> str:
    """Return where a piece starts; where the ruler's unit cannot say that, the row in which it lies there."""
    text = _length(start, own)
    row = in_row(start, room, size, margin) if text.endswith("m") and size else None
    if row is None:
        return text
    return "centred" if row.places == 1 else f"place {row.number} of {row.places}"


def _opening(opening: Opening, size: tuple[Length, Length], own: Ruler) -> str:
    line = f"photo {_size(opening.width, opening.height, own)}"
    if line.endswith("m") and mat_for(opening.width, opening.height, opening.border) == size:
        line = "photo that fits"
    if opening.x is not None and opening.y is not None:
        line += f" at {_length(opening.x, own)}, {_length(opening.y, own)}"
    return line + (f", border {_length(opening.border, own)}" if opening.border else "")


# --- Lengths ---


def _length(length: Length, own: Ruler) -> str:
    """Return a length exactly: a number alone if the ruler's unit can say it, else with its unit."""
    return format_exact(length, own.unit).removesuffix(f" {own.unit}")


def _size(width: Length, height: Length, own: Ruler) -> str:
    """Return the size of a sheet, page or photo in one unit."""
    sides = [_length(side, own) for side in (width, height)]
    if any(side.endswith("m") for side in sides):
        sides = [format_exact(side, LengthUnit.MM) for side in (width, height)]
        return f"{sides[0].removesuffix(' mm')} x {sides[1]}"
    return " x ".join(sides)


def _piece_size(width: Length, height: Length, own: Ruler) -> str:
    """Return the size of a piece, each side in the ruler's unit where that can say it."""
    first, second = _length(width, own), _length(height, own)
    if second.endswith("m") and not first.endswith("m"):
        first = f"{first} {own.unit}"  # or the second side's unit would be taken for that of both
    return f"{first} x {second}"
