"""The rule of the bench: an act changes how a box stands, or is refused and changes nothing.

Who has a box in hand is asked before anything else, so whatever order acts of several benches come in, no two of them ever
work on one box.
"""

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace
from datetime import datetime

from planning.packed.model import (
    HELD_FOR,
    MOST_ACTS,
    NOTES,
    UNTOUCHED,
    Act,
    Answer,
    BoxEvent,
    BoxList,
    BoxState,
    Status,
)

Outcome = tuple[BoxState, Answer]
Rule = Callable[[BoxList, BoxState, BoxEvent], Outcome]
DONE = Answer(done=True)
REPEATED = Answer(done=True, said="This counts already.")


def follow_all(
    box: BoxList, events: Iterable[BoxEvent], state: BoxState = UNTOUCHED, known: Collection[str] = ()
) -> tuple[BoxState, list[tuple[BoxEvent, Answer]]]:
    """Follow acts in their order, each once, and return what comes of each. known: ids of acts that count already.

    An act that is refused is not remembered: sent again, it is asked again.
    """
    counted_ids = set(known)
    answers = []
    for event in events:
        answer = REPEATED
        if event.id not in counted_ids:
            state, answer = follow(box, state, event)
            counted_ids |= {event.id} if answer.done else set()
        answers.append((event, answer))
    return state, answers


