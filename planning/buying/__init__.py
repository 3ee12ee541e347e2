"""Step 4, buying: what to order from whom, how many, by when. The rule is in `choose.py`, its checker in `check.py`.

`alone.py` takes each material by itself, `programme.py` all of them; `options.py` says which offers come in time, `steps.py`
which quantities are worth weighing, `split.py` how one material may come from several suppliers, `lot.py` what to buy for a
year, `larger.py` which sheets to cut from larger ones, `reasons.py` why.
"""

from planning.buying.ask import BuyingError, buy_as_asked
from planning.buying.check import buying_faults, larger_faults
from planning.buying.choose import plan_buying
from planning.buying.larger import Larger, LargerProblem, LargerResult, OwnOrLarger, decide_larger
from planning.buying.lot import Lot, cheapest_lot
from planning.buying.model import (
    BuyingProblem,
    BuyingResult,
    BuyLine,
    Need,
    PriceRise,
    Purchase,
    SupplierOrder,
    Unmet,
)

__all__ = [
    "BuyLine",
    "BuyingError",
    "BuyingProblem",
    "BuyingResult",
    "Larger",
    "LargerProblem",
    "LargerResult",
    "Lot",
    "Need",
    "OwnOrLarger",
    "PriceRise",
    "Purchase",
    "SupplierOrder",
    "Unmet",
    "buy_as_asked",
    "buying_faults",
    "cheapest_lot",
    "decide_larger",
    "larger_faults",
    "plan_buying",
]
