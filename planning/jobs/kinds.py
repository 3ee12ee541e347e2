"""The kinds of background work: each is a row of stages, and a stage says how it is cut into parts and how one is done."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from planning.jobs.watch import Watch
from planning.models import Job

Asks = dict[str, Any]
Keep = Callable[[], None]


class StartOverError(Exception):
    """What the job goes by has changed under it: it begins again with what is there now."""


class RefusedError(Exception):
    """The job cannot be done, and no trying again helps; the message is for people."""


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage of a kind of job.

    name: in words, as its page shows it. split: what its parts are asked, found when the stage begins; no parts, no stage.
    do: does a part and returns how to keep what came of it. Doing may take long and may be done twice, even at once; keeping
    is short, and happens once, in one transaction with the mark that the part is done. ready: run when the job is over.
    """

    name: str
    split: Callable[[Job], Iterable[Asks]]
    do: Callable[[Job, Asks, Watch], Keep]


def one_part(job: Job) -> Iterable[Asks]:
    """Leave a stage whole."""
    return ({},)


KINDS: dict[str, tuple[Stage, ...]] = {}
"""Filled by the modules that know a kind of work; `planning.apps` brings them in."""
