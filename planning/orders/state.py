"""Where an order stands, and what may be done with it then."""

from collections.abc import Mapping
from enum import StrEnum

from planning.orders.model import NOTHING, Order, Received, State


class Act(StrEnum):
    """What people do with an order."""

    EDIT = "changed"
    SEND = "sent"
    AMEND = "amended"
    RECEIVE = "received against"
    CLOSE = "closed"
    DROP = "dropped"


MAY: Mapping[State, frozenset[Act]] = {
    State.DRAFT: frozenset({Act.EDIT, Act.SEND, Act.DROP}),
    State.SENT: frozenset({Act.AMEND, Act.RECEIVE, Act.CLOSE}),
    State.PART_RECEIVED: frozenset({Act.AMEND, Act.RECEIVE, Act.CLOSE}),
    State.CLOSED: frozenset(),
}
INSTEAD: Mapping[State, str] = {
    State.DRAFT: "check and send it first",
    State.SENT: "amend it instead",
    State.PART_RECEIVED: "amend it instead",
    State.CLOSED: "make another order for what is still wanted",
}


class OrderStateError(ValueError):
    """Something is done with an order that its state does not allow."""

    def __init__(self, number: str, state: State, act: Act) -> None:
        super().__init__(f"Order {number} is {state}, so it cannot be {act}: {INSTEAD[state]}")


def allow(number: str, state: State, act: Act) -> None:
    """Raise OrderStateError where the act is not allowed."""
    if act not in MAY[state]:
        raise OrderStateError(number, state, act)


def due(order: Order, received: Mapping[int, Received]) -> Mapping[int, int]:
    """Return how many units of each line of goods are still to come. Damaged units count as not delivered."""
    return {one.key: max(0, one.quantity - received.get(one.key, NOTHING).good) for one in order.goods}


def state_of(order: Order, received: Mapping[int, Received], *, sent: bool, closed: bool) -> State:
    """Return where an order stands. closed: by hand; an order of which nothing is due any more is closed by itself."""
    if not sent:
        return State.DRAFT
    if closed or not any(due(order, received).values()):
        return State.CLOSED
    is_begun = any(one.good or one.damaged for one in received.values())
    return State.PART_RECEIVED if is_begun else State.SENT
