"""What a page makes of a plan, kept from one look to the next: a plan never changes."""

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Any, TypeVar

from planning.flow import MonthPlan
from planning.run import Planned

Made = TypeVar("Made")
MOST = 64  # pages and strips of some plans
Key = tuple[Callable[[Planned], Any], int, tuple[str, ...]]

_kept: OrderedDict[Key, tuple[MonthPlan, Any]] = OrderedDict()
_lock = Lock()


def kept(make: Callable[[Planned], Made], planned: Planned) -> Made:
    """Return make(planned), made anew only where it was not made of this very plan lately.

    make: a function that asks nothing else than the plan. A function made for one look, as by partial or lambda, is never
    the same again, and what it makes is not kept.
    """
    if "<" in getattr(make, "__qualname__", "<"):
        return make(planned)
    key = (make, id(planned.plan), planned.gaps)
    with _lock:
        if key in _kept:
            _kept.move_to_end(key)
            made: Made = _kept[key][1]
            return made
    made = make(planned)
    with _lock:
        _kept[key] = planned.plan, made  # the plan is held, so that nothing else gets its identity
        while len(_kept) > MOST:
            _kept.popitem(last=False)
    return made
