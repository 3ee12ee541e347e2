"""Read the best plan back out of the tables of its stages."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from kits.guillotine.held import can_hold
from kits.guillotine.stack import Machine, Plan, stack
from kits.guillotine.stages import Grid, Stage
from kits.guillotine.table import Block
from kits.guillotine.tree import Direction, Piece

State: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Traces:
    """The tables of stages, from the last to the first, and what they are about.

    lying: the piece that each block of the grid stands for, in its own size.
    """

    stages: Sequence[Stage]
    grid: Grid
    lying: Sequence[Piece]
    machine: Machine

    def plan(self, number: int, state: State) -> Plan:
        """Return the best plan for a part that is worth something, cut in this stage and in those after it."""
        stage = self.stages[number]
        if stage.before[state] == stage.worth[state]:
            return self._uncut(number, state)
        return self.row(number, [state])

    def row(self, number: int, waiting: list[State]) -> Plan:
        """Return the best plan for parts that are all cut from each other in this stage."""
        stage, plans = self.stages[number], list[Plan]()
        while waiting:
            state = waiting.pop()
            if not stage.worth[state]:
                continue
            if stage.before[state] == stage.worth[state]:
                plans.append(self._uncut(number, state))
            else:
                waiting.extend(self._split(stage, state))
        return stack(stage.direction, plans, self.machine)

    def best_first_cut(self, across: int) -> tuple[int, list[State]]:
        """Return the most that the sheet is worth if it is cut in the first stage, and the two parts it leaves.

        across: its index on the side that the cut does not divide.
        """
        stage, side = self.stages[-1], self.grid.along(self.stages[-1].direction)
        top = len(side.lengths) - 1
        first, second = side.splits[top]
        if top - 1 > side.narrow:  # cut nothing but an offcut off
            first, second = np.append(first, top - 1), np.append(second, 0)
        if not len(first):
            return 0, []
        worth = stage.worth if stage.direction is Direction.UPRIGHT else stage.worth.T
        sums = worth[first, across] + worth[second, across]
        best = int(np.argmax(sums))
        parts = [_state(stage.direction, int(index[best]), across) for index in (first, second)]
        return int(sums[best]), parts

    def _uncut(self, number: int, state: State) -> Plan:
        """Return the plan for a part that is not cut in this stage."""
        if number == 0:
            return self._piece(state)
        if self.stages[number - 1].exact:
            return self.plan(number - 1, self._strip(state))
        return self.plan(number - 1, state)

    def _piece(self, state: State) -> Plan:
        """Return the piece that a part of the last stage is, or is trimmed to."""
        last = self.stages[0]
        for block, piece in zip(self.grid.blocks, self.lying, strict=True):
            if block.worth == last.before[state] and self._holds(state, block, last):
                return self._with_room_to_trim(piece, block, state)
        raise LookupError("a worth that no piece has")

    def _with_room_to_trim(self, piece: Piece, block: Block, state: State) -> Plan:
        """Return the piece with the offcut beside it that the machine needs to hold, if it needs one."""
        plan: Plan = piece
        last = self.stages[0]
        for direction in [last.direction] if last.exact else [last.direction.across, last.direction]:
            upright = direction is Direction.UPRIGHT
            index, length = (state[0], block.width) if upright else (state[1], block.height)
            narrow = (piece.width if upright else piece.height) < self.machine.clamp
            if narrow and self.grid.along(direction).lengths[index] != length:
                plan = stack(direction, [plan], self.machine)
        return plan

    def _holds(self, state: State, block: Block, last: Stage) -> bool:
        for direction, index, length in zip(Direction, state, (block.width, block.height), strict=True):
            if last.exact and direction is not last.direction:
                if last.exact[index] != length:
                    return False
            elif not can_hold(self.grid.along(direction), index, length):
                return False
        return True

    def _strip(self, state: State) -> State:
        """Return the exact strip that a part of the last stage but one is trimmed to."""
        last, worth = self.stages[0], self.stages[1].before[state]
        side = self.grid.along(last.direction.across)
        along, index = state if last.direction is Direction.UPRIGHT else state[::-1]
        for number, length in enumerate(last.exact):
            strip = _state(last.direction, along, number)
            if last.worth[strip] == worth and can_hold(side, index, length):
                return strip
        raise LookupError("a worth that no strip has")

    def _split(self, stage: Stage, state: State) -> tuple[State, State]:
        along, across = state if stage.direction is Direction.UPRIGHT else state[::-1]
        first, second = self.grid.along(stage.direction).splits[along]
        worth = stage.worth if stage.direction is Direction.UPRIGHT else stage.worth.T
        sums = worth[first, across] + worth[second, across]
        best = int(np.flatnonzero(sums == stage.worth[state] + self.grid.price)[0])
        one, other = int(first[best]), int(second[best])
        return _state(stage.direction, one, across), _state(stage.direction, other, across)


def _state(direction: Direction, along: int, across: int) -> State:
    return (along, across) if direction is Direction.UPRIGHT else (across, along)
