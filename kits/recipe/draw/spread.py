"""Pages with what lies on them: papers, pieces in their layers, and places for photos."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from kits.drawing import Drawing, Group, Rect, Shape, Style, Text
from kits.measures import Length
from kits.recipe.check.faults import Box
from kits.recipe.design import Design, Page, Placement
from kits.recipe.draw.grounds import ground
from kits.recipe.draw.labels import GAP, LINE, NOTE, label, shortened
from kits.recipe.draw.visible import largest_visible

LONGER_SIDE = 96.0  # mm; a drawing may be printed at any scale
BETWEEN = 4.0  # between the pages of a spread
SWATCH = 7.0


@dataclass(frozen=True, slots=True)
class _Laid:
    """A piece on a page, and what is drawn above it."""

    placement: Placement
    role: str
    box: Box
    above: tuple[Box, ...]


def draw_page(design: Design, page: Page) -> Drawing:
    """Return the drawing of one page."""
    shapes, height = _page(design, page, _scale([page]))
    width = page.width * _scale([page]) + 2 * GAP
    title = f"Page {page.name} of recipe {design.title or design.code}"
    key, bottom = _key(design, [page], width, height)
    return Drawing(width, bottom, title, describe_page(design, page), (*shapes, *key))


def draw_spread(design: Design) -> Drawing:
    """Return the drawing of all pages side by side. Raises ValueError where there are none.

    On a narrow screen rather show the pages one below the other, each by `draw_page`.
    """
    if not design.pages:
        raise ValueError("a spread needs a page to be drawn")
    scale, x, height = _scale(design.pages), 0.0, 0.0
    groups = []
    for page in design.pages:
        shapes, bottom = _page(design, page, scale)
        groups.append(Group(tuple(shapes), "page", x=x))
        x, height = x + page.width * scale + BETWEEN, max(height, bottom)
    width = x - BETWEEN + 2 * GAP
    key, bottom = _key(design, design.pages, width, height)
    words = " ".join(describe_page(design, page) for page in design.pages)
    return Drawing(width, bottom, f"Spread of recipe {design.title or design.code}", words, (*groups, *key))


def _scale(pages: Sequence[Page]) -> float:
    return LONGER_SIDE / max(side for page in pages for side in (page.width, page.height))


def _page(design: Design, page: Page, scale: float) -> tuple[list[Shape], float]:
    """Return a page, and where it ends."""
    paper = Rect(GAP, LINE + GAP, page.width * scale, page.height * scale, Style.SHEET)
    name = shortened(f"page {page.name}", NOTE, paper.width)
    shapes: list[Shape] = [Text(GAP, LINE - GAP / 2, name, NOTE, style=Style.NOTE), paper]
    for laid in _laid(design, page):
        shapes += _piece(design, laid, page, paper, scale)
    shapes.append(Rect(paper.x, paper.y, paper.width, paper.height, Style.OUTLINE))
    return shapes, paper.y + paper.height


def _laid(design: Design, page: Page) -> Iterator[_Laid]:
    """Yield what lies on a page from the lowest layer up, each with what hides it."""
    sizes = {each.piece: (each.width, each.height, each.role) for each in design.pieces}
    known = sorted((each for each in page.placements if each.piece in sizes), key=lambda each: each.layer)
    boxes = [_box(placement, *sizes[placement.piece][:2]) for placement in known]
    for index, placement in enumerate(known):
        photos = [_photo(placement, boxes[index], number) for number in range(len(placement.openings))]
        yield _Laid(placement, sizes[placement.piece][2], boxes[index], (*photos, *boxes[index + 1 :]))


def _box(placement: Placement, width: Length, height: Length) -> Box:
    size = (height, width) if placement.turned else (width, height)
    return Box(placement.x, placement.y, *size)


def _photo(placement: Placement, box: Box, number: int) -> Box:
    opening = placement.openings[number]
    x = (box.width - opening.width) // 2 if opening.x is None else opening.x
    y = (box.height - opening.height) // 2 if opening.y is None else opening.y
    return Box(box.x + x, box.y + y, opening.width, opening.height)


def _piece(design: Design, laid: _Laid, page: Page, paper: Rect, scale: float) -> Iterator[Shape]:
    """Yield a piece and the photos on it, as far as they lie on the page."""
    shown = _on(page, laid.box)
    if shown is None:
        return
    roles = [each.role for each in design.papers]
    number = roles.index(laid.role) if laid.role in roles else 0
    yield from ground(_rect(shown, paper, scale, Style.PIECE), number)
    marks = design.ruler.marks
    if seen := largest_visible(shown, laid.above):
        size = f"{marks(laid.box.width)} × {marks(laid.box.height)}"
        choices = [[laid.placement.piece, size], [laid.placement.piece]]
        yield from label(choices, _rect(seen, paper, scale, Style.PIECE), ground=number > 0)
    for index, opening in enumerate(laid.placement.openings):
        if photo := _on(page, laid.above[index]):
            rect = _rect(photo, paper, scale, Style.PHOTO)
            yield rect
            yield from label(
                [["photo", f"{marks(opening.width)} × {marks(opening.height)}"], ["photo"]], rect
            )


def _on(page: Page, box: Box) -> Box | None:
    """Return the part of a box that lies on the page."""
    left, top = max(box.x, 0), max(box.y, 0)
    width, height = min(box.right, page.width) - left, min(box.bottom, page.height) - top
    return Box(left, top, width, height) if width > 0 and height > 0 else None


def _rect(box: Box, paper: Rect, scale: float, style: Style) -> Rect:
    x, y = paper.x + box.x * scale, paper.y + box.y * scale
    return Rect(x, y, box.width * scale, box.height * scale, style)


def _key(design: Design, pages: Sequence[Page], width: float, y: float) -> tuple[list[Shape], float]:
    """Return which ground stands for which paper, and where that ends."""
    used = {each.piece for page in pages for each in page.placements}
    roles = {each.role for each in design.pieces if each.piece in used}
    shapes: list[Shape] = []
    for number, paper in enumerate(design.papers):
        if paper.role not in roles:
            continue
        y += LINE
        shapes += ground(Rect(GAP, y - NOTE + 0.4, SWATCH, NOTE, Style.PIECE), number)
        words = shortened(paper.role, NOTE, width - SWATCH - 4 * GAP)
        shapes.append(Text(SWATCH + 3 * GAP, y, words, NOTE))
    return shapes, y + LINE / 2


def describe_page(design: Design, page: Page) -> str:
    """Return a page in words: each piece with its place from the left and top edge, and the photos on it."""
    say = design.ruler.format
    lines = [f"Page {page.name}, {say(page.width)} wide and {say(page.height)} high."]
    for laid in _laid(design, page):
        place = f"{say(laid.box.x)} from the left and {say(laid.box.y)} from the top"
        size = f"{say(laid.box.width)} × {say(laid.box.height)}"
        photos = [f"{say(each.width)} × {say(each.height)}" for each in laid.placement.openings]
        held = f", with a photo of {' and one of '.join(photos)}" if photos else ""
        lines.append(f"{laid.placement.piece} of {laid.role}, {size}, {place}{held}.")
    return " ".join(lines)
