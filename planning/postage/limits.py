"""What a service does not take, by weight and size."""

from collections.abc import Iterator
from fractions import Fraction

from kits.measures import format_length, format_weight
from planning.postage.model import Limits, PostParcel, Sides
from planning.postage.volume import length_and_girth


def limit_faults(parcel: PostParcel, limits: Limits) -> Iterator[str]:
    """Yield every limit a parcel is beyond, with both figures."""
    if limits.weight is not None and parcel.weight > limits.weight:
        most = format_weight(Fraction(limits.weight))
        yield f"it weighs {format_weight(parcel.weight)}, and {most} is the most"
    if parcel.outside is not None:
        yield from size_faults(parcel.outside, limits)


def size_faults(outside: Sides, limits: Limits) -> Iterator[str]:
    """Yield every limit of size that three sides are beyond."""
    shortest, second, longest = sorted(outside)
    measures = (
        ("longest side", longest, limits.longest),
        ("second side", second, limits.second),
        ("shortest side", shortest, limits.shortest),
        ("length and girth", length_and_girth(outside), limits.length_and_girth),
    )
    for what, has, most in measures:
        if most is not None and has > most:
            yield f"its {what} is {format_length(has)}, and {format_length(most)} is the most"
    if limits.least and any(
        has < least for has, least in zip(sorted(outside), sorted(limits.least), strict=True)
    ):
        yield f"it is smaller than {by(limits.least)}, the least size"


def by(sides: Sides) -> str:
    """Return three sides as people write them, the longest first."""
    return " x ".join(format_length(side) for side in sorted(sides, reverse=True))


def size_matters(limits: Limits) -> bool:
    """Tell whether any limit asks for a size."""
    return any(
        one is not None
        for one in (limits.longest, limits.second, limits.shortest, limits.length_and_girth, limits.least)
    )
