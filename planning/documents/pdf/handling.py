"""Cautions where the work can hurt someone. They never call a cut or a lift harmless; the maker's manual,
local rules and trained staff come first.
"""

from collections.abc import Iterator
from fractions import Fraction

from reportlab.platypus import Flowable

from planning.documents.pdf.look import words
from planning.documents.pdf.words import weight

# Grams. The lower figure of the Health and Safety Executive's lifting filter (L23, INDG143) for a load held close to
# the body at elbow height, read in a training booklet that quotes it. It is a filter for a closer look, no limit.
HEAVY = Fraction(16_000)

GUILLOTINE = (
    "Guards and two-hand start stay in place and in use. One person at the machine, hands out from under clamp "
    "and knife.",
    "Push stick for small pieces. No stack above the height this machine is set for, no strip below its smallest.",
    "Knife down, locked and power off before you leave. Knife changes only by trained staff, with the carrier.",
    "The machine's manual, your local rules and trained staff come before this ticket.",
)
BLADES = (
    "Shears and rotary blades: cut away from hands and body, and close or cover the blade when it is laid down.",
    "Local rules, the tool maker's word and trained staff come first.",
)
LOADS = (
    "Heavy cartons at the bottom, edge to edge, none over the deck's edge. Wrap or strap the load before it is moved, and "
    "keep it low enough to see over.",
    "Lift with the load close and your back straight, turn with your feet, not your waist; two people or a trolley for what "
    "is heavy, awkward or high up. Gloves where straps or edges cut.",
    "Pallet trucks and lifts only by people trained on them. Nobody under a raised load.",
    "Your local rules, the carrier's and the equipment's own come before these figures. They count cartons "
    "and do not judge a stack or a lift.",
)


def load_cautions() -> list[Flowable]:
    """Return what every page says by which cartons and pallets are moved."""
    return [words(f"• {line}", "small") for line in LOADS]


def guillotine_cautions() -> list[Flowable]:
    """Return what every cutting ticket says."""
    return [words(f"• {line}", "small") for line in GUILLOTINE]


def blade_caution() -> list[Flowable]:
    """Return what the page of lengths says."""
    return [words(f"• {line}", "small") for line in BLADES]


def lifting_cautions(grams: Fraction, paper: str, what: str) -> Iterator[str]:
    """Yield a caution where something weighs more than one person should lift without a closer look."""
    if grams > HEAVY:
        yield (
            f"{what} {weight(grams, paper)}. Split the load, use a trolley or lift it with two people, and follow "
            "your local rules and what trained staff say; even a lighter load can be too heavy in a bad posture."
        )
