"""What a parcel that leaves the country declares. The rows are in `rows.py`, the rule is in `declare.py`."""

from planning.customs.declare import CustomsLine, Declaration, ItemFact, declare, part_of
from planning.customs.rows import HS_CODE, CustomsFact

__all__ = [
    "HS_CODE",
    "CustomsFact",
    "CustomsLine",
    "Declaration",
    "ItemFact",
    "declare",
    "part_of",
]
