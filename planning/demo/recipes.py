"""Five recipes, each a spread of two pages, drawn on the 1/8 in ruler.

The pieces of every role come out of its posted sheets by straight cuts from edge to edge; roles without posted sheets
are cut by the club. Most sheets are used to the last corner.
"""

from kits.measures import parse_length
from kits.recipe import CutBy, PaperRole, Recipe, RecipePiece

RECIPES = (
    Recipe(code="GATE", title="Garden gate", note="Three photos of 4 x 6 in."),
    Recipe(code="MARKET", title="Market day", note="Three photos of 4 x 6 in and two of 5 3/4 in square."),
    Recipe(code="LETTERS", title="Letters home", note="The pockets hold folded letters; cut by the club."),
    Recipe(code="KITE", title="Kite weather", note="Fly the tail over both pages."),
    Recipe(code="TABLE", title="Long table", note="Two photos of 5 x 7 in."),
)


def role(recipe: str, name: str, width: str, height: str, sheets: int) -> PaperRole:
    """Return a paper role."""
    return PaperRole(
        recipe=recipe, role=name, width=parse_length(width), height=parse_length(height), sheets=sheets
    )


ROLES = (
    role("GATE", "ground", "12 in", "12 in", 2),
    role("GATE", "mats", "12 in", "12 in", 1),
    role("GATE", "print", "12 in", "12 in", 1),
    role("MARKET", "mats", "12 in", "12 in", 1),
    role("MARKET", "print", "12 in", "12 in", 1),
    role("MARKET", "accent", "12 in", "12 in", 1),
    role("LETTERS", "ground", "12 in", "12 in", 2),
    role("LETTERS", "overlay", "210 mm", "297 mm", 1),
    role("LETTERS", "mats", "210 mm", "297 mm", 1),
    role("LETTERS", "pockets", "700 mm", "1000 mm", 0),
    role("KITE", "print", "12 in", "12 in", 1),
    role("KITE", "accent", "12 in", "12 in", 1),
    role("TABLE", "mats", "12 in", "12 in", 1),
    role("TABLE", "print", "12 in", "12 in", 1),
    role("TABLE", "tabs", "450 mm", "640 mm", 0),
)

ONE_WAY = ("print", "accent", "tabs")  # lettering and flowers have a top


def piece(recipe: str, name: str, size: str, count: int, page: str) -> RecipePiece:
    """Return `count` equal pieces on a page. name: role and piece. size: width x height in inches."""
    paper, _, title = name.partition(": ")
    width, height = (parse_length(side) for side in size.split(" x "))
    return RecipePiece(
        recipe=recipe,
        role=paper,
        piece=title,
        width=width,
        height=height,
        count=count,
        page=page,
        cut_by=CutBy.CLUB if paper in ("pockets", "tabs") else CutBy.SUBSCRIBER,
        turn=paper not in ONE_WAY,
    )


PIECES = (
    piece("GATE", "ground: ground", "12 x 12", 1, "left"),
    piece("GATE", "ground: ground", "12 x 12", 1, "right"),
    piece("GATE", "mats: photo mat", "4 1/4 x 6 1/4", 2, "left"),
    piece("GATE", "mats: photo mat", "4 1/4 x 6 1/4", 1, "right"),
    piece("GATE", "mats: story card", "3 1/2 x 4", 3, "right"),
    piece("GATE", "mats: caption strip", "6 1/4 x 1 1/2", 1, "left"),
    piece("GATE", "mats: gate tag", "2 1/4 x 4", 1, "left"),
    piece("GATE", "mats: corner label", "2 1/4 x 1 3/4", 1, "right"),
    piece("GATE", "print: border band", "12 x 2", 1, "left"),
    piece("GATE", "print: border band", "12 x 2", 1, "right"),
    piece("GATE", "print: blossom square", "4 x 4", 3, "left"),
    piece("GATE", "print: blossom square", "4 x 4", 3, "right"),
    piece("MARKET", "mats: photo mat", "4 1/2 x 6 1/2", 2, "left"),
    piece("MARKET", "mats: photo mat", "4 1/2 x 6 1/2", 1, "right"),
    piece("MARKET", "mats: pocket card", "3 x 4", 3, "right"),
    piece("MARKET", "mats: market tag", "2 1/2 x 5 1/2", 1, "left"),
    piece("MARKET", "mats: price strip", "6 1/2 x 1", 1, "left"),
    piece("MARKET", "print: awning strip", "1 1/2 x 12", 2, "left"),
    piece("MARKET", "print: awning strip", "1 1/2 x 12", 2, "right"),
    piece("MARKET", "print: stall square", "6 x 6", 1, "left"),
    piece("MARKET", "print: stall square", "6 x 6", 1, "right"),
    piece("MARKET", "accent: stamp square", "3 x 3", 4, "left"),
    piece("MARKET", "accent: stamp square", "3 x 3", 4, "right"),
    piece("MARKET", "accent: pocket", "6 x 4", 1, "left"),
    piece("MARKET", "accent: pocket", "6 x 4", 2, "right"),
    piece("LETTERS", "ground: ground", "12 x 12", 1, "left"),
    piece("LETTERS", "ground: ground", "12 x 12", 1, "right"),
    piece("LETTERS", "overlay: veil", "8 x 5 3/4", 1, "left"),
    piece("LETTERS", "overlay: half veil", "4 x 5 3/4", 2, "right"),
    piece("LETTERS", "mats: letter mat", "4 x 5 3/4", 2, "left"),
    piece("LETTERS", "mats: letter mat", "4 x 5 3/4", 2, "right"),
    piece("LETTERS", "pockets: letter pocket", "5 1/2 x 8 1/2", 2, "right"),
    piece("KITE", "print: cloud panel", "4 x 6", 2, "left"),
    piece("KITE", "print: kite square", "4 x 4", 3, "right"),
    piece("KITE", "print: sky card", "4 x 3", 2, "left"),
    piece("KITE", "print: sky card", "4 x 3", 2, "right"),
    piece("KITE", "accent: tail strip", "12 x 1", 2, "left"),
    piece("KITE", "accent: tail strip", "12 x 1", 2, "right"),
    piece("KITE", "accent: kite mat", "4 x 5 1/4", 3, "right"),
    piece("KITE", "accent: tail tag", "4 x 2 3/4", 3, "left"),
    piece("TABLE", "mats: photo mat", "5 1/4 x 7 1/4", 1, "left"),
    piece("TABLE", "mats: photo mat", "5 1/4 x 7 1/4", 1, "right"),
    piece("TABLE", "mats: place strip", "1 1/2 x 6", 2, "right"),
    piece("TABLE", "mats: menu card", "3 x 4 3/4", 3, "left"),
    piece("TABLE", "print: runner", "12 x 4", 1, "left"),
    piece("TABLE", "print: runner", "12 x 4", 1, "right"),
    piece("TABLE", "print: napkin", "4 x 4", 3, "right"),
    piece("TABLE", "tabs: date tab", "1 1/2 x 2 1/4", 4, "left"),
)
