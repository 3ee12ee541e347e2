"""What a parcel that leaves the country declares. The rows are in `rows.py`, the rule is in `declare.py`."""

from planning.customs.rows import HS_CODE, CustomsFact

__all__ = ["HS_CODE", "CustomsFact"]
