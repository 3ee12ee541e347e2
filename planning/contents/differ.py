"""What differs from a tier's kit in a box, told an item at a time: by rules, and by what somebody gets besides."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from planning.contents.model import Reason
from planning.roster import Besides, Change


class Boxed(Protocol):
    """Something filled: what is in it, and why."""

    goods: Counter[str]
    reasons: list[Reason]


def changes(reasons: Iterable[Reason]) -> tuple[Change, ...]:
    """Add up what rules changed; what one put in and another took out again is no change."""
    by_item: defaultdict[str, list[Reason]] = defaultdict(list)
    for reason in reasons:
        if reason.occasion:
            by_item[reason.item].append(reason)
    found = (change(item, own) for item, own in by_item.items())
    return tuple(sorted(one for one in found if one.count))


def change(item: str, reasons: Sequence[Reason]) -> Change:
    """Add up one item's; only what goes the way of the sum says why."""
    count = sum(reason.count for reason in reasons)
    own = [reason for reason in reasons if reason.count * count > 0]
    return Change(
        item=item,
        count=count,
        why=" and ".join(dict.fromkeys(reason.occasion for reason in own)),
        instead=stands_for(own),
    )


def stands_for(reasons: Sequence[Reason]) -> str:
    """Return the item that all of it stands for, if it is one."""
    instead = {reason.instead for reason in reasons}
    return instead.pop() if len(instead) == 1 else ""


def besides(before: Counter[str], after: Boxed, kind: Besides) -> Iterator[Change]:
    """Yield what is more in a box with extras of a kind than without them: rules change what was ordered, too."""
    for item, count in sorted(after.goods.items()):
        if more := count - before[item]:
            own = [one for one in after.reasons if one.item == item and one.occasion and one.count > 0]
            yield Change(item=item, count=more, why=kind, instead=stands_for(own))
