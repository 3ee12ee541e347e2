"""What a carrier charges a parcel as: its weight, or its volume counted as weight."""

from collections.abc import Sequence
from fractions import Fraction

from planning.postage import RoundTo, VolumeRule, girth, volume_weight
from planning.shipping.rows import Service

__all__ = ["charged_weight", "dimensional_weight", "girth"]


def charged_weight(service: Service, grams: Fraction, outside: Sequence[int] | None) -> Fraction:
    """Return the grams a parcel is charged as: the larger of its weight and its dimensional weight."""
    if service.divisor is None or outside is None:
        return grams
    return max(grams, dimensional_weight(service, outside))


def dimensional_weight(service: Service, outside: Sequence[int]) -> Fraction:
    """Return the grams a volume counts as (0 where the service has no such rule, or at or below its threshold).

    outside: three lengths.
    """
    rule = volume_rule(service)
    return Fraction(0) if rule is None else volume_weight(rule, outside)


def volume_rule(service: Service) -> VolumeRule | None:
    """Return how a service counts volumes, None where it does not."""
    if service.divisor is None:
        return None
    return VolumeRule(
        divisor=service.divisor,
        volume=service.volume,
        sides=RoundTo(service.round_sides),
        above=service.volume_above,
        weight=RoundTo(service.round_weight),
    )
