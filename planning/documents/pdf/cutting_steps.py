"""A ticket's cuts in order, as rows of a table: a row for each run of like cuts, and one for parts cut alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from reportlab.platypus import Flowable

from kits.guillotine import Cut, Lot, Part, Piece, Step, count_cuts, steps
from kits.measures import Length, LengthUnit, Ruler, format_exact
from planning.cutting.machine import held_by
from planning.documents.pdf.look import words
from planning.documents.pdf.tables import Column, Row, table

COLUMNS = (
    Column("Cuts", 17, number=True),
    Column("In hand", 43),
    Column("First turn it", 20),
    Column("At the stop", 19),
    Column("Back gauge, in turn", 46),
    Column("Comes off", 42),
)
NOTE = (
    "Edges are those of the drawing. The back gauge is what stays behind the knife. "
    "Part 2.1 is the first part, from the left or the top, of part 2."
)
TURNS = {0: "", 1: "a quarter", 2: "a half"}
TOO_NARROW = "Narrower than this machine holds: cut it another way."
WHOLE = "sheet"
LONGEST_RUN = 12  # cuts in one row; more would make it hard to see which comes next


@dataclass(frozen=True, slots=True)
class Move:
    """A cut as the ticket numbers it. narrow: what is held or cut is below the machine's smallest strip."""

    number: int
    step: Step
    narrow: bool

    @property
    def likeness(self) -> tuple[object, ...]:
        """What cuts of one run share: the edge at the stop and what comes off."""
        off = self.step.off
        return self.step.stop, off.part, off.name if isinstance(off.part, Piece) else "", self.narrow


def moves_of(tree: Part, smallest: Length) -> tuple[Move, ...]:
    """Return every cut of a tree, numbered."""
    return tuple(
        Move(number, step, held_by(step) < smallest) for number, step in enumerate(steps(tree, smallest), 1)
    )


def cuts_table(tree: Part, moves: Sequence[Move], ruler: Ruler, width: float) -> Flowable:
    """Return the cuts of one lift: what is in hand, which edge lies at the stop, what stays behind the knife."""
    return table(COLUMNS, list(cut_rows(tree, moves, ruler)), width)


def cut_rows(tree: Part, moves: Sequence[Move], ruler: Ruler) -> Iterator[Row]:
    """Yield the rows of all cuts."""
    for like, group in groupby(hands(tree, moves), key=lambda hand: hand.like):
        if like:
            yield alike_row(like, list(group))
        else:
            for hand in group:
                yield from run_rows(hand, ruler)


# --- Parts in hand ---


@dataclass(frozen=True, slots=True)
class Hand:
    """A part in hand and its cuts. like: the earlier part that it equals; its cuts are then not spelled out."""

    name: str
    part: Part
    moves: tuple[Move, ...]
    like: str


def hands(tree: Part, moves: Sequence[Move]) -> Iterator[Hand]:
    """Yield the parts in the order they are cut, without those that lie in a part like an earlier one."""
    spelled: dict[Part, str] = {}
    skipped = "none"
    for name, group in groupby(moves, key=lambda move: move.step.hand):
        if name.startswith(f"{skipped}."):
            continue
        part = part_called(tree, name)
        like = spelled.get(part, "")
        skipped = name if like else "none"
        spelled.setdefault(part, name)
        yield Hand(name, part, tuple(group), like)


def part_called(tree: Part, name: str) -> Part:
    """Return the part of a name: 2.1 is the first part of part 2."""
    for number in name.split(".") if name != WHOLE else ():
        if not isinstance(tree, Cut):
            raise ValueError(f"there is no part {name}")
        tree = tree.parts[int(number) - 1]
    return tree


# --- Rows ---


