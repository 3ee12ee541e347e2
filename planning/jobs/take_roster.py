"""Rosters that came by the app, in the background: looked through, or taken in once somebody has agreed.

What waits is told by the intakes' own rows, and each change of them is decided there; so the job is one part that may be
done twice, even at once, and has nothing to keep at its end.
"""

from planning import intake
from planning.jobs.kinds import KINDS, Asks, Keep, Stage, one_part
from planning.jobs.watch import Watch
from planning.models import Job


def take_rosters(job: Job, asks: Asks, watch: Watch) -> Keep:
    """Do what waits for the month."""
    intake.work(job.month_id)
    return lambda: None


KINDS["roster"] = (Stage("looking through the roster", one_part, take_rosters),)
