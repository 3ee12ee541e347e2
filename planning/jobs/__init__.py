"""Background work: enqueue -> take a part -> do it -> keep what came of it, stage after stage, until the job has ended.

The rules are in `planning.states`, which knows no database; `rows.py` applies them to the job's row and its parts', each in
one transaction with what a part has made. `work.py` is what a worker does, `tend.py` looks after what dead workers left,
and `kinds.py` names the stages of each kind of job. A message to a worker is only a hint to look at the rows, so it may be
lost or come twice.
"""

from planning.jobs.ask import cancel, enqueue, send
from planning.jobs.kinds import KINDS, Stage
from planning.jobs.rows import Hold, take
from planning.jobs.tend import TEND, tend
from planning.jobs.watch import BEAT, Watch
from planning.jobs.work import work_on, work_on_one, work_until, worker_name
from planning.states import Cancelled, Lost

__all__ = [
    "BEAT",
    "KINDS",
    "TEND",
    "Cancelled",
    "Hold",
    "Lost",
    "Stage",
    "Watch",
    "cancel",
    "enqueue",
    "send",
    "take",
    "tend",
    "work_on",
    "work_on_one",
    "work_until",
    "worker_name",
]
