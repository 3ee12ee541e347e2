"""Step 4, buying: what to order from whom, how many, by when. The rule is in `choose.py`, its checker in `check.py`."""

from planning.buying.check import buying_faults
from planning.buying.choose import plan_buying
from planning.buying.lot import Lot, cheapest_lot
from planning.buying.model import BuyingProblem, BuyingResult, BuyLine, Need, PriceRise, SupplierOrder

__all__ = [
    "BuyLine",
    "BuyingProblem",
    "BuyingResult",
    "Lot",
    "Need",
    "PriceRise",
    "SupplierOrder",
    "buying_faults",
    "cheapest_lot",
    "plan_buying",
]
