"""Which way round a piece may lie on a sheet."""

from kits.catalogue import Grain
from kits.guillotine import Turn
from kits.kit import Direction


def turn_for(direction: Direction, grain: Grain) -> Turn | None:
    """Return how a piece is turned on a sheet; None where it asks for a grain that the sheet does not state."""
    if direction is Direction.ANY:
        return Turn.FREE
    if direction is Direction.NOT_TURNED:
        return Turn.NONE
    if grain is Grain.NONE:
        return None
    along_width = direction is Direction.GRAIN_ALONG_WIDTH
    return Turn.NONE if along_width == (grain is Grain.WIDTH) else Turn.QUARTER
