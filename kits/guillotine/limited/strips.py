"""A plan within limits and other rules, strip by strip: each the best strip of the best plan for what is left."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from kits.guillotine.limited.surplus import without_surplus
from kits.guillotine.sheet import UNTRIMMED, SheetProblem, SheetResult
from kits.guillotine.tree import Cause, Cut, Direction, Offcut, Part, count_pieces, divide
from kits.measures import Length

TRIES = 6  # plans for what is left of a sheet


@dataclass(frozen=True, slots=True)
class Strips:
    """How a sheet is cut into strips.

    direction: of the cuts between the strips. worth: of one of each piece. best_free: the best plan without limits.
    """

    problem: SheetProblem
    direction: Direction
    worth: Mapping[str, int]
    best_free: Callable[[SheetProblem], SheetResult]

    def plan(self, values: Mapping[str, int]) -> Part:
        """Return the inside of the edge trims. values: what a piece counts while strips are looked for."""
        width, height = self.problem.usable_width, self.problem.usable_height
        length = width if self.direction is Direction.UPRIGHT else height
        left = {piece.name: piece.limit for piece in self.problem.pieces}
        strips: list[Part] = []
        rest = length
        while (strip := self._best_strip(rest, left, values)) is not None:
            strips.append(strip)
            rest -= self._along(strip) + self.problem.spacing
            for name, count in count_pieces(strip).items():
                limit = left[name]
                left[name] = None if limit is None else limit - count
        return self._laid(strips, length) or Offcut(width, height)

    def _best_strip(
        self, length: Length, left: Mapping[str, int | None], values: Mapping[str, int]
    ) -> Part | None:
        """Return the strip worth most for its width, of plans in which pieces too many count less and less."""
        strips: list[Part] = []
        for _ in range(TRIES):
            problem = self._of_rest(length, left, values)
            if problem is None:
                break
            tree = self.best_free(problem).tree
            is_row = isinstance(tree, Cut) and tree.direction is self.direction
            parts = tree.parts if isinstance(tree, Cut) and is_row else (tree,)
            strips.extend(without_surplus(part, left) for part in parts if count_pieces(part))
            counts = count_pieces(tree)
            surplus = {
                name for name, limit in left.items() if limit is not None and counts.get(name, 0) > limit
            }
            if not surplus:
                break
            values = {name: value * 3 // 4 if name in surplus else value for name, value in values.items()}
        return max(strips, key=lambda part: self._worth(part) / self._along(part), default=None)

    def _of_rest(
        self, length: Length, left: Mapping[str, int | None], values: Mapping[str, int]
    ) -> SheetProblem | None:
        """Return the question of what is best cut out of the rest of the sheet; None where nothing fits."""
        problem = self.problem
        width, height = problem.usable_width, problem.usable_height
        width, height = (length, height) if self.direction is Direction.UPRIGHT else (width, length)
        pieces = tuple(
            replace(piece, value=values[piece.name], limit=None)
            for piece in problem.pieces
            if left[piece.name] != 0 and any(wide <= width and high <= height for wide, high, _ in piece.ways)
        )
        if not pieces:
            return None
        return replace(
            problem, width=width, height=height, pieces=pieces, edge_trim=UNTRIMMED, first=self.direction
        )

    def _worth(self, part: Part) -> int:
        return sum(count * self.worth[name] for name, count in count_pieces(part).items())

    def _along(self, part: Part) -> Length:
        return part.width if self.direction is Direction.UPRIGHT else part.height

    def _laid(self, strips: list[Part], length: Length) -> Part | None:
        """Return strips laid against each other, one that the machine can hold first; as many as that allows."""
        clamp, spacing, ruler = self.problem.clamp, self.problem.spacing, self.problem.ruler
        strips = sorted(strips, key=self._along, reverse=True)
        while strips:
            rest = length - sum(self._along(strip) + spacing for strip in strips) + spacing
            if self._along(strips[0]) >= clamp or (rest == 0 and len(strips) == 1):
                return self._joined(0, strips, rest)
            if rest // ruler * ruler >= clamp:
                return self._joined(rest // ruler * ruler, strips, rest % ruler)
            strips.pop()
        return None

    def _joined(self, before: Length, strips: list[Part], after: Length) -> Part:
        parts: list[Part] = []
        for strip in strips:
            if parts and self.problem.spacing:
                parts.append(self._offcut(strip, self.problem.spacing, Cause.SPACING))
            parts.append(strip)
        if before:
            parts.insert(0, self._offcut(strips[0], before, Cause.LEFT_OVER))
        if after:
            parts.append(self._offcut(strips[0], after, Cause.LEFT_OVER))
        return divide(self.direction, parts) if len(parts) > 1 else parts[0]

    def _offcut(self, beside: Part, length: Length, cause: Cause) -> Offcut:
        if self.direction is Direction.UPRIGHT:
            return Offcut(length, beside.height, cause)
        return Offcut(beside.width, length, cause)
