"""A history as arrays: members by cohort and month, who joined, who got no box; and what of it was known by then."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planning.forecast.model import ForecastProblem, serial

Array = np.ndarray[tuple[int, ...], np.dtype[np.int64]]


@dataclass(frozen=True)
class History:
    """members: [cohort, month], 0 where not yet counted. start, age: of each cohort, the month its counts begin and its
    months of membership then. away: members without a box; calendar: 0 to 11 for January to December; promoted: by month.
    """

    members: Array
    start: Array
    age: Array
    away: Array
    calendar: Array
    promoted: Array

    @property
    def months(self) -> int:
        """How many months it spans."""
        return self.members.shape[1]

    @cached_property
    def total(self) -> Array:
        """Members in each month."""
        total: Array = self.members.sum(axis=0)
        return total

    @cached_property
    def boxes(self) -> Array:
        """Boxes sent in each month."""
        return self.total - self.away

    @cached_property
    def joined(self) -> Array:
        """People who joined in each month."""
        found = np.zeros(self.months, dtype=np.int64)
        new = self.age == 0
        np.add.at(found, self.start[new], self.members[new, self.start[new]])
        return found

    @cached_property
    def steps(self) -> tuple[Array, Array, Array, Array]:
        """From every month of a cohort to its next: month of the history, months of membership, members before, kept."""
        row, at = np.nonzero(np.arange(1, self.months) > self.start[:, None])
        return (
            at + 1,
            self.age[row] + at + 1 - self.start[row],
            self.members[row, at],
            self.members[row, at + 1],
        )

    @cached_property
    def by_tenure(self) -> tuple[Array, Array]:
        """Members kept and lost on the way to their 1st, 2nd, ... month after joining."""
        _, tenure, before, kept = self.steps
        size = int(tenure.max(initial=0))
        found = np.zeros((2, size), dtype=np.int64)
        np.add.at(found[0], tenure - 1, kept)
        np.add.at(found[1], tenure - 1, before - kept)
        return found[0], found[1]

    def until(self, month: int) -> "History":
        """Return what was known when so many months had passed."""
        rows = self.start < month
        return History(
            self.members[rows, :month],
            self.start[rows],
            self.age[rows],
            self.away[:month],
            self.calendar[:month],
            self.promoted[:month],
        )


def history_of(problem: ForecastProblem) -> History:
    """Return the history of a question."""
    months, cohorts = problem.months, problem.cohorts
    start = np.array([problem.start(one) for one in cohorts], dtype=np.int64)
    members = np.zeros((len(cohorts), len(months)), dtype=np.int64)
    for row, one in enumerate(cohorts):
        members[row, start[row] :] = one.members
    return History(
        members=members,
        start=start,
        age=np.array([max(0, problem.first - serial(one.joined)) for one in cohorts], dtype=np.int64),
        away=np.array([one.skipped + one.paused for one in months], dtype=np.int64),
        calendar=np.array([serial(one.month) % 12 for one in months], dtype=np.int64),
        promoted=np.array([one.promotion for one in months], dtype=np.int64),
    )
