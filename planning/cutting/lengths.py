"""Lengths cut from rolls."""

from kits.measures import format_length
from planning.cutting.model import CuttingError, LengthJob, Roll
from planning.cutting.result import LengthTicket


def length_ticket(job: LengthJob, roll: Roll) -> LengthTicket:
    """Cut lengths from single rolls: floor(roll / length) each, never the pooled length of all rolls."""
    out = roll.length // job.length
    if out == 0:
        raise CuttingError(
            f"{job.name}: {format_length(job.length)} is longer than a roll of {roll.name} "
            f"({format_length(roll.length)}). Name a longer roll or a shorter length."
        )
    return LengthTicket(job=job, roll=roll, out=out, rolls=-(-job.wanted // out))
