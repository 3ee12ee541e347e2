"""What is done to a text in the editor: cut, name, arrange, compare. Nothing here is saved."""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from kits.drawing import svg
from kits.guillotine import Direction, Ended, Piece, Placed
from kits.measures import LengthError, format_exact, parse_length
from kits.recipe import ArrangeError, Arrangement, Design, Reading, check, draw_cut_sheet, recipe_use
from kits.recipe.edit import EditError, OpenEnd, arranged, cut, name, open_ends
from planning.recipes import reading
from planning.views import words
from planning.views.parts import Line, Table, number, text
from planning.views.recipe_shown import FENCE, MOST_SHEETS, FaultLine, area_of


@dataclass(frozen=True, slots=True)
class Trim:
    """One of two trims that are compared."""

    title: str
    drawings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Compared:
    """A text's trims beside others. other: the text that has those; proved: how good they are."""

    trims: tuple[Trim, ...]
    table: Table
    other: str
    proved: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Worked:
    """What became of a text. said: what was done, for all who cannot see it; chosen: the part to go on with."""

    text: str
    said: str = ""
    trouble: FaultLine | None = None
    chosen: str = ""
    compared: Compared | None = None


def text_of(post: Mapping[str, str], field: str = "text") -> str:
    """Return a text as it is typed: browsers send lines as the mail does, and a tab is four spaces."""
    lines = post.get(field, "").removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
    return "\n".join(line.expandtabs(4) for line in lines)


def worked(post: Mapping[str, str], kept: str) -> Worked:
    """Do what a form asks for. kept: the text as it is saved. What cannot be done is said, and the text stays."""
    act = ACTS.get(post.get("act", ""))
    if act is None:
        return Worked(text_of(post))
    try:
        return act(post, kept)
    except EditError as error:
        said = f"{error.what[:1].upper()}{error.what[1:]} {error.why}."
        return Worked(
            text_of(post),
            trouble=FaultLine(error.line, 1, said, error.allowed),
            chosen=post.get("part", ""),
        )
    except ArrangeError as error:
        return Worked(text_of(post), trouble=FaultLine(1, 1, words.sentence(str(error))))


# --- At the trimmer ---


def do_cut(post: Mapping[str, str], kept: str) -> Worked:
    """Cut the part in hand."""
    typed, (sheet, part) = text_of(post), part_of(post)
    own = reading(typed).design.ruler
    try:
        mark = parse_length(post.get("mark", ""), own.unit, zero=True)
    except LengthError as error:
        wanted = f"Write the mark as on the {own.name} ruler."
        said = f"The mark {post.get('mark', '')!r} is no length: {error.why}."
        return Worked(typed, trouble=FaultLine(1, 1, said, wanted), chosen=post.get("part", ""))
    after = cut(typed, sheet, part, FENCE.get(post.get("fence", ""), Direction.UPRIGHT), mark)
    off = next(each for each in parts_of(after) if (each.sheet.label, each.number) == (sheet, part))
    size = " × ".join(format_exact(side, own.unit) for side in (off.part.width, off.part.height))
    said = f"Cut at {format_exact(mark, own.unit)}. Off comes {size}."
    return Worked(after, said, chosen=f"{sheet}#{part}")


def do_name(post: Mapping[str, str], kept: str) -> Worked:
    """Say what the part in hand is."""
    typed, (sheet, part) = text_of(post), part_of(post)
    piece, page = name_of(post)
    after = name(typed, sheet, part, piece, page)
    free = [each for each in parts_of(after) if not isinstance(each.part, Piece)]
    later = [each for each in free if (each.sheet.label, each.number) > (sheet, part)]
    same = [each for each in later if each.sheet.label == sheet]
    going_on = next(iter([*same, *free]), None) if piece else None
    where = f" for page {page}" if page else ""
    said = f"{sheet}: {piece}{where}." if piece else f"{sheet}: offcut."
    chosen = f"{going_on.sheet.label}#{going_on.number}" if going_on else f"{sheet}#{part}"
    return Worked(after, words.sentence(said), chosen=chosen)


