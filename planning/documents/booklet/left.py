"""What is left over, and what that could still give."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from kits.guillotine import PieceSize, Placed, count_pieces
from kits.guillotine.marks import size
from kits.measures import MM, Area, Ruler, parse_length
from kits.recipe import Design, PaperLeft, recipe_use, still_yields
from planning.documents.booklet.model import LeftOver, PaperRest


def _handy(name: str, width: str, height: str, unit: str) -> PieceSize:
    """Return a handy size. Its worth grows faster than its area: one mat is more use than the same area in tags."""
    wide, high = (parse_length(f"{side} {unit}") for side in (width, height))
    return PieceSize(f"{name} {width} × {height} {unit}", wide, high, value=(wide * high // MM**2) ** 2)


# What comes in handy at a table of paper crafts; common practice, no source. Only sizes on a recipe's own ruler are
# tried, so whoever measures in millimetres is offered those in millimetres. The mats hold a 4 x 6 in and a 10 x 15 cm
# photo with a border of 1/8 in and 3 mm (a print of "10 x 15" is 102 x 152 mm).
HANDY = (
    _handy("photo mat", "4 1/4", "6 1/4", "in"),
    _handy("card", "3", "4", "in"),
    _handy("square", "2", "2", "in"),
    _handy("tag", "1 1/2", "3", "in"),
    _handy("strip", "1", "6", "in"),
    _handy("photo mat", "108", "158", "mm"),
    _handy("card", "75", "100", "mm"),
    _handy("square", "50", "50", "mm"),
    _handy("tag", "40", "75", "mm"),
    _handy("strip", "25", "150", "mm"),
)


def left_of(design: Design) -> tuple[LeftOver, ...]:
    """Return every offcut of a recipe, sheet by sheet, the largest of each sheet first."""
    yields = {(one.sheet, one.offcut): one.result.tree for one in still_yields(design, HANDY)}
    left = []
    for sheet in recipe_use(design).sheets:
        label = f"sheet {sheet.number} of {sheet.role}"
        for placed in sheet.offcuts:
            tree = yields.get((label, placed))
            counts = count_pieces(tree) if tree else {}
            left.append(LeftOver(label, offcut_size(placed, design.ruler), "; ".join(told(counts))))
    return tuple(left)


def offcut_size(placed: Placed, on: Ruler) -> str:
    """Return the size of an offcut; in millimetres where it is on no mark."""
    return size(placed.part.width, placed.part.height, on, unit=True)


def rest_of(papers: Iterable[PaperLeft], on: Ruler) -> tuple[PaperRest, ...]:
    """Return what is left of each paper in words; equal offcuts are told once, with their number."""
    rests = []
    for paper in papers:
        counts = Counter(offcut_size(placed, on) for placed in paper.offcuts)
        rests.append(PaperRest(paper.paper, paper.sheets, share(paper.used, paper.area), tuple(told(counts))))
    return tuple(rests)


def told(counts: Mapping[str, int]) -> Iterator[str]:
    """Yield each thing once, with how many there are of it."""
    return (f"{words} ({count} of them)" if count > 1 else words for words, count in counts.items())


def share(used: Area, whole: Area) -> str:
    """Return a share in percent, rounded down to a tenth so that only a sheet without a scrap is used to 100 %."""
    tenths = 1000 * used // whole
    return f"{tenths // 10}{f'.{tenths % 10}' if tenths % 10 else ''} %"
