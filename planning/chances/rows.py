"""What may turn out otherwise than planned, in rows."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Unsure(StrEnum):
    """What is not known for certain."""

    SPOILED = "kits spoiled (%)"
    DAMAGED = "boxes damaged (%)"
    SURCHARGE = "carrier surcharge (%)"
    PRICE = "price of a material"


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertain:
    """One thing that is surely not less than `low` and not more than `high`; item: the material of a price not yet quoted.

    Kits are spoiled beyond what the overs cover; a surcharge comes on top of the rates.
    """

    what: Unsure
    item: str = ""
    low: Decimal
    likely: Decimal
    high: Decimal
    note: str = ""
