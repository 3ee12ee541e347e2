"""What the editor shows of a recipe's text: its faults, figures, cut sheets and pages. It all follows from the text."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from kits.drawing import Drawing as Shapes
from kits.drawing import Rect, Style, svg
from kits.guillotine import Direction, Piece
from kits.measures import Ruler, square_inches, square_metres
from kits.recipe import (
    CutSheet,
    Design,
    PagePiece,
    Reading,
    RecipeUse,
    check,
    draw_cut_sheet,
    draw_page,
    recipe_use,
)
from kits.recipe.check.faults import Measure
from kits.recipe.edit import OpenEnd, marks, missing, open_ends, suits, with_every_sheet
from planning.faults.designs import line_of
from planning.faults.texts import LONGEST_OF
from planning.recipes import reading
from planning.views import words
from planning.views.parts import Figure, Line, Table, number, text

FENCE = {"left": Direction.UPRIGHT, "top": Direction.LEVEL}
"""Which edge lies at the fence -> how a cut then runs."""

LONGEST = LONGEST_OF["text"]  # characters
MOST_SHOWN = 100  # faults; nobody mends more at a time
MOST_SHEETS = 24  # drawings
MOST_PAGES = 12
MOST_PARTS = 3_000  # on all sheets; above, drawing them takes longer than anybody waits between two keys
NOTHING = Design(code="-")


@dataclass(frozen=True, slots=True)
class FaultLine:
    """A fault with its place in the text. line, column: from 1."""

    line: int
    column: int
    said: str
    allowed: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """A part of a sheet that can be chosen. value: as the form sends it."""

    value: str
    said: str


@dataclass(frozen=True, slots=True)
class SheetShown:
    """A cut sheet: its drawing, and its parts as data for those who point at it."""

    label: str
    svg: str
    said: str
    parts: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """All of it. left_out: how many faults are not listed. undrawn: why something is not drawn."""

    faults: tuple[FaultLine, ...]
    left_out: int
    figures: tuple[Figure, ...]
    sheets: tuple[SheetShown, ...]
    pages: tuple[str, ...]
    offcuts: Table
    names: tuple[Choice, ...]
    step: int
    unit: str
    per_unit: int
    undrawn: str = ""

    @property
    def count(self) -> int:
        """How many faults there are."""
        return len(self.faults) + self.left_out


@lru_cache(maxsize=64)  # the same text is asked for by the list, the editor and the month page
def shown(text_of_recipe: str, code: str) -> Shown:
    """Return what there is to see of a text. code: of the recipe it is kept under."""
    if len(text_of_recipe) > LONGEST:
        return too_long(text_of_recipe)
    read = reading(text_of_recipe)
    faults = tuple(fault_lines(read, code))
    parts = open_ends(text_of_recipe, read)
    sheets = with_every_sheet(read.design)[:MOST_SHEETS]
    few = len(parts) <= MOST_PARTS
    return Shown(
        faults=faults[:MOST_SHOWN],
        left_out=max(0, len(faults) - MOST_SHOWN),
        figures=figures(read.design, recipe_use(read.design), len(faults)) if few else (),
        sheets=tuple(sheets_shown(read.design, sheets, parts)) if few else (),
        pages=tuple(pages_shown(read.design)) if few else (),
        offcuts=offcut_table(read.design if few else NOTHING),
        names=tuple(names_of(read.design)),
        step=read.design.ruler.step,
        unit=str(read.design.ruler.unit),
        per_unit=read.design.ruler.unit.size,
        undrawn=undrawn(read.design, len(parts)),
    )


def too_long(text_of_recipe: str) -> Shown:
    """Return the one fault of a text that no month file could hold; it is not read."""
    line = text_of_recipe.count("\n", 0, LONGEST) + 1
    lines = text_of_recipe.count("\n") + 1
    fault = FaultLine(
        line,
        1,
        f"The text has {words.counted(lines, 'line')} and {len(text_of_recipe):,} characters, and is not read.",
        f"A recipe has at most {LONGEST:,} characters, which this line goes beyond: "
        "make two recipes of it, or take comments out.",
    )
    own = NOTHING.ruler
    return Shown((fault,), 0, (), (), (), offcut_table(NOTHING), (), own.step, str(own.unit), own.unit.size)


# --- Faults ---


def fault_lines(read: Reading, code: str) -> Iterator[FaultLine]:
    """Yield what is wrong with the text; once it reads, what is wrong with the design."""
    for problem in read.problems:
        allowed = f"{problem.allowed.removesuffix('.')}."
        yield FaultLine(problem.line, problem.column, f"{problem.found} {problem.why}.", allowed)
    if "recipe" in read.lines and read.design.code != code:
        said, allowed = (
            f"{read.design.code} is not the code under which this recipe is kept.",
            f"Write recipe {code}.",
        )
        yield FaultLine(
            read.lines["recipe"], 1, said, f"{allowed} For another code, duplicate the recipe under it."
        )
    if not read.problems:
        found = (FaultLine(line_of(each, read), 1, f"{each}.") for each in check(read.design))
        yield from sorted(found, key=lambda each: each.line)


def undrawn(design: Design, parts: int) -> str:
    """Say what is not drawn because there is too much of it."""
    if parts > MOST_PARTS:
        return f"The sheets have {parts:,} parts; only recipes of up to {MOST_PARTS:,} are drawn."
    sheets, pages = len(with_every_sheet(design)), len(design.pages)
    over = [
        f"the first {most} of {count} {what}"
        for most, count, what in ((MOST_SHEETS, sheets, "sheets"), (MOST_PAGES, pages, "pages"))
        if count > most
    ]
    return f"Drawn are {' and '.join(over)}." if over else ""


# --- Figures ---


def figures(design: Design, use: RecipeUse, faults: int) -> tuple[Figure, ...]:
    """Return the figures that a designer looks at while trying trims."""
    posted = sum(paper.sheets for paper in design.papers)
    to_cut = sum(missing(design).values())
    return (
        Figure(words.count(faults), "fault" if faults == 1 else "faults"),
        Figure(words.count(posted), "sheet" if posted == 1 else "sheets"),
        Figure(words.percent(use.share.numerator, use.share.denominator), "of them used"),
        Figure(
            words.count(use.cuts), f"{'cut' if use.cuts == 1 else 'cuts'}, {words.counted(use.turns, 'turn')}"
        ),
        Figure(words.count(use.photos), "photo" if use.photos == 1 else "photos"),
        Figure(words.count(to_cut), "piece to cut still" if to_cut == 1 else "pieces to cut still"),
    )


def area_of(area: int, own: Ruler) -> str:
    """Return an area in the ruler's own kind of unit."""
    if own.unit.is_metric:
        return f"{words.tenths(square_metres(area) * 10_000)} cm²"
    return f"{words.tenths(square_inches(area))} in²"