def follow(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Return how a box stands after an act, and what to say of it."""
    if state.acts >= MOST_ACTS:
        return refused(state, f"This box had {MOST_ACTS:,} acts already: put it aside and ask at the desk.")
    if event.act in NOTES:
        return counted(state), DONE
    after, answer = RULES[event.act](box, state, event)
    return (counted(after) if answer.done else after), answer


def counted(state: BoxState) -> BoxState:
    """Return a state with one act more."""
    return replace(state, acts=state.acts + 1)


def refused(state: BoxState, said: str, *, stops: bool = True) -> Outcome:
    """Leave all as it is and say why."""
    return state, Answer(done=False, said=said, stops=stops)


# --- Having a box in hand ---


def take(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Take a box in hand; one that is in this bench's hand already stays as far as it is."""
    if state.pulled:
        return refused(state, f"This box was pulled from its wave: {state.pulled}. Put it aside.")
    if box.sent:
        return refused(state, "This box has a tracking number already: it is with the carrier.")
    if state.status is Status.CLOSED:
        return refused(state, f"This box is closed already, by {state.who} at {state.bench}.")
    if state.status is Status.IN_HAND and state.bench != event.bench and is_held(state, event.at):
        return refused(state, f"{state.who} has this box in hand at {state.bench}. Take another one.")
    if state.status is Status.IN_HAND and state.bench == event.bench:
        return touched(state, event), DONE
    return touched(BoxState(status=Status.IN_HAND, acts=state.acts), event), DONE


def is_held(state: BoxState, at: datetime) -> bool:
    """Tell whether a box in hand is still kept for its bench."""
    return state.until is not None and at < state.until


def touched(state: BoxState, event: BoxEvent) -> BoxState:
    """Keep a box for whoever works on it, from now on."""
    until = event.at + HELD_FOR
    return replace(
        state,
        bench=event.bench,
        who=event.who,
        until=until if state.until is None else max(until, state.until),
    )


def in_hand(rule: Rule) -> Rule:
    """Let only the bench that has a box in hand do an act to it."""

    def guarded(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
        if state.pulled:
            return refused(state, f"This box was pulled from its wave: {state.pulled}. Put it aside.")
        if state.status is Status.CLOSED:
            return refused(state, f"This box is closed already, by {state.who} at {state.bench}.")
        if state.status is not Status.IN_HAND:
            return refused(state, "This box is in nobody's hand: scan its code first.")
        if state.bench != event.bench:
            return refused(state, f"{state.who} took this box over at {state.bench}. Put it aside.")
        after, answer = rule(box, state, event)
        return (touched(after, event) if answer.done and after.status is Status.IN_HAND else after), answer

    return guarded


@in_hand
def leave(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Put a box back; whoever takes it next begins with an empty one."""
    return BoxState(acts=state.acts), DONE


# --- Filling it ---


@in_hand
def add(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Put something in. What does not belong in stops the box until it is taken out again."""
    if state.wrong:
        return refused(state, "Take out first what does not belong in this box.")
    line = box.line(event.item)
    if event.count < 1:
        return refused(state, "Put in at least one.")
    if line is None:
        said = f"{event.note or event.item} does not belong in this box. Take it out."
        return replace(state, wrong=event.item), Answer(done=True, said=said, stops=True)
    left = line.count - state.inside[line.item]
    if event.count > left:
        said = f"One too many: {line.name} is wanted {line.count} times. Take it out."
        return replace(state, wrong=event.item), Answer(done=True, said=said, stops=True)
    return replace(state, trail=(*state.trail, (line.item, event.count))), DONE


@in_hand
def out(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Take all of an item out again."""
    kept = tuple(one for one in state.trail if one[0] != event.item)
    if kept == state.trail:
        return refused(state, "None of it is in the box.", stops=False)
    return replace(state, trail=kept), DONE


@in_hand
def right(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Go on after what does not belong in was taken out."""
    if not state.wrong:
        return refused(state, "Nothing wrong is in the box.", stops=False)
    return replace(state, wrong=""), DONE


# --- Closing it ---


@in_hand
def close(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Close a box that holds all of its list, nothing else, and weighs what it must."""
    if state.wrong:
        return refused(state, "Take out first what does not belong in this box.")
    if missing := state.missing(box):
        return refused(state, "Missing: " + ", ".join(f"{count} × {line.name}" for line, count in missing))
    if why := misweighed(box, event.tenths):
        return refused(state, why)
    closed = replace(
        state, status=Status.CLOSED, tenths=event.tenths, closed_at=event.at, until=None, who=event.who
    )
    return closed, DONE


def misweighed(box: BoxList, tenths: int | None) -> str:
    """Say what is wrong with a box's weight, empty where it may be closed."""
    if box.weighing is None:
        return ""
    between = f"{grams(box.weighing.lightest)} to {grams(box.weighing.heaviest)} g"
    if tenths is None:
        return f"Weigh the box: it must be {between}."
    if tenths < box.weighing.lightest:
        return (
            f"Too light by {grams(box.weighing.lightest - tenths)} g: it must be {between}. What is missing?"
        )
    if tenths > box.weighing.heaviest:
        return (
            f"Too heavy by {grams(tenths - box.weighing.heaviest)} g: it must be {between}. What is too much?"
        )
    return ""


def grams(tenths: int) -> str:
    """Return a weight in grams: 312.5, 300."""
    whole, rest = divmod(tenths, 10)
    return f"{whole:,}.{rest}" if rest else f"{whole:,}"


def undo(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Take back the last act: open the box again, or take out what came last."""
    if state.status is Status.CLOSED:
        return reopen(box, state, event)
    return undo_filling(box, state, event)


def reopen(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Open a closed box again, at the bench that closed it, as long as it is in the house."""
    if state.bench != event.bench:
        return refused(state, f"This box was closed at {state.bench}: it is opened again there.")
    if box.sent:
        return refused(state, "This box has a tracking number already: it is with the carrier.")
    if state.pulled:
        return refused(state, f"This box was pulled from its wave: {state.pulled}. Put it aside.")
    return touched(replace(state, status=Status.IN_HAND, closed_at=None, tenths=None), event), DONE


@in_hand
def undo_filling(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Take out what came last."""
    if state.wrong:
        return replace(state, wrong=""), DONE
    if not state.trail:
        return refused(state, "Nothing is in the box to take out.", stops=False)
    return replace(state, trail=state.trail[:-1]), DONE


# --- At the desk ---


def pull(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Take a box out of its wave, whatever is in it; who has it in hand hears of it with the next act."""
    if box.sent:
        return refused(state, "This box has a tracking number already: it is with the carrier.")
    if state.pulled:
        return refused(state, f"This box is pulled already: {state.pulled}.")
    if not event.note:
        return refused(state, "Say why the box is pulled.")
    return BoxState(pulled=event.note, acts=state.acts), DONE


def restore(box: BoxList, state: BoxState, event: BoxEvent) -> Outcome:
    """Put a box back into its wave; it is packed anew."""
    if not state.pulled:
        return refused(state, "This box is in its wave.")
    return replace(state, pulled=""), DONE


RULES: dict[Act, Rule] = {
    Act.TAKE: take,
    Act.ADD: add,
    Act.OUT: out,
    Act.RIGHT: right,
    Act.CLOSE: close,
    Act.UNDO: undo,
    Act.LEAVE: leave,
    Act.PULL: pull,
    Act.RESTORE: restore,
}