def part_of(post: Mapping[str, str]) -> tuple[str, int]:
    """Return the sheet and number of the part a form names; a number that is none finds no part."""
    sheet, _, number_of = post.get("part", "").rpartition("#")
    is_number = number_of.isascii() and number_of.isdigit() and len(number_of) < 9
    return sheet, int(number_of) if is_number else -1


def name_of(post: Mapping[str, str]) -> tuple[str, str]:
    """Return the piece and the page a form names, empty for an offcut."""
    try:
        piece, page = json.loads(post.get("name") or '["", ""]')
    except (TypeError, ValueError):  # not as the page sends it; no piece is called so
        return post.get("name", ""), ""
    return str(piece), str(page)


def parts_of(typed: str) -> tuple[OpenEnd, ...]:
    """Return the parts of a text."""
    return open_ends(typed, reading(typed))


# --- Compare ---


def do_arrange(post: Mapping[str, str], kept: str) -> Worked:
    """Find the best trims and lay them beside those of the text."""
    typed = text_of(post)
    found = arranged(typed)
    proved = tuple(
        proof(role, result, found.arranged.design) for role, result in found.arranged.results.items()
    )
    compared = compare(typed, found.text, "Arranged for you", proved)
    return Worked(typed, "Other trims are found; choose between the two.", compared=compared)


def do_compare(post: Mapping[str, str], kept: str) -> Worked:
    """Lay the trims that are saved beside those of the text."""
    typed = text_of(post)
    return Worked(typed, "Choose between the two.", compared=compare(typed, kept, "As saved"))


def do_take(post: Mapping[str, str], kept: str) -> Worked:
    """Take the other of two texts."""
    return Worked(text_of(post, "other"), "The other trims are in the text now. Undo brings yours back.")


def compare(typed: str, other: str, title: str, proved: tuple[str, ...] = ()) -> Compared:
    """Return two texts side by side."""
    both = (reading(typed), reading(other))
    trims = (
        Trim("As typed", drawings(both[0].design, "mine")),
        Trim(title, drawings(both[1].design, "other")),
    )
    figures = zip(*map(measures, both), strict=True)
    lines = [Line((one[0], one[1], two[1])) for one, two in figures]
    columns = (text("What"), number("As typed"), number(title))
    return Compared(trims, Table("The two trims in figures", columns, lines), other, proved)


def drawings(design: Design, prefix: str) -> tuple[str, ...]:
    """Return the sheets of a design."""
    return tuple(
        svg(draw_cut_sheet(design, sheet), f"{prefix}-{index}")
        for index, sheet in enumerate(design.sheets[:MOST_SHEETS])
    )


def measures(read: Reading) -> Iterator[tuple[str, str]]:
    """Yield what tells trims apart."""
    design, use = read.design, recipe_use(read.design)
    largest = max((sheet.offcuts[0] for sheet in use.sheets if sheet.offcuts), key=area, default=None)
    yield "Sheets", words.count(sum(paper.sheets for paper in design.papers))
    yield "Used of what is cut", words.percent(use.share.numerator, use.share.denominator)
    yield "Largest offcut", area_of(area(largest), design.ruler) if largest else "none"
    yield "Cuts", words.count(use.cuts)
    yield "Turns", words.count(use.turns)
    yield "Faults", words.count(len(read.problems or check(design)))


def area(placed: Placed) -> int:
    """Return the area of a part."""
    return placed.part.width * placed.part.height


def proof(role: str, result: Arrangement, design: Design) -> str:
    """Say how good the trims of one paper are."""
    sheets = f"{role}: {words.counted(len(result.sheets), 'sheet')}"
    if result.ended is not Ended.PROVED:
        bound, most = words.counted(result.bound, "sheet"), area_of(result.offcut_bound, design.ruler)
        return f"{sheets}. No way needs fewer than {bound}, and no offcut can be larger than {most}."
    if not result.offcut:
        return f"{sheets}, proved best: no way needs fewer, and nothing is left over."
    largest = area_of(result.offcut, design.ruler)
    return f"{sheets}, proved best: no way needs fewer, none leaves a larger offcut than {largest}."


ACTS: dict[str, Callable[[Mapping[str, str], str], Worked]] = {
    "cut": do_cut,
    "name": do_name,
    "arrange": do_arrange,
    "compare": do_compare,
    "take": do_take,
}
