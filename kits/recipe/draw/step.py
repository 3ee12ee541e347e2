"""One cut as it looks from above: the fence at the left, what is in hand against it, the blade at the mark."""

from collections.abc import Iterator

from kits.drawing import Anchor, Drawing, Line, Rect, Shape, Style, Text, arrow_both_ways, hatched, text_width
from kits.guillotine import Edge
from kits.measures import Ruler
from kits.recipe.draw.labels import GAP, LINE, NOTE, blank, label
from kits.recipe.steps import Fate, Lot, TrimStep, say_step

LONGER_SIDE = 50.0  # mm; small, so that its words are large wherever the picture is shown
WIDTH = 64.0
FENCE = 6.0  # room left of the fence, for its name
ABOVE = 10.0  # room above what is in hand, for the measure
BELOW = 7.5
BEYOND = 2.5  # how far the blade is drawn beyond the paper
MARK = 4.6  # the size of the measure, which is what everybody looks for
STACKED = 1.2  # how far a second sheet looks out from under the first


def draw_step(step: TrimStep, ruler: Ruler) -> Drawing:
    """Return the picture of one cut. What is in hand is drawn as it lies at the trimmer, after any turn."""
    along, across = (step.width, step.height) if step.fence is Edge.LEFT else (step.height, step.width)
    scale = LONGER_SIDE / max(along, across)
    paper = Rect(FENCE, ABOVE, along * scale, across * scale, Style.PIECE)
    blade = FENCE + step.mark * scale
    caption = list(_caption(step, paper.y + paper.height + BELOW - GAP))
    shapes = [
        *_under(step, paper),
        *_parts(step, paper, blade),
        *_fence(paper),
        *_blade(paper, blade, ruler.marks(step.mark)),
        *caption,
    ]
    return Drawing(WIDTH, caption[-1].y + 2 * GAP, f"Cut {step.number}", say_step(step, ruler), tuple(shapes))


def _under(step: TrimStep, paper: Rect) -> Iterator[Shape]:
    if len(step.sheets) > 1:
        yield Rect(paper.x, paper.y + STACKED, paper.width + STACKED, paper.height, Style.SHEET)


def _parts(step: TrimStep, paper: Rect, blade: float) -> Iterator[Shape]:
    kept = Rect(paper.x, paper.y, blade - paper.x, paper.height, Style.PIECE)
    off = Rect(blade, paper.y, paper.x + paper.width - blade, paper.height, Style.PIECE)
    yield from _part(kept, _choices(step.kept) if step.kept else _hand(step), hatch=_is_left_over(step.kept))
    yield from _part(off, _choices(step.off), hatch=_is_left_over(step.off))


def _part(rect: Rect, choices: list[list[str]], *, hatch: bool) -> Iterator[Shape]:
    yield Rect(rect.x, rect.y, rect.width, rect.height, Style.OFFCUT if hatch else Style.PIECE)
    if hatch:
        yield hatched(rect.x, rect.y, rect.width, rect.height)
    yield from label(choices, rect, ground=hatch)


def _is_left_over(lots: tuple[Lot, ...]) -> bool:
    return bool(lots) and all(lot.fate is Fate.OFFCUT for lot in lots)


def _choices(lots: tuple[Lot, ...]) -> list[list[str]]:
    """Return what is written on something: names with their pages; where there is no room for them names alone."""
    pages = [line for lot in lots for line in ([lot.name, f"page {lot.page}"] if lot.page else [lot.name])]
    finished = [lot.name for lot in lots if lot.fate is not Fate.IN_HAND]
    goes_on = ["and the rest"] * (len(finished) < len(lots))
    return [pages, list(dict.fromkeys(lot.name for lot in lots)), [*dict.fromkeys(finished), *goes_on]]


def _hand(step: TrimStep) -> list[list[str]]:
    """Return what is written on what is cut on."""
    if step.hand.startswith("strip") or len(step.sheets) > 1:
        several = f"{len(step.sheets)} sheets"
        return [[step.hand]] if len(step.sheets) == 1 else [list(step.sheets), [several]]
    sheet, _, role = step.hand.partition(" of ")
    return [[sheet, f"of {role}"], [sheet]]


def _fence(paper: Rect) -> Iterator[Shape]:
    top, bottom = paper.y - BEYOND, paper.y + paper.height + BEYOND
    yield Line(paper.x, top, paper.x, bottom, Style.EDGE)
    x, y = paper.x - GAP - 0.4, paper.y + paper.height / 2
    yield Text(x, y, "fence", NOTE, Anchor.MIDDLE, upwards=True, style=Style.NOTE)


def _blade(paper: Rect, x: float, mark: str) -> Iterator[Shape]:
    yield Line(x, paper.y - BEYOND, x, paper.y + paper.height + BEYOND, Style.CUT)
    y = paper.y - BEYOND - MARK / 2
    words = text_width(mark, MARK) + 2 * GAP
    if x - paper.x > words + 4 * GAP:
        yield arrow_both_ways((paper.x, y), (x, y))
        text = Text((paper.x + x) / 2, y + MARK * 0.36, mark, MARK, Anchor.MIDDLE)
        yield blank(text)
        yield text
    else:
        yield Line(paper.x, y, x, y, Style.ARROW)
        yield Text(x + GAP, y + MARK * 0.36, mark, MARK)


def _caption(step: TrimStep, y: float) -> Iterator[Text]:
    """Yield which edge lies at the fence, and of how many sheets; in two lines where one is too narrow for it."""
    edge = f"{step.fence} edge at the fence"
    more = ["turned"] * step.turned + [f"{len(step.sheets)} sheets"] * (len(step.sheets) > 1)
    whole = ", ".join([edge, *more])
    lines = [whole] if text_width(whole, NOTE) <= WIDTH - FENCE else [f"{edge},", ", ".join(more)]
    for number, line in enumerate(lines):
        yield Text(FENCE, y + number * LINE, line, NOTE, style=Style.NOTE)
