"""What every booklet says, in print as on the page: how to go about it, and the cautions.

The cautions never call a cut harmless; the trimmer's own manual comes first.
"""

from kits.recipe import CutSheet
from planning.documents.booklet.model import (
    Booklet,
    BoxLine,
    Chapter,
    LeftOver,
    LiftToCut,
    ListedPiece,
    PaperRest,
    Work,
)
from planning.documents.pdf.words import count

CAUTIONS = (
    "Read your trimmer's own manual first. Where it and this booklet differ, the manual is right.",
    "Blades cut fingers as readily as paper. Keep both hands out of the blade's way, leave every guard where its "
    "maker put it, and hold small pieces down with a ruler rather than with fingertips.",
    "Trimming is for grown-ups. Children help by sorting, gluing and choosing photos, away from the blade.",
    "Never trim more sheets at once than the manual allows. Sheets that are shown together can just as well be cut "
    "one after the other, with the same marks.",
    "Close or lock the trimmer whenever you look up from it. Change blades only as its manual shows, and wrap an old "
    "blade well before you throw it away.",
    "Small parts and narrow offcuts do not belong in the hands of children who still put things in their mouths.",
)
HOW_TO_READ = (
    "Every cut goes from one edge of the paper to the other. The number with it is the distance from the fence, which "
    "the paper's edge lies against, to the blade.",
    "Parallel cuts go from the far mark down, so the same edge stays at the fence. Turn the paper only where a step "
    "says so.",
    "In the drawings of sheets the two heavy edges are those that come to the fence; a dark corner marks a piece that "
    "lies turned, hatching what is left over. Drawings are not life-size: go by the numbers.",
    "Put each piece on its page as it comes off. A strip that is laid aside is called by its letter when its turn "
    "comes.",
)
ALL_CUT = (
    "Once every spread of this booklet is cut. If your box holds fewer spreads, each spread's own list says what it "
    "leaves you."
)


def counted(number: int) -> str:
    """Return a count in the list of what is in the box."""
    return f"{number:,}" if number else "–"


def box_heads(tiers: tuple[str, ...]) -> tuple[str, ...]:
    """Return what heads the counts: the tiers, or nothing more than the box where there is only one."""
    return tiers if len(tiers) > 1 else ("In the box",)


def with_detail(line: BoxLine) -> str:
    """Return a thing in the box with its size."""
    return f"{line.name}, {line.detail}" if line.detail else line.name


def in_boxes(chapter: Chapter) -> str:
    """Say which boxes hold a recipe, where not all do."""
    if not chapter.boxes:
        return ""
    *others, last = chapter.boxes
    joined = f"{'; '.join(others)}; and {last}" if others else last
    return f"In the box of: {joined}."


def effort(work: Work) -> str:
    """Return what a recipe takes at the trimmer."""
    return f"{count(work.cuts, 'cut')}, {count(work.turns, 'turn')}, on {work.trimmer}"


def sheets(number: int) -> str:
    """Return a number of sheets."""
    return count(number, "sheet")


def whole_sheets(work: Work) -> str:
    """Say which sheets are used as they come."""
    return f"Used whole: {'; '.join(work.whole)}." if work.whole else ""


def goes_to(piece: ListedPiece) -> str:
    """Say where a piece goes."""
    return f"page {piece.page}" if piece.page else "to spare"


def nothing_left(work: Work) -> str:
    """Say that a recipe leaves no offcut."""
    return "" if work.left else "Nothing: every scrap of these sheets becomes a piece."


def could_give(left: LeftOver) -> str:
    """Return what an offcut could still give."""
    return left.yields or "a scrap, for trying out ink and glue"


def not_drawn(chapter: Chapter) -> str:
    """Say why a recipe has no cuts."""
    if chapter.faults:
        return (
            f"This recipe is not finished: {count(chapter.faults, 'fault')} keep its cuts from being drawn."
            if chapter.faults > 1
            else "This recipe is not finished: a fault keeps its cuts from being drawn."
        )
    return "How its sheets are cut is not drawn. These are the pieces they must give."


def chapter_name(booklet: Booklet, number: int) -> str:
    """Return what a chapter is called in the list of contents. number: its place, from 0."""
    one = booklet.chapters[number]
    return f"Spread {number + 1}: {one.title or one.code}"


def sheet_title(sheet: CutSheet) -> str:
    """Return what heads a sheet's drawing."""
    return f"{sheet.label[0].upper()}{sheet.label[1:]}"


def lift_words(lift: LiftToCut) -> str:
    """Return what heads the cuts of sheets in hand."""
    together = ", cut together" if len(lift.sheets) > 1 else ""
    return f"{lift.title}{together}: {count(len(lift.steps), 'cut')}"


def photo_line(chapter: Chapter) -> str:
    """Return the photos to print."""
    return "; ".join(f"{photo.count} of {photo.size}" for photo in chapter.photos)


def offcuts(rest: PaperRest) -> str:
    """Return the offcuts of a paper."""
    return "; ".join(rest.offcuts) or "nothing"
