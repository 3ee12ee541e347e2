"""Recipes may be saved half done. What is still wrong with a month then keeps it from being planned."""

from collections.abc import Sequence
from dataclasses import replace

from planning.faults import TITLES, Fault, Unread, faults
from planning.month import Month

SHOWN = 5
UNREAD: Unread = {
    "subscribers": ({},),
    "orders": ({},),
}  # not looked at, so nothing is called missing that is in them


class DraftError(ValueError):
    """A month has faults, as a recipe saved half done leaves them."""

    def __init__(self, found: Sequence[Fault], month: Month) -> None:
        super().__init__(found)
        self.found = tuple(found)
        self.month = month

    def __str__(self) -> str:
        lines = [f"{place(fault, self.month)}: {fault}" for fault in self.found[:SHOWN]]
        more = len(self.found) - SHOWN
        lines += [f"And {more} more."] if more > 0 else []
        many = "1 fault stands" if len(self.found) == 1 else f"{len(self.found)} faults stand"
        return f"{many} in the way of a plan. {' '.join(lines)}"


def draft_faults(month: Month) -> tuple[Fault, ...]:
    """Return the faults of a month but for its people, who were looked at when they came in."""
    return faults(replace(month, subscribers=(), orders=()), UNREAD)


def refuse_drafts(month: Month) -> None:
    """Raise DraftError where a month has faults."""
    if found := draft_faults(month):
        raise DraftError(found, month)


def place(fault: Fault, month: Month) -> str:
    """Return the recipe a fault is in, else the sheet of the month file it would stand on."""
    code = recipe_of(fault, month)
    return f"Recipe {code}" if code else TITLES[fault.table]


def recipe_of(fault: Fault, month: Month) -> str:
    """Return the code of the recipe that a fault is in, empty where it is in none."""
    if fault.row is None or fault.table not in ("recipes", "roles", "pieces", "kit_papers"):
        return ""
    row = getattr(month, fault.table)[fault.row]
    return str(row.code if fault.table == "recipes" else row.recipe)
