"""Few copies of many pieces: take some out of the plan, put them back better, and again, with one sheet fewer.

Where most pieces are wanted once or twice, whole patterns are hardly ever used twice, and rounding a plan in
fractions gives little. After the idea of S. Gardeyn and T. Wauters, A goal-driven ruin and recreate heuristic for
the 2D variable-sized bin packing problem with guillotine constraints, Eur. J. Oper. Res. 301 (2022), from memory:
the goal is a lower cost than the best plan's, and what counts is the area of the pieces that have no place yet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from planning.cutting.patterns.filled import LEVEL, UPRIGHT, Filled, Node, Way

MEMORY = 100  # rounds after which a plan must not be worse than it was then
OTHER_CUT = 0.25  # share of places that are cut the other way than leaves the largest rest
PASSED_OVER = 0.03  # share of places that are not looked at, so that the same plan does not come again


@dataclass(frozen=True, slots=True)
class Blank:
    """A sheet, empty. ways: how each piece may lie on it. cost: in any unit. available: None for any number."""

    width: int
    height: int
    cost: float
    available: int | None
    ways: tuple[tuple[Way, ...], ...]


class Packing:
    """Sheets with pieces in them, and the pieces that have no place yet."""

    def __init__(self, blanks: Sequence[Blank], copies: Sequence[int], areas: Sequence[int]) -> None:
        """copies: the piece of each copy wanted. areas: of the pieces."""
        self.blanks = blanks
        self.areas = areas
        self.random = Random(0)  # noqa: S311
        self.sheets: list[Filled] = []
        self.out: list[int] = list(copies)
        self.total = sum(areas[piece] for piece in copies)
        self.goal = float("inf")

    @property
    def cost(self) -> float:
        """What the sheets in use cost."""
        return sum(self.blanks[sheet.blank].cost for sheet in self.sheets)

    def fill(self) -> None:
        """Put as many pieces as have a place into it, large ones first."""
        noise = self.random.random
        self.out.sort(key=lambda piece: -self.areas[piece] * (0.8 + 0.4 * noise()))
        own: set[int] = set()
        self.out = [p for p in self.out if not self._place(p, own) and not self._open(p, own)]

    def _place(self, piece: int, own: set[int]) -> bool:
        """Put a piece where it leaves the least. own: numbers of the sheets that may be changed in place."""
        best, at = None, None
        chance = self.random.random
        for number, sheet in enumerate(self.sheets):
            for place, node in enumerate(sheet.free):
                wide, high = node.width, node.height
                for way in self.blanks[sheet.blank].ways[piece]:
                    right, below = wide - way.width, high - way.height
                    if right < 0 or below < 0:
                        continue
                    left = right if right < below else below
                    if (best is None or left < best) and chance() > PASSED_OVER:
                        best, at = left, (number, place, way)
        if at is None:
            return False
        self._put(piece, *at, own)
        return True

    def _put(self, piece: int, number: int, place: int, way: Way, own: set[int]) -> None:
        sheet = self._own(number, own)
        node = sheet.free[place]
        right, below = node.width - way.width, node.height - way.height
        direction = UPRIGHT if right * node.height >= below * node.width else LEVEL
        if self.random.random() < OTHER_CUT:
            direction = direction.across
        node.place(piece, way, direction)
        sheet.used += self.areas[piece]
        sheet.look()

    def _own(self, number: int, own: set[int]) -> Filled:
        if number not in own:
            self.sheets[number] = self.sheets[number].copy()
            own.add(number)
        return self.sheets[number]

    def _open(self, piece: int, own: set[int]) -> bool:
        """Put a piece into a sheet not used yet, if the goal allows for one."""
        cost = self.cost
        fits = [
            (blank.cost / (blank.width * blank.height), number)
            for number, blank in enumerate(self.blanks)
            if cost + blank.cost <= self.goal
            and (blank.available is None or blank.available > sum(s.blank == number for s in self.sheets))
            and any(way.width <= blank.width and way.height <= blank.height for way in blank.ways[piece])
        ]
        if not fits:
            return False
        number = min(fits)[1] if self.random.random() < 0.8 else self.random.choice(fits)[1]
        blank = self.blanks[number]
        self.sheets.append(Filled(number, Node(blank.width, blank.height, None)))
        own.add(len(self.sheets) - 1)
        return self._place_in_last(piece, own)

    def _place_in_last(self, piece: int, own: set[int]) -> bool:
        number = len(self.sheets) - 1
        root = self.sheets[number].root
        for way in self.blanks[self.sheets[number].blank].ways[piece]:
            if way.width <= root.width and way.height <= root.height:
                self._put(piece, number, 0, way, own)
                return True
        return False

    def ruin(self) -> None:
        """Take pieces out of some sheets, or whole sheets."""
        if not self.sheets:
            return
        pick = self.random
        own: set[int] = set()
        if pick.random() < 0.15:
            self._drop(pick.randrange(len(self.sheets)))
        for _ in range(pick.randint(1, 3)):
            if not self.sheets:
                return
            number = min(pick.randrange(len(self.sheets)), pick.randrange(len(self.sheets)))
            sheet = self._own(number, own)
            for _ in range(pick.randint(1, 3)):
                self._take_out(sheet)
            sheet.look()
        self.sheets.sort(key=lambda sheet: sheet.used)

    def _take_out(self, sheet: Filled) -> None:
        """Take a piece out of a sheet, with all that was cut from the same part as often as not."""
        there = sheet.pieces()
        if not there:
            return
        node = self.random.choice(there)
        while node.parent is not None and self.random.random() < 0.4:
            node = node.parent
        for leaf in node.leaves():
            if leaf.piece >= 0:
                self.out.append(leaf.piece)
                sheet.used -= self.areas[leaf.piece]
        node.clear()

    def _drop(self, number: int) -> None:
        self.out += [leaf.piece for leaf in self.sheets.pop(number).pieces()]

    def lower(self, goal: float) -> None:
        """Take out the emptiest sheets until the rest costs no more than the goal."""
        self.goal = goal
        while self.sheets and self.cost > goal:
            worst = min(
                range(len(self.sheets)),
                key=lambda n: self.sheets[n].used / self.blanks[self.sheets[n].blank].cost,
            )
            self._drop(worst)

    @property
    def left_out(self) -> int:
        """The area of the pieces that have no place."""
        return sum(self.areas[piece] for piece in self.out)


def pack(packing: Packing, rounds: int, step: float, target: float) -> Iterator[tuple[Filled, ...]]:
    """Yield the sheets of better and better plans. step: how much a plan must be cheaper; target: where to end."""
    packing.fill()
    if packing.out:
        return
    yield tuple(packing.sheets)
    packing.lower(packing.cost - step)
    kept = (list(packing.sheets), list(packing.out), packing.left_out)
    memory = [kept[2]] * MEMORY
    for number in range(rounds):
        if packing.goal < target:
            return
        packing.sheets, packing.out = list(kept[0]), list(kept[1])
        packing.ruin()
        packing.fill()
        left = packing.left_out
        if not packing.out:
            yield tuple(packing.sheets)
            packing.lower(packing.cost - step)
            kept = (list(packing.sheets), list(packing.out), packing.left_out)
            memory = [kept[2]] * MEMORY
        elif left <= kept[2] or left <= memory[number % MEMORY]:
            kept = (list(packing.sheets), list(packing.out), left)
        memory[number % MEMORY] = min(memory[number % MEMORY], kept[2])
