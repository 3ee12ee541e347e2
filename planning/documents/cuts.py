"""A ticket's cuts in order, in words: a row for each run of like cuts, and one for parts cut as others were."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from kits.guillotine import Cut, Line, Lot, Part, Piece, Step
from kits.measures import Length, LengthUnit, Ruler, format_exact
from planning.cutting.machine import held_by

NOTE = (
    "Edges are those of the drawing. The back gauge is what stays behind the knife. "
    "Part 2.1 is the first part, from the left or the top, of part 2. Parts side by side lie next to each other at the "
    "stop and are cut as one."
)
TURNS = {0: "", 1: "a quarter", 2: "a half"}
TOO_NARROW = "Narrower than this machine holds: cut it another way."
WHOLE = "sheet"
LONGEST_RUN = 12  # cuts in one row; more would make it hard to see which comes next


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """A row of a ticket, in words.

    numbers: which falls of the knife. gauges: the back gauge for each cut in turn. off: what comes off in front of the
    knife; stays: what lies behind it after the last, where nothing more is cut from it. narrow: the machine is not set
    to hold so little. like: the part these are cut as; the other cells are then empty.
    """

    numbers: str
    in_hand: str
    turn: str = ""
    stop: str = ""
    gauges: str = ""
    off: str = ""
    stays: str = ""
    narrow: bool = False
    like: str = ""


@dataclass(frozen=True, slots=True)
class Move:
    """A line of the ticket. first, last: which falls of the knife it is; narrow: what is held or cut is below the
    machine's smallest strip.
    """

    first: int
    last: int
    line: Line
    narrow: bool

    @property
    def step(self) -> Step:
        """The cut of one of the parts in hand."""
        return self.line.step

    @property
    def likeness(self) -> tuple[object, ...]:
        """What cuts of one run share: the edge at the stop and what comes off."""
        off = self.step.off
        return self.step.stop, off.part, off.name if isinstance(off.part, Piece) else "", self.narrow


def moves_of(lines: Sequence[Line], smallest: Length) -> tuple[Move, ...]:
    """Return the lines of a ticket, numbered by the falls of the knife. smallest: strip the machine is set to hold."""
    moves: list[Move] = []
    for line in lines:
        first = moves[-1].last + 1 if moves else 1
        narrow = held_by(line.step) < smallest
        moves.append(Move(first, first + line.times - 1, line, narrow))
    return tuple(moves)


def cut_rows(moves: Sequence[Move], ruler: Ruler) -> Iterator[CutRow]:
    """Yield the rows of all cuts."""
    for hand in hands(moves):
        if hand.like:
            yield alike_row(hand)
        else:
            yield from run_rows(hand, ruler)


# --- Parts in hand ---


@dataclass(frozen=True, slots=True)
class Hand:
    """Equal parts in hand and their cuts. like: the earlier part they equal; their cuts are then not spelled out, nor
    those of what comes off them.
    """

    names: tuple[str, ...]
    moves: tuple[Move, ...]
    like: str


def hands(moves: Sequence[Move]) -> Iterator[Hand]:
    """Yield the parts in the order they are cut, without those that lie in a part like an earlier one."""
    spelled: dict[tuple[Part, bool], str] = {}
    skipped: list[Move] = []
    for names, group in groupby(moves, key=lambda move: move.line.hands):
        own = tuple(group)
        if skipped and names[0].startswith(f"{skipped[0].line.hands[0]}."):
            skipped += own
            continue
        yield from repeated(skipped, spelled)
        skipped = list(own) if cut_of(own) in spelled else []
        if not skipped:
            spelled[cut_of(own)] = names[0]
            yield Hand(names, own, "")
    yield from repeated(skipped, spelled)


def repeated(skipped: Sequence[Move], spelled: Mapping[tuple[Part, bool], str]) -> Iterator[Hand]:
    """Yield the parts whose cuts are not spelled out, as they equal an earlier part."""
    if skipped:
        names = skipped[0].line.hands
        own = [move for move in skipped if move.line.hands == names]
        yield Hand(names, tuple(skipped), spelled[cut_of(own)])


def cut_of(own: Sequence[Move]) -> tuple[Part, bool]:
    """Return what parts share that are cut alike: what they are, and whether all are cut at once."""
    return own[0].line.part, own[0].line.times == 1


# --- Rows ---


def alike_row(hand: Hand) -> CutRow:
    """Return the row of parts that are cut as an earlier one was."""
    return CutRow(
        numbers=numbers(hand.moves[0].first, hand.moves[-1].last),
        in_hand=in_hand_words(hand.moves[0].line),
        like=f"part {hand.like}",
    )


def run_rows(hand: Hand, ruler: Ruler) -> Iterator[CutRow]:
    """Yield the cuts of equal parts, those that take off the like from the same edge in one row."""
    for _, group in groupby(hand.moves, key=lambda move: move.likeness):
        run = list(group)
        for at in range(0, len(run), LONGEST_RUN):
            yield run_row(run[at : at + LONGEST_RUN], ruler)


def run_row(run: Sequence[Move], ruler: Ruler) -> CutRow:
    """Return the row of like cuts."""
    first, last = run[0], run[-1]
    hands, kept = first.line.hands, last.step.kept
    each = "each " if len(hands) > 1 else ""
    return CutRow(
        numbers=numbers(first.first, last.last),
        in_hand=f"{in_hand_words(first.line)}: {each}{size(first.step, ruler)}",
        turn=TURNS[first.step.turns],
        stop=f"{first.step.stop} edge",
        gauges=measures([move.step.gauge for move in run], ruler),
        off=lots_words([move.step.off for move in run], hands, ruler),
        stays=lots_words([kept], hands, ruler) if kept else "",
        narrow=first.narrow,
    )


def in_hand_words(line: Line) -> str:
    """Return what is in hand: `the sheet`, `part 2`, `parts 1 to 3, side by side`, `parts 1 to 6, 4 at a time`."""
    if line.hands == (WHOLE,):
        return "the sheet"
    if len(line.hands) == 1:
        return part_names(line.hands)
    if line.times == 1:
        return f"{part_names(line.hands)}, side by side"
    together = f"{line.at_once} side by side" if line.at_once > 1 else "one"
    return f"{part_names(line.hands)}, {together} at a time"


def lots_words(lots: Sequence[Lot], hands: Sequence[str], ruler: Ruler) -> str:
    """Return equal parts by name and size. lots: off the first of the parts in hand; off the others come the same."""
    first, each = lots[0], "each " if len(lots) * len(hands) > 1 else ""
    if isinstance(first.part, Piece):
        return f"{each}{first.name}"
    if not isinstance(first.part, Cut):
        return f"{first.name}: {each}{size(first.part, ruler)}"
    names = [f"{hand}.{lot.name.rpartition('.')[2]}" for hand in hands for lot in lots]
    return (
        f"{part_names([name.removeprefix(f'{WHOLE}.') for name in names])}: {each}{size(first.part, ruler)}"
    )


def part_names(names: Sequence[str]) -> str:
    """Return parts by name, those that follow each other as a range: `part 2`, `parts 1.2 to 1.12, 2.2`."""
    if len(names) == 1:
        return f"part {names[0]}"
    return f"parts {', '.join(map(run_words, runs(names)))}"


def runs(names: Sequence[str]) -> Iterator[list[str]]:
    """Yield the names in their order, those together that follow each other within one part, upwards or downwards."""
    run: list[str] = []
    for name in names:
        if run and not is_run([*run, name]):
            yield run
            run = []
        run.append(name)
    yield run


def run_words(run: Sequence[str]) -> str:
    """Return names that follow each other: as a range from three on."""
    return f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run)


def is_run(names: Sequence[str]) -> bool:
    """Tell whether names are those of parts of one part that follow each other, upwards or downwards."""
    places = [tuple(map(int, name.split("."))) for name in names]
    steps = {after[-1] - before[-1] for before, after in pairwise(places)}
    return len({place[:-1] for place in places}) == 1 and steps in ({1}, {-1})


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
