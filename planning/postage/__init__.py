"""Postage: what a parcel costs by each service, and why one does not take it. The rule is in `quotes.py`.

`zones.py` finds the zone, `volume.py` the charged weight, `tables.py` the band, `limits.py` what is too large. The checker
is `check.py`.
"""

from planning.postage.check import postage_faults
from planning.postage.errors import NoRateError, NoZoneError, PostageError
from planning.postage.model import (
    Band,
    Limits,
    ParcelPostage,
    PostageProblem,
    PostageResult,
    PostParcel,
    Quote,
    RateTable,
    Refused,
    Surcharge,
    Tariff,
    in_force,
)
from planning.postage.quotes import plan_postage
from planning.postage.volume import (
    Rounding,
    RoundTo,
    Volume,
    VolumeRule,
    counted_volume,
    girth,
    length_and_girth,
    volume_weight,
)
from planning.postage.zones import Area, ZoneChart, ZoneRow, zone_disputes

__all__ = [
    "Area",
    "Band",
    "Limits",
    "NoRateError",
    "NoZoneError",
    "ParcelPostage",
    "PostParcel",
    "PostageError",
    "PostageProblem",
    "PostageResult",
    "Quote",
    "RateTable",
    "Refused",
    "RoundTo",
    "Rounding",
    "Surcharge",
    "Tariff",
    "Volume",
    "VolumeRule",
    "ZoneChart",
    "ZoneRow",
    "counted_volume",
    "girth",
    "in_force",
    "length_and_girth",
    "plan_postage",
    "postage_faults",
    "volume_weight",
    "zone_disputes",
]
