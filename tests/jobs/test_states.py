"""The rules of background work, alone: in whatever order things happen, no part is lost and none counts twice."""

from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning import states
from planning.states import LIVE, Cancelled, Lost, Part, PartState, Run, State
from tests.support.effort import ALL

NOON = datetime(2027, 3, 1, 12, tzinfo=UTC)
SECOND = timedelta(seconds=1)
RUN = Run(total=1)
TAKEN = (
    Run(state=State.RUNNING, total=1),
    Part(due=NOON, state=PartState.TAKEN, owner="anna", attempt=1, heartbeat=NOON),
)


def test_it_works() -> None:
    both = states.take(RUN, Part(due=NOON), "anna", NOON)
    assert both is not None
    run, part = states.finish(*both, "anna")
    assert (run.done, part.state) == (1, PartState.DONE)
    assert states.end(run).state == State.DONE


def test_a_part_is_taken_by_one_worker_only() -> None:
    assert states.take(*TAKEN, "bram", NOON) is None


def test_a_part_that_failed_waits_longer_each_time_and_then_the_job_fails() -> None:
    run, part, now, pauses = *TAKEN, NOON, []
    for _ in range(states.MOST_ATTEMPTS - 1):
        run, part = states.fail(run, part, "anna", "no such folder", now)
        pauses.append((part.due - now).total_seconds())
        assert states.take(run, part, "anna", now) is None
        now = part.due
        taken = states.take(run, part, "anna", now)
        assert taken is not None
        run, part = taken
    assert pauses == [1, 2, 4, 8]
    run, part = states.fail(run, part, "anna", "no such folder", now)
    assert (run.state, run.error) == (State.FAILED, "no such folder")


def test_no_pause_is_longer_than_the_longest() -> None:
    assert states.pause_after(40) == states.LONGEST_PAUSE


def test_given_back_it_is_as_if_it_had_not_been_taken() -> None:
    _, part = states.give_back(*TAKEN, "anna", NOON)
    assert part == Part(due=NOON)


def test_signs_of_life_keep_a_part_and_silence_loses_it() -> None:
    run, part = TAKEN
    assert states.reap(run, part, NOON + states.STALE) == TAKEN
    run, part = states.reap(run, part, NOON + states.STALE + SECOND)
    assert (part.state, run.attempt) == (PartState.WAITING, 2)
    with pytest.raises(Lost):
        states.finish(run, part, "anna")


def test_a_worker_that_died_too_often_at_one_place_ends_the_job() -> None:
    run, _ = states.reap(TAKEN[0], replace(TAKEN[1], attempt=states.MOST_ATTEMPTS), NOON + 2 * states.STALE)
    assert run.state == State.FAILED
    assert "stopped 5 times" in run.error


def test_a_clock_set_back_neither_saves_the_dead_nor_stops_what_waits() -> None:
    earlier = NOON - timedelta(hours=1)
    run, part = states.reap(*TAKEN, earlier)
    assert part.heartbeat == earlier
    run, part = states.reap(run, part, earlier + states.STALE + SECOND)
    assert part.state is PartState.WAITING
    assert states.reap(RUN, Part(due=NOON), earlier)[1].due == earlier


def test_what_has_ended_stays_as_it_ended() -> None:
    for state in set(State) - set(LIVE):
        run, part = replace(TAKEN[0], state=state), TAKEN[1]
        assert states.cancel(run) == run
        assert states.reap(run, part, NOON + 2 * states.STALE) == (run, part)
        assert states.take(run, Part(due=NOON), "bram", NOON) is None
        with pytest.raises(Cancelled):
            states.finish(run, part, "anna")


# --- Anything in any order ---


