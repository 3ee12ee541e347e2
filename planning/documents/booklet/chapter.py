"""A recipe as a chapter of the booklet: its papers by this month's names, its cuts, its pages, its offcuts."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from kits.guillotine.marks import size
from kits.kit import ItemKind
from kits.measures import Ruler, ruler
from kits.recipe import (
    CutBy,
    Design,
    Opening,
    Page,
    PhotoSize,
    Placement,
    Recipe,
    WantedPiece,
    check,
    photos_for,
    recipe_use,
    say_lot,
    trim_steps,
    with_paper_names,
)
from planning.documents.booklet.left import left_of
from planning.documents.booklet.model import (
    Chapter,
    LaidPage,
    LaidPiece,
    LiftToCut,
    ListedPiece,
    PhotoToPrint,
    SheetOfPaper,
    Work,
)
from planning.month import Month
from planning.recipes import is_designed, paper_roles, reading, recipe_pieces


def chapter(month: Month, recipe: Recipe) -> Chapter:
    """Return a recipe's chapter. One whose design does not come out has its papers and pieces only."""
    read = reading(recipe.text) if is_designed(recipe) else None
    design = read.design if read else None
    faults = len(read.problems) + len(check(read.design)) if read else 0
    on = design.ruler if design else ruler(month.club.ruler)
    named = with_paper_names(design, paper_names(month, recipe.code)) if design else None
    return Chapter(
        code=recipe.code,
        title=recipe.title,
        note=design.note if design else recipe.note,
        boxes=boxes_with(month, recipe.code),
        papers=tuple(papers(month, recipe.code, named, on)),
        pieces=tuple(pieces(month, recipe.code, on)),
        photos=tuple(photos(design)) if design else (),
        work=work(named) if named and not faults else None,
        faults=faults,
    )


def paper_names(month: Month, recipe: str) -> dict[str, str]:
    """Return what this month's paper for each role is called."""
    names = {one.code: one.name for one in month.materials}
    return {
        row.role: names[row.material]
        for row in month.kit_papers
        if row.recipe == recipe and row.material in names
    }


def boxes_with(month: Month, recipe: str) -> tuple[str, ...]:
    """Return the tiers whose box holds a recipe; none where every box does."""
    lines = [line for line in month.kit_lines if line.kind is ItemKind.RECIPE and line.item == recipe]
    if any(not line.tiers for line in lines):
        return ()
    held = {code for line in lines for code in line.tiers}
    names = tuple(tier.name for tier in month.tiers if tier.code in held)
    return () if len(names) == len(month.tiers) else names


def papers(month: Month, recipe: str, named: Design | None, on: Ruler) -> Iterator[SheetOfPaper]:
    """Yield the papers, each called as this month's is."""
    if named is not None:
        for paper in named.papers:
            yield SheetOfPaper(paper.role, size(paper.width, paper.height, on, unit=True), paper.sheets)
        return
    names = paper_names(month, recipe)
    for role in paper_roles(month):
        if role.recipe == recipe:
            name = names.get(role.role, role.role)
            yield SheetOfPaper(name, size(role.width, role.height, on, unit=True), role.sheets)


def pieces(month: Month, recipe: str, on: Ruler) -> Iterator[ListedPiece]:
    """Yield every piece, page by page as the recipe lists them."""
    for row in recipe_pieces(month):
        if row.recipe == recipe:
            words = size(row.width, row.height, on, unit=True)
            yield ListedPiece(row.piece, words, row.count, row.page, row.cut_by is CutBy.CLUB)


# --- Photos ---


def photos(design: Design) -> Iterator[PhotoToPrint]:
    """Yield how many photos of each size a recipe holds, lying or upright alike."""
    openings = [opening for page in design.pages for placed in page.placements for opening in placed.openings]
    sizes = Counter(tuple(sorted((opening.width, opening.height))) for opening in openings)
    for (narrow, wide), count in sorted(sizes.items(), reverse=True):
        yield PhotoToPrint(size(narrow, wide, design.ruler, unit=True), count)


def photo_words(opening: Opening, on: Ruler) -> str:
    """Return what to print for an opening: a usual print where one fits it, else what to cut one to."""
    border = 2 * opening.border
    fitting = photos_for(opening.width + border, opening.height + border, opening.border)
    exact = size(opening.width, opening.height, on, unit=True)
    if fitting and sorted((opening.width, opening.height)) == [fitting[0].width, fitting[0].height]:
        return f"{exact} print"
    smaller = f", or a {said(fitting[0], on)} print with a wider border" if fitting else ""
    return f"cut to {exact}{smaller}"


def said(photo: PhotoSize, on: Ruler) -> str:
    """Return a photo's size on the recipe's ruler, as prints are sold where that has no mark for it."""
    held = on.holds(photo.width) and on.holds(photo.height)
    return size(photo.width, photo.height, on, unit=True) if held else photo.name.replace("x", "×")


# --- The work ---


def work(design: Design) -> Work:
    """Return how a recipe is made."""
    use, done = recipe_use(design), trim_steps(design)
    lifts = tuple(lifts_of(design))
    return Work(
        design=design,
        trimmer=trimmer(design),
        cuts=use.cuts,
        turns=use.turns,
        lifts=lifts,
        whole=tuple(
            f"{sheet}: {say_lot(replace(lot, sheets=(sheet,)))}" for lot in done.uncut for sheet in lot.sheets
        ),
        pages=tuple(laid_page(design, page) for page in design.pages),
        left=left_of(design),
    )


def trimmer(design: Design) -> str:
    """Return what the recipe asks of the subscriber's trimmer."""
    most = design.trimmer.sheets
    sheets = "one sheet at a time" if most == 1 else f"up to {most} sheets at once, if its manual allows it"
    return f"a trimmer that cuts {design.ruler.format(design.trimmer.length)}, {sheets}"


def lifts_of(design: Design) -> Iterator[LiftToCut]:
    """Yield the lifts that are cut, each with its own steps."""
    steps = trim_steps(design).steps
    for lift in design.lifts:
        labels = {sheet.label for sheet in lift.sheets}
        own = tuple(step for step in steps if labels.issuperset(step.sheets))
        if own:
            joined = " and ".join(sheet.label for sheet in lift.sheets)
            yield LiftToCut(f"{joined[0].upper()}{joined[1:]}", lift.sheets, own)


def laid_page(design: Design, page: Page) -> LaidPage:
    """Return a page with what lies on it, from the lowest layer up."""
    wanted = {piece.piece: piece for piece in design.pieces}
    placed = sorted(page.placements, key=lambda each: each.layer)
    known = [laid(design, each, wanted[each.piece]) for each in placed if each.piece in wanted]
    return LaidPage(page, size(page.width, page.height, design.ruler, unit=True), tuple(known))


def laid(design: Design, placed: Placement, piece: WantedPiece) -> LaidPiece:
    """Return one piece where it lies."""
    on = design.ruler
    sides = (piece.height, piece.width) if placed.turned else (piece.width, piece.height)
    return LaidPiece(
        name=piece.piece,
        paper=piece.role,
        size=size(*sides, on, unit=True),
        left=on.format(placed.x),
        top=on.format(placed.y),
        turned=placed.turned,
        photos=tuple(photo_words(opening, on) for opening in placed.openings),
    )