def offcut_table(design: Design) -> Table:
    """Return every offcut, sheet by sheet, the largest first."""
    say = Measure(design.ruler)
    lines = [
        Line(
            (
                f"sheet {use.number} of {use.role}",
                say.size(each.part.width, each.part.height),
                f"{say.length(each.x)}, {say.length(each.y)}",
                area_of(each.part.width * each.part.height, design.ruler),
            )
        )
        for use in recipe_use(design).sheets
        for each in use.offcuts
    ]
    columns = (text("Sheet"), number("Size"), number("From the left, from the top"), number("Area"))
    return Table("What is left over", columns, lines, empty="Nothing is left over.")


# --- Drawings ---


def pages_shown(design: Design) -> Iterator[str]:
    """Yield the drawing of every page."""
    for index, page in enumerate(design.pages[:MOST_PAGES]):
        yield svg(draw_page(design, page), f"page-{index}")


def sheets_shown(
    design: Design, sheets: tuple[CutSheet, ...], parts: tuple[OpenEnd, ...]
) -> Iterator[SheetShown]:
    """Yield every sheet of every paper, those not cut yet included."""
    still = missing(design)
    uses = {(use.role, use.number): use for use in recipe_use(design).sheets}
    for index, sheet in enumerate(sheets):
        own = tuple(each for each in parts if each.sheet.label == sheet.label)
        drawn = draw_cut_sheet(design, sheet)
        use = uses.get((sheet.role, sheet.number))
        share = words.percent(use.share.numerator, use.share.denominator) if use else "0 %"
        yield SheetShown(
            label=sheet.label,
            svg=svg(drawn, f"sheet-{index}"),
            said=f"{share} used",
            parts=json.dumps([part_data(design, each, drawn, still) for each in own]),
            choices=tuple(Choice(f"{sheet.label}#{each.number}", part_said(design, each)) for each in own),
        )


def part_said(design: Design, found: OpenEnd) -> str:
    """Return a part in words."""
    say, placed = Measure(design.ruler), found.placed
    what = placed.part.name if isinstance(placed.part, Piece) else "left over"
    size = say.size(placed.part.width, placed.part.height)
    return f"{what}, {size}, at {say.length(placed.x)}, {say.length(placed.y)}"


def part_data(
    design: Design, found: OpenEnd, drawn: Shapes, still: Mapping[tuple[str, str], int]
) -> dict[str, object]:
    """Return a part as whoever points at its drawing needs it: place and size in the drawing and as lengths."""
    placed, tree = found.placed, found.sheet.tree
    part = placed.part
    can_be = sorted(suits(design, found), key=lambda each: (each.piece, each.page) not in still)
    left, top, scale = room(drawn, tree.width)
    return {
        "value": f"{found.sheet.label}#{found.number}",
        "said": part_said(design, found),
        "x": round(left + placed.x * scale, 3),
        "y": round(top + placed.y * scale, 3),
        "width": round(part.width * scale, 3),
        "height": round(part.height * scale, 3),
        "across": part.width,
        "down": part.height,
        "finished": isinstance(part, Piece),
        "line": found.end.line,
        "fence": next(side for side, way in FENCE.items() if way is found.end.direction),
        "marks": {side: marks(design, found, way, still) for side, way in FENCE.items()},
        "named": named(part.name, part.page) if isinstance(part, PagePiece) else "",
        "names": [named(each.piece, each.page) for each in can_be],
    }


def room(drawn: Shapes, width: int) -> tuple[float, float, float]:
    """Return where a sheet begins in its drawing, and the drawing's mm for each length."""
    sheet = next(each for each in drawn.shapes if isinstance(each, Rect) and each.style is Style.OUTLINE)
    return sheet.x, sheet.y, sheet.width / width


def names_of(design: Design) -> Iterator[Choice]:
    """Yield the pieces that can be named, those still to be cut with how many."""
    still = missing(design)
    for key in dict.fromkeys((each.piece, each.page) for each in design.pieces):
        piece, page = key
        where = f"{piece} → {page}" if page else piece
        left = f", {still[key]} to cut" if still[key] else ", all cut"
        yield Choice(named(piece, page), f"{where}{left}")


def named(piece: str, page: str) -> str:
    """Return a piece and its page as the form sends them; a name may hold any mark."""
    return json.dumps([piece, page], ensure_ascii=False)
