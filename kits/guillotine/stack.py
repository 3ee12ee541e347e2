"""Write a plan whose stages matter as cuts: each stack of parts is cut in one stage, and nothing is rearranged.

Unlike `kits.guillotine.lay`, which is free to cut waste off where it makes the largest offcut.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from kits.guillotine.tree import Cause, Direction, Offcut, Part, Piece, divide
from kits.measures import Length

UPRIGHT = Direction.UPRIGHT


@dataclass(frozen=True, slots=True)
class Stack:
    """Plans side by side (upright) or one below the other (level), the longest along the stack first.

    width, height: what it needs; where no part can be held, an offcut that can is part of it.
    """

    direction: Direction
    plans: tuple["Plan", ...]
    width: Length
    height: Length


Plan: TypeAlias = Piece | Stack


@dataclass(frozen=True, slots=True)
class Machine:
    """What decides how a stack is cut. clamp: what the machine must hold, a whole number of the ruler."""

    spacing: Length
    clamp: Length
    ruler: Length


class _Room(NamedTuple):
    plan: Plan
    width: Length
    height: Length


def stack(direction: Direction, plans: Sequence[Plan], machine: Machine) -> Stack:
    """Return a stack of plans, even of one alone, which is then cut off what is left over."""
    flat = [
        inner
        for plan in plans
        for inner in (plan.plans if isinstance(plan, Stack) and plan.direction is direction else (plan,))
    ]
    flat.sort(key=lambda plan: -_along(plan, direction))
    along = sum(_along(plan, direction) + machine.spacing for plan in flat) - machine.spacing
    if _along(flat[0], direction) < machine.clamp:
        along += machine.clamp
    across = max(_along(plan, direction.across) for plan in flat)
    width, height = (along, across) if direction is UPRIGHT else (across, along)
    return Stack(direction, tuple(flat), width, height)


def cut_up(plan: Plan, width: Length, height: Length, machine: Machine) -> Part:
    """Return the cut sheet of that size with the plan in its top left corner."""
    rooms = [_Room(plan, width, height)]
    inside: list[range] = []
    for room in rooms:  # grows on the way: each room is followed by those inside it
        within = list(_rooms_inside(room))
        inside.append(range(len(rooms), len(rooms) + len(within)))
        rooms.extend(within)
    parts: dict[int, Part] = {}
    for index in reversed(range(len(rooms))):
        parts[index] = _cut(rooms[index], [parts.pop(inner) for inner in inside[index]], machine)
    return parts[0]


def _rooms_inside(room: _Room) -> Iterator[_Room]:
    if isinstance(room.plan, Stack):
        for plan in room.plan.plans:
            if room.plan.direction is UPRIGHT:
                yield _Room(plan, plan.width, room.height)
            else:
                yield _Room(plan, room.width, plan.height)


def _cut(room: _Room, parts: Sequence[Part], machine: Machine) -> Part:
    if isinstance(room.plan, Stack):
        return _cut_stack(room, room.plan.direction, parts, machine)
    below = _with_rest(room.plan, Direction.LEVEL, room.height - room.plan.height)
    return _with_rest(below, UPRIGHT, room.width - room.plan.width)


def _with_rest(part: Part, direction: Direction, rest: Length) -> Part:
    return divide(direction, [part, _offcut(part, direction, rest, Cause.LEFT_OVER)]) if rest else part


def _cut_stack(room: _Room, direction: Direction, parts: Sequence[Part], machine: Machine) -> Part:
    """Lay the parts against each other, and behind them what is left over.

    Where the machine can hold none of the parts, it holds what is left over, which then comes first.
    """
    laid: list[Part] = [parts[0]]
    for part in parts[1:]:
        if machine.spacing:
            laid.append(_offcut(part, direction, machine.spacing, Cause.SPACING))
        laid.append(part)
    rest = _along(room, direction) - sum(_along(part, direction) for part in laid)
    if _along(parts[0], direction) < machine.clamp and len(laid) > 1:
        held = rest // machine.ruler * machine.ruler
        laid.insert(0, _offcut(parts[0], direction, held, Cause.LEFT_OVER))
        rest -= held
    if rest:
        laid.append(_offcut(parts[0], direction, rest, Cause.LEFT_OVER))
    return divide(direction, laid) if len(laid) > 1 else laid[0]


def _offcut(beside: Part, direction: Direction, along: Length, cause: Cause) -> Offcut:
    if direction is UPRIGHT:
        return Offcut(along, beside.height, cause)
    return Offcut(beside.width, along, cause)


def _along(item: Plan | Part | _Room, direction: Direction) -> Length:
    return item.width if direction is UPRIGHT else item.height
