"""The cuts of a recipe in the order in which one person makes them at a trimmer.

What is in hand lies with one edge at the fence; the mark is what stays between fence and blade. Parallel cuts go from
the far mark down, so that the edge stays at the fence. What stays there is cut on before anything else is picked up,
and what has come off is finished before the next lift: so little is laid aside and little is turned.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import count
from string import ascii_uppercase

from kits.guillotine import Direction, Edge, Part
from kits.measures import Length, Ruler, format_exact
from kits.recipe.design import Design, PagePiece
from kits.recipe.hand import Hand, in_hand

OFFCUT = "an offcut"

_FENCE = {Direction.UPRIGHT: Edge.LEFT, Direction.LEVEL: Edge.TOP}


class Fate(StrEnum):
    """What becomes of something when a cut has been made."""

    PIECE = "a finished piece"
    OFFCUT = "left over"
    ASIDE = "laid aside to be cut on"
    IN_HAND = "cut on next"


@dataclass(frozen=True, slots=True)
class Lot:
    """What a cut gives: of these sheets one part each, all of one size.

    name: a piece's, `an offcut`, or the name under which it is cut on. page: where a piece goes, empty for a spare.
    """

    sheets: tuple[str, ...]
    name: str
    part: Part
    fate: Fate
    page: str = ""


@dataclass(frozen=True, slots=True)
class TrimStep:
    """One cut. picked_up: what is in hand was not there before. turned: it is turned a quarter first.

    hand: its name; sheets: of which sheets it is; width, height: its size as it lies in the drawing of the sheet.
    fence: which of its edges lies at the fence. off: what comes off. kept: what stays, where it is finished or several
    sheets part there; empty where all of it is cut on.
    """

    number: int
    sheets: tuple[str, ...]
    hand: str
    width: Length
    height: Length
    picked_up: bool
    turned: bool
    fence: Edge
    mark: Length
    off: tuple[Lot, ...]
    kept: tuple[Lot, ...]


@dataclass(frozen=True, slots=True)
class TrimSteps:
    """All cuts of a recipe, and the sheets that are used whole."""

    steps: tuple[TrimStep, ...]
    uncut: tuple[Lot, ...]

    @property
    def cuts(self) -> int:
        """How many cuts there are, those of several sheets together counted once."""
        return len(self.steps)

    @property
    def turns(self) -> int:
        """How often something is turned."""
        return sum(step.turned for step in self.steps)

    @property
    def pick_ups(self) -> int:
        """How often something is taken to hand."""
        return sum(step.picked_up for step in self.steps)


def trim_steps(design: Design) -> TrimSteps:
    """Return the cuts of a design lift by lift."""
    steps: list[TrimStep] = []
    uncut: list[Lot] = []
    for lift in design.lifts:
        hands = in_hand(lift).apart()
        uncut += [_finished(hand) for hand in hands if hand.leaf is not None]
        bench = _Bench([(_labels(hand), hand) for hand in hands if hand.leaf is None], len(steps))
        steps += bench.work()
    return TrimSteps(tuple(steps), tuple(uncut))


class _Bench:
    """What lies around a trimmer while one lift is cut."""

    def __init__(self, hands: list[tuple[str, Hand]], done: int) -> None:
        self._aside = hands[::-1]
        self._numbers = count(done + 1)
        self._letters = count()

    def work(self) -> Iterator[TrimStep]:
        """Yield the cuts of all that lies there, the last laid aside first."""
        while self._aside:
            yield from self._finish(*self._aside.pop())

    def _sort(self, hands: Sequence[Hand]) -> tuple[Lot, ...]:
        """Lay aside what is to be cut on, under a name; return what is finished and what has that name."""
        lots = []
        for hand in hands:
            if hand.leaf is not None:
                lots.append(_finished(hand))
                continue
            name = f"strip {_letter(next(self._letters))}"
            self._aside.append((name, hand))
            lots.append(Lot(_each_label(hand), name, hand.parts[0], Fate.ASIDE))
        return tuple(lots)

    def _finish(self, name: str, hand: Hand) -> Iterator[TrimStep]:
        """Yield the cuts of what is picked up until nothing of it is left to cut."""
        picked_up = True
        while True:
            turned = hand.needs_turn
            hand = hand.turned() if turned else hand
            off, kept = hand.cut_off()
            off_lots, groups = self._sort(off.apart()), kept.apart()
            going = next((each for each in groups if each.leaf is None), None)
            kept_lots = self._sort([each for each in groups if each is not going])
            after = name
            if going and kept_lots:
                after = _part_of(name, hand, going)
                kept_lots += (Lot(_each_label(going), after, going.parts[0], Fate.IN_HAND),)
            yield self._step(name, hand, off_lots, kept_lots, picked_up=picked_up, turned=turned)
            if going is None:
                return
            name, hand, picked_up = after, going, False

    def _step(
        self,
        name: str,
        hand: Hand,
        off: tuple[Lot, ...],
        kept: tuple[Lot, ...],
        *,
        picked_up: bool,
        turned: bool,
    ) -> TrimStep:
        part = hand.parts[0]
        return TrimStep(
            number=next(self._numbers),
            sheets=_each_label(hand),
            hand=name,
            width=part.width,
            height=part.height,
            picked_up=picked_up,
            turned=turned,
            fence=_FENCE[hand.direction],
            mark=hand.mark,
            off=off,
            kept=kept,
        )


def _part_of(name: str, whole: Hand, part: Hand) -> str:
    """Return what some sheets of a stack are called once the others have been taken away."""
    return _labels(part) if name == _labels(whole) else f"{name} of {_labels(part)}"


def _finished(hand: Hand) -> Lot:
    part = hand.parts[0]
    if isinstance(part, PagePiece):
        return Lot(_each_label(hand), part.name, part, Fate.PIECE, part.page)
    return Lot(_each_label(hand), OFFCUT, part, Fate.OFFCUT)


def _each_label(hand: Hand) -> tuple[str, ...]:
    return tuple(sheet.label for sheet in hand.sheets)


def _labels(hand: Hand) -> str:
    return " and ".join(_each_label(hand))


def _letter(number: int) -> str:
    """Return A, B ... Z, AA, AB ..."""
    before, letter = divmod(number, len(ascii_uppercase))
    return (_letter(before - 1) if before else "") + ascii_uppercase[letter]


# --- In words ---


def say_step(step: TrimStep, own: Ruler) -> str:
    """Return a cut as a few sentences, to be read out beside the trimmer."""
    hand = f"Take {step.hand}" if step.picked_up else f"Go on with {step.hand}"
    turn = ", turn it a quarter" if step.turned else ""
    edge = f"with the {step.fence} edge at the fence" if step.picked_up or step.turned else "as it lies"
    said = [
        f"{hand}{turn} and cut at {format_exact(step.mark, own.unit)}, {edge}.",
        f"Off {'come' if _are_several(step.off) else 'comes'} {_say(step.off)}.",
    ]
    return " ".join([*said, f"What stays is {_say(step.kept)}."] if step.kept else said)


def _are_several(lots: Sequence[Lot]) -> bool:
    return sum(len(lot.sheets) for lot in lots) > 1


def _say(lots: Sequence[Lot]) -> str:
    return " and ".join(say_lot(lot, of_several=len(lots) > 1) for lot in lots)


def say_lot(lot: Lot, *, of_several: bool = False) -> str:
    """Return what something is and where it goes: `story card for page right`, `strip A (lay it aside)`."""
    sheets = f" ({' and '.join(lot.sheets)})" if of_several and lot.fate is not Fate.IN_HAND else ""
    return f"{_number(lot)}{sheets}{_where(lot)}"


def _number(lot: Lot) -> str:
    if len(lot.sheets) == 1:
        return lot.name
    if lot.fate is Fate.OFFCUT:
        return f"{len(lot.sheets)} offcuts"
    return lot.name if lot.fate is Fate.IN_HAND else f"{len(lot.sheets)} × {lot.name}"


def _where(lot: Lot) -> str:
    if lot.fate is Fate.PIECE:
        return f" for page {lot.page}" if lot.page else " to spare"
    return {Fate.ASIDE: " (lay it aside)", Fate.IN_HAND: " (go on with it)"}.get(lot.fate, "")