@dataclass
class World:
    """A job, its rows, and three workers: each may be slow, die, or do again what it has done already.

    What a worker keeps is written down in `kept` in the same step as its part is finished, as one transaction does it.
    """

    sizes: tuple[int, ...]
    now: datetime = NOON
    run: Run = field(default_factory=Run)
    parts: dict[tuple[int, int], Part] = field(default_factory=dict)
    holds: dict[str, tuple[int, int]] = field(default_factory=dict)
    kept: Counter[tuple[int, int]] = field(default_factory=Counter)
    ended: State | None = None
    asked_to_stop: bool = False

    def __post_init__(self) -> None:
        self.open(0)

    def open(self, stage: int) -> None:
        self.run = states.open_stage(self.run, stage, self.sizes[stage])
        self.parts |= {
            (stage, number): Part(due=self.now, stage=stage) for number in range(self.sizes[stage])
        }

    def take(self, worker: str) -> None:
        """Let a worker take the first part that waits, and forget what it had: it was killed, if it had anything."""
        self.holds.pop(worker, None)
        for place, part in sorted(self.parts.items()):
            if (both := states.take(self.run, part, worker, self.now)) is not None:
                self.run, self.parts[place] = both
                self.holds[worker] = place
                return

    def beat(self, worker: str) -> None:
        place = self.holds.get(worker)
        part = self.parts.get(place) if place else None
        if place and part and part.owner == worker and part.state is PartState.TAKEN:
            self.parts[place] = replace(part, heartbeat=self.now)

    def finish(self, worker: str) -> None:
        """Finish what the worker holds, and let it hold it still: it may do so again."""
        place = self.holds[worker]
        run, part = states.finish(self.run, self.parts[place], worker)
        self.kept[place] += 1
        self.run, self.parts[place] = run, part
        while states.is_complete(self.run):
            if self.run.stage + 1 == len(self.sizes):
                self.run = states.end(self.run)
            else:
                self.open(self.run.stage + 1)

    def give_up(self, worker: str, rule: str) -> None:
        place = self.holds[worker]
        both = self.run, self.parts[place]
        if rule == "fail":
            self.run, self.parts[place] = states.fail(*both, worker, "full", self.now)
        else:
            self.run, self.parts[place] = states.give_back(*both, worker, self.now)

    def start_over(self, worker: str) -> None:
        run = states.start_over(self.run, self.parts[self.holds[worker]], worker, self.sizes[0])
        self.run, self.parts, self.kept = run, {}, Counter()
        self.open(0)

    def tend(self) -> None:
        for place, part in list(self.parts.items()):
            self.run, self.parts[place] = states.reap(self.run, part, self.now)

    def move(self, what: str, worker: str, seconds: int) -> None:
        """Let something happen. What a rule refuses a worker does not happen."""
        try:
            if what == "take":
                self.take(worker)
            elif what == "beat":
                self.beat(worker)
            elif what == "finish" and worker in self.holds:
                self.finish(worker)
            elif what in ("fail", "give back") and worker in self.holds:
                self.give_up(worker, what)
            elif what == "start over" and worker in self.holds:
                self.start_over(worker)
        except (Lost, Cancelled, KeyError):  # KeyError: the row is there no more
            pass
        if what == "tend":
            self.tend()
        elif what == "wait":
            self.now += seconds * SECOND
        elif what == "clock set back":
            self.now -= seconds * timedelta(minutes=1)
        elif what == "cancel":
            self.run, self.asked_to_stop = states.cancel(self.run), True
        self.check()

    def check(self) -> None:
        """Nothing counts twice, nothing counts that is not kept, and an end is an end."""
        done = {place for place, part in self.parts.items() if part.state is PartState.DONE}
        assert all(times == 1 for times in self.kept.values())
        assert set(self.kept) == done
        assert self.run.done == sum(stage == self.run.stage for stage, _ in done)
        for stage in range(self.run.stage):
            assert sum(of == stage for of, _ in done) == self.sizes[stage]
        if self.run.state not in LIVE:
            assert self.ended in (None, self.run.state)
            self.ended = self.run.state

    def recover(self) -> timedelta:
        """Let nothing more go wrong, with one worker left; return how long the job takes that way if work takes no time."""
        begun = self.now
        while self.run.state in LIVE:
            assert self.now - begun < 60 * SECOND
            self.move("tend", "", 0)
            self.move("take", "dora", 0)
            self.move("finish", "dora", 0)
            if "dora" not in self.holds:
                self.now += SECOND
        return self.now - begun


MOVES = st.tuples(
    st.sampled_from(
        (
            *("take", "take", "finish", "finish", "beat", "beat", "tend", "wait", "wait"),
            *("fail", "give back", "clock set back", "start over", "cancel"),
        )
    ),
    st.sampled_from(("anna", "bram", "cleo")),
    st.sampled_from((1, 5, 21, 40)),
)


@settings(max_examples=20_000 if ALL else 300)
@given(st.lists(st.integers(1, 3), min_size=1, max_size=3), st.lists(MOVES, max_size=30))
def test_no_part_is_lost_and_none_counts_twice(sizes: list[int], moves: list[tuple[str, str, int]]) -> None:
    world = World(tuple(sizes))
    for move in moves:
        world.move(*move)
    world.recover()
    if world.run.state is State.DONE:
        assert set(world.kept) == {(stage, n) for stage, size in enumerate(sizes) for n in range(size)}
    elif world.run.state is State.CANCELLED:
        assert world.asked_to_stop
    else:
        assert max(part.attempt for part in world.parts.values()) == states.MOST_ATTEMPTS
