"""What the demo's things are to customs, and where they stand in its store. Codes of the Harmonized System from memory."""

from dataclasses import replace
from decimal import Decimal

from kits.catalogue import Material
from planning.customs.rows import CustomsFact

PRINTED, CARD, CLEAR = "4911.91", "4823.90", "4806.40"

# fmt: off
FACTS = (
    # item, in plain words, HS code, made in, value of one
    ("BLOSSOM", "printed paper sheet", PRINTED, "IE", "0.62"),
    ("GINGHAM", "printed paper sheet", PRINTED, "IE", "0.62"),
    ("SCRIPT", "printed paper sheet", PRINTED, "IE", "0.62"),
    ("TRELLIS", "printed paper sheet", PRINTED, "IE", "0.62"),
    ("CREAM", "coloured card sheet", CARD, "SE", "0.28"),
    ("BARK", "coloured card sheet", CARD, "SE", "0.28"),
    ("ROSE", "coloured card sheet", CARD, "SE", "0.28"),
    ("SKY-A4", "coloured paper sheet", CARD, "SE", "0.09"),
    ("VELLUM-A4", "transparent paper sheet", CLEAR, "DE", "0.14"),
    ("IVORY-2026", "card, cut to size", CARD, "FI", "0.85"),
    ("IVORY-SRA2", "card, cut to size", CARD, "FI", "0.55"),
    ("VELLUM-SRA2", "transparent paper sheet", CLEAR, "DE", "0.48"),
    ("KRAFT-B1", "card, cut to size", CARD, "SE", "0.95"),
    ("CARD-34", "card, cut to size", CARD, "FI", "0.03"),
    ("BOOKLET", "printed booklet", "4901.99", "IE", "1.10"),
    ("STICKERS", "printed stickers", "4821.10", "IE", "0.45"),
    ("WELCOME", "printed card", "4911.99", "IE", "0.20"),
    ("STENCIL", "plastic stencil", "3926.10", "PT", "0.80"),
    ("STAMPS", "hand stamps", "9611.00", "PT", "2.90"),
    ("GLASSINE", "paper envelope", "4817.10", "PL", "0.06"),
    ("BRADS", "paper fasteners of copper", "7419.80", "IT", "0.03"),
    ("BUTTONS", "buttons of wood", "9606.29", "IT", "0.11"),
    ("RIBBON", "linen ribbon", "5806.39", "LT", "8.75"),
    ("TWINE", "cotton twine", "5607.90", "PT", "6.40"),
)
# fmt: on

CUSTOMS = tuple(
    CustomsFact(item=item, words=words, hs_code=code, origin=origin, value=Decimal(value))
    for item, words, code, origin, value in FACTS
)


def shelved(materials: tuple[Material, ...]) -> tuple[Material, ...]:
    """Return the materials with their places in the store: bay, shelf and bin, in the order of the list."""
    return tuple(
        replace(one, shelf=f"{'ABC'[place // 12 % 3]}{place // 3 % 4 + 1}-{place % 3 + 1}")
        for place, one in enumerate(materials)
    )
