"""Step 6, shipping: which day and service each box leaves by. The rule is in `schedule.py`, its checker in `check.py`."""

from planning.shipping.check import shipping_faults
from planning.shipping.check_waves import waves_faults
from planning.shipping.model import (
    CrewOn,
    DayLoad,
    Fare,
    Load,
    Parcel,
    ServiceTerms,
    ShippingProblem,
    ShippingResult,
    Unsendable,
    Wave,
    WavePart,
)
from planning.shipping.rows import (
    CrewDay,
    DayOff,
    OffFor,
    Rate,
    Rounding,
    Service,
    SurchargeRow,
    Transit,
    Volume,
    WeekdayCrew,
    Zone,
)
from planning.shipping.schedule import pack_plainly, plan_shipping
from planning.shipping.waves import make_waves

__all__ = [
    "CrewDay",
    "CrewOn",
    "DayLoad",
    "DayOff",
    "Fare",
    "Load",
    "OffFor",
    "Parcel",
    "Rate",
    "Rounding",
    "Service",
    "ServiceTerms",
    "ShippingProblem",
    "ShippingResult",
    "SurchargeRow",
    "Transit",
    "Unsendable",
    "Volume",
    "Wave",
    "WavePart",
    "WeekdayCrew",
    "Zone",
    "make_waves",
    "pack_plainly",
    "plan_shipping",
    "shipping_faults",
    "waves_faults",
]
