"""Check pages: every piece on its page, none hidden, photos inside their mats with the border asked for."""

from collections import Counter
from collections.abc import Iterator, Sequence

from kits.measures import Length
from kits.recipe.check.faults import Box, Fault, FaultName, Measure, near
from kits.recipe.design import Design, Opening, Page, Placement


def page_faults(design: Design) -> Iterator[Fault]:
    """Yield the faults of pages and of what lies on them."""
    say = Measure(design.ruler)
    yield from _counts(design)
    sizes = {each.piece: (each.width, each.height) for each in design.pieces}
    for page in design.pages:
        where = f"page {page.name}"
        for placement in page.placements:
            if placement.piece not in sizes:
                yield Fault(FaultName.UNKNOWN_PIECE, where, placement.piece)
        known = [each for each in page.placements if each.piece in sizes]
        boxes = [(each, _box(each, sizes[each.piece])) for each in known]
        for placement, box in boxes:
            yield from _edges(page, placement.piece, box, say)
            yield from _photos(where, placement, box, say)
        yield from _neighbours(page, boxes, say)
        yield from _hidden(page, boxes, say)


def _counts(design: Design) -> Iterator[Fault]:
    laid_out = Counter(page.name for page in design.pages)
    placed = Counter((each.piece, page.name) for page in design.pages for each in page.placements)
    wanted = Counter[tuple[str, str]]()
    for each in design.pieces:
        wanted[each.piece, each.page] += each.count
    for name, count in laid_out.items():
        if count > 1:
            yield Fault(FaultName.PAGE_TWICE, f"page {name}", "")
    for (piece, page), count in wanted.items():
        if page and page not in laid_out:
            yield Fault(FaultName.NO_PAGE, f"piece {piece}", "", page)
        elif page and placed[piece, page] < count:
            measure = f"{placed[piece, page]} instead of {count}"
            yield Fault(FaultName.UNUSED, f"page {page}", piece, measure)
    for (piece, page), count in placed.items():
        if count > wanted[piece, page]:
            measure = f"{count} instead of {wanted[piece, page]}"
            yield Fault(FaultName.PLACED_TOO_OFTEN, f"page {page}", piece, measure)


def _box(placement: Placement, size: tuple[Length, Length]) -> Box:
    width, height = reversed(size) if placement.turned else size
    return Box(placement.x, placement.y, width, height)


def _edges(page: Page, piece: str, box: Box, say: Measure) -> Iterator[Fault]:
    where = f"page {page.name}"
    distances = (box.x, box.y, page.width - box.right, page.height - box.bottom)
    if min(distances) < 0:
        yield Fault(
            FaultName.OFF_PAGE, where, f"{piece}, {say.box(box)},", f"by {say.length(-min(distances))}"
        )
    too_close = [distance for distance in distances if 0 < distance < page.margin]
    if too_close:
        measure = f"{say.length(min(too_close))} instead of {say.length(page.margin)} or none"
        yield Fault(FaultName.MARGIN, where, f"{piece}, {say.box(box)},", measure)


def _neighbours(page: Page, boxes: Sequence[tuple[Placement, Box]], say: Measure) -> Iterator[Fault]:
    where = f"page {page.name}"
    for layer in sorted({placement.layer for placement, _ in boxes}):
        same = [(each.piece, box) for each, box in boxes if each.layer == layer]
        for (piece, box), (other, there) in near(same, max(page.spacing, 1)):
            gap = box.gap(there)
            what, which = f"{piece}, {say.box(box)},", f"{other}, {say.box(there)}"
            if gap < 0:
                yield Fault(FaultName.SAME_LAYER, where, what, which)
            elif 0 < gap < page.spacing:
                measure = f"{say.length(gap)} from {which}, instead of {say.length(page.spacing)} or none"
                yield Fault(FaultName.SPACING, where, what, measure)


def _hidden(page: Page, boxes: Sequence[tuple[Placement, Box]], say: Measure) -> Iterator[Fault]:
    above: list[list[Box]] = [[] for _ in boxes]
    for (one, box), (other, there) in near(list(enumerate(box for _, box in boxes)), 0):
        higher = boxes[one][0].layer - boxes[other][0].layer
        if higher:
            above[other if higher > 0 else one].append(box if higher > 0 else there)
    for (placement, box), on_it in zip(boxes, above, strict=True):
        if on_it and _is_covered(box, on_it):
            yield Fault(FaultName.HIDDEN, f"page {page.name}", f"{placement.piece}, {say.box(box)},")


def _is_covered(box: Box, above: Sequence[Box]) -> bool:
    """Whether the boxes cover all of it: every cell between their edges is inside one of them."""
    across = sorted(
        {box.x, *(edge for each in above for edge in (each.x, each.right) if box.x < edge < box.right)}
    )
    down = sorted(
        {box.y, *(edge for each in above for edge in (each.y, each.bottom) if box.y < edge < box.bottom)}
    )
    return all(
        any(each.x <= x < each.right and each.y <= y < each.bottom for each in above)
        for x in across
        for y in down
    )


def _photos(where: str, placement: Placement, box: Box, say: Measure) -> Iterator[Fault]:
    inside: list[tuple[str, Box]] = []
    for number, opening in enumerate(placement.openings, 1):
        what = f"photo {number} of {placement.piece}, {say.size(opening.width, opening.height)},"
        photo = _photo_box(opening, box)
        inside.append((what, photo))
        yield from _border(where, what, opening, photo, box, say)
    for (what, one), (other, there) in near(inside, 0):
        yield Fault(FaultName.OPENINGS_OVERLAP, where, what, f"{say.box(one)}; {other} {say.box(there)}")


def _photo_box(opening: Opening, box: Box) -> Box:
    """Return where a photo lies on its piece; half of what is left lies before a centred one."""
    x = (box.width - opening.width) // 2 if opening.x is None else opening.x
    y = (box.height - opening.height) // 2 if opening.y is None else opening.y
    return Box(x, y, opening.width, opening.height)


def _border(where: str, what: str, opening: Opening, photo: Box, box: Box, say: Measure) -> Iterator[Fault]:
    if opening.width > box.width or opening.height > box.height:
        yield Fault(FaultName.OPENING_LARGER, where, what, f"that is {say.size(box.width, box.height)}")
        return
    borders = (photo.x, photo.y, box.width - photo.right, box.height - photo.bottom)
    if min(borders) < 0:
        yield Fault(FaultName.OPENING_OUTSIDE, where, what, f"by {say.length(-min(borders))}")
    elif min(borders) < opening.border:
        measure = f"{say.length(min(borders))} instead of {say.length(opening.border)}"
        yield Fault(FaultName.BORDER_THIN, where, what, measure)
