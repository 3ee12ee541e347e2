"""A cut sheet in words, for those who cannot see its drawing."""

from collections import Counter

from kits.guillotine.marks import side, size
from kits.guillotine.tree import Cause, Offcut, Part, Piece, Placed, count_cuts, offcuts, pieces
from kits.measures import Ruler


def describe(tree: Part, ruler: Ruler, grain: str | None = None) -> str:
    """Return what the sheet is cut into, what is left over, the number of cuts and the way the grain runs."""
    placed = pieces(tree)
    sentences = [
        f"Sheet {side(tree.width, ruler, unit=True)} wide, {side(tree.height, ruler, unit=True)} high.",
        f"{_many(len(placed), 'piece')} by {_many(count_cuts(tree), 'cut')}{_pieces(placed, ruler)}.",
        _left_over(tree, ruler),
    ]
    if grain in ("width", "height"):
        sentences.append(f"The grain runs along the {grain}.")
    return " ".join(sentences)


def _pieces(placed: tuple[Placed, ...], ruler: Ruler) -> str:
    counts = Counter(each.part for each in placed if isinstance(each.part, Piece))
    listed = [
        f"{count} {piece.name} {_size(piece, ruler)}{' turned' if piece.turned else ''}"
        for piece, count in counts.items()
    ]
    return f": {', '.join(listed)}" if listed else ""


def _left_over(tree: Part, ruler: Ruler) -> str:
    left = [each.part for each in offcuts(tree) if _is_left_over(each.part)]
    if not left:
        return "Nothing is left over."
    left.sort(key=lambda part: -part.width * part.height)
    return f"Left over: {', '.join(_size(part, ruler) for part in left)}."


def _is_left_over(part: Part) -> bool:
    return isinstance(part, Offcut) and part.cause is Cause.LEFT_OVER


def _size(part: Part, ruler: Ruler) -> str:
    return size(part.width, part.height, ruler)


def _many(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"
