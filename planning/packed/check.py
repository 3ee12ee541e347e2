"""The checker of the bench: looks at the acts that counted, from their end backwards, and shares no code with the rule."""

from collections import Counter
from collections.abc import Iterator, Sequence

from planning.packed.model import Act, BoxEvent, BoxList, BoxState


def packed_faults(box: BoxList, events: Sequence[BoxEvent], state: BoxState) -> tuple[str, ...]:
    """Return every way in which how a box stands does not follow from the acts that counted. events: in their order."""
    return tuple(all_faults(box, events, state))


def all_faults(box: BoxList, events: Sequence[BoxEvent], state: BoxState) -> Iterator[str]:
    """Look at the ids, at whose hand every act was, and at what a closed box holds."""
    twice = [name for name, times in Counter(event.id for event in events).items() if times > 1]
    yield from (f"act {name} counts twice" for name in twice)
    if state.acts != len(events):
        yield f"{state.acts} acts are counted of {len(events)}"
    yield from hands(events)
    if state.status == "closed":
        yield from unfit_to_close(box, events, state)


def hands(events: Sequence[BoxEvent]) -> Iterator[str]:
    """Yield the acts of a bench that was not the last to take the box."""
    holder = ""
    for event in events:
        if event.act is Act.TAKE:
            holder = event.bench
        elif event.act in (Act.ADD, Act.OUT, Act.RIGHT, Act.CLOSE, Act.UNDO, Act.LEAVE):
            if event.bench != holder:
                yield f"{event.bench} did {event.act} while the box was with {holder or 'nobody'}"
        elif event.act is Act.PULL:
            holder = ""
        if event.act is Act.LEAVE:
            holder = ""


def unfit_to_close(box: BoxList, events: Sequence[BoxEvent], state: BoxState) -> Iterator[str]:
    """Yield why a closed box may not be closed."""
    held: Counter[str] = Counter()
    for item, count in state.trail:
        held[item] += count
    if held != Counter({line.item: line.count for line in box.lines}) or state.wrong:
        yield "a closed box holds other things than its list"
    last = next((event for event in reversed(events) if event.act in (Act.CLOSE, Act.UNDO, Act.PULL)), None)
    if last is None or last.act is not Act.CLOSE:
        yield "a box is closed that nobody closed last"
    weighing = box.weighing
    if weighing and (state.tenths is None or not weighing.lightest <= state.tenths <= weighing.heaviest):
        yield "a closed box weighs what it may not"