def alike_row(like: str, alike: Sequence[Hand]) -> Row:
    """Return the row of parts that are cut as an earlier one was."""
    last = alike[-1].moves[0].number + count_cuts(alike[-1].part) - 1
    parts = part_names([hand.name for hand in alike])
    return Row((numbers(alike[0].moves[0].number, last), parts, "", "", "", f"cut as part {like}"))


def run_rows(hand: Hand, ruler: Ruler) -> Iterator[Row]:
    """Yield the cuts of one part, those that take off the like from the same edge in one row."""
    for _, group in groupby(hand.moves, key=lambda move: move.likeness):
        run = list(group)
        for at in range(0, len(run), LONGEST_RUN):
            yield run_row(run[at : at + LONGEST_RUN], ruler)


def run_row(run: Sequence[Move], ruler: Ruler) -> Row:
    """Return the row of like cuts."""
    first, last = run[0], run[-1]
    name = "the sheet" if first.step.hand == WHOLE else f"part {first.step.hand}"
    gauges: list[Flowable] = [words(measures([move.step.gauge for move in run], ruler), "strong")]
    return Row(
        (
            numbers(first.number, last.number),
            f"{name}: {size(first.step, ruler)}",
            TURNS[first.step.turns],
            f"{first.step.stop} edge",
            [*gauges, words(TOO_NARROW, "need")] if first.narrow else gauges,
            comes_off(run, ruler),
        ),
        need=first.narrow,
    )


def comes_off(run: Sequence[Move], ruler: Ruler) -> list[Flowable]:
    """Return what comes off in front of the knife and, when nothing more is cut from it, what stays behind."""
    kept = run[-1].step.kept
    off = words(lots_words([move.step.off for move in run], ruler))
    return [off, words(f"stays: {lots_words([kept], ruler)}", "small")] if kept else [off]


def lots_words(lots: Sequence[Lot], ruler: Ruler) -> str:
    """Return equal parts by name and size."""
    first, each = lots[0], "each " if len(lots) > 1 else ""
    if isinstance(first.part, Piece):
        return f"{each}{first.name}"
    name = part_names([lot.name for lot in lots]) if isinstance(first.part, Cut) else first.name
    return f"{name}: {each}{size(first.part, ruler)}"


def part_names(names: Sequence[str]) -> str:
    """Return parts by name, those that follow each other as a range: `part 2`, `parts 1.2 to 1.12`."""
    if len(names) == 1:
        return f"part {names[0]}"
    places = [tuple(map(int, name.split("."))) for name in names]
    together = len({place[:-1] for place in places}) == 1 and is_run([place[-1] for place in places])
    return f"parts {names[0]} to {names[-1]}" if together and len(names) > 2 else f"parts {', '.join(names)}"


def is_run(places: Sequence[int]) -> bool:
    """Tell whether numbers follow each other, upwards or downwards."""
    return {after - before for before, after in pairwise(places)} in ({1}, {-1})


def measures(lengths: Sequence[Length], ruler: Ruler) -> str:
    """Return measures one after the other, each kept in one line; the unit once where all are on the ruler."""
    if all(map(ruler.holds, lengths)):
        return unbroken(",|".join(map(ruler.marks, lengths)) + f" {ruler.unit}")
    return unbroken(";|".join(map(ruler.format, lengths)))


def unbroken(text: str) -> str:
    """Return a text that breaks only where a bar stands."""
    return text.replace(" ", "\N{NO-BREAK SPACE}").replace("|", " ")


def numbers(first: int, last: int) -> str:
    """Return one number or a range."""
    return f"{first} to {last}" if last > first else f"{first}"


def size(part: Part | Step, ruler: Ruler) -> str:
    """Return width and height on the ruler's marks, as they lie in the drawing."""
    return unbroken(f"{side(part.width, ruler)} × {side(part.height, ruler)}")


def side(length: Length, ruler: Ruler) -> str:
    """Return the nearest mark, or the exact measure of what is next to none."""
    return ruler.marks(length) if ruler.nearest(length) else format_exact(length, LengthUnit.MM)
