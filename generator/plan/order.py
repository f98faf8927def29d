"""The best order of tasks: exact search over what is done and where the work last lay.

All precedence holds, stages stand together in their order, and what must follow at once does. Among those
orders the cost is least, compared part by part: changes of face, of place, of tool, then irreversible
tasks late, then the order of the file. A task without a face (place, tool) carries the last one. The set of
tasks done is not enough as a state of the search: what a next task costs depends on the last face, place
and tool too. Dynamic programming over subsets: Held and Karp 1962, from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

SET_LIMIT = 10_000
"""Up to so many feasible sets the search is exact."""

BEAM_WIDTH = 300
"""Beyond that, so many of the best partial orders are followed, or fewer where there are many jobs."""

BEAM_STEPS = 500_000
"""About so many steps that search takes at most: a second or two, whatever the file holds."""

Cost = tuple[int, int, int, int]
"""Changes of face, of place, of tool, and minus the sum of the positions of irreversible tasks."""

_Last = tuple[str | None, str | None, str | None]
_State = tuple[int, _Last]


@dataclass(frozen=True, slots=True)
class Job:
    """What the order needs to know of a task. Jobs are named by their place in the file, from 0."""

    stage: int
    """The stage's place in the order; all jobs of a stage stand together."""
    before: frozenset[int] = frozenset()
    """Jobs that must be done first."""
    face: str | None = None
    place: str | None = None
    tool: str | None = None
    irreversible: bool = False
    then: int | None = None
    """The job that must follow at once."""


@dataclass(frozen=True, slots=True)
class Order:
    """Jobs in order, their cost, and what no order can beat part by part."""

    jobs: tuple[int, ...]
    cost: Cost
    bound: Cost
    proved: bool
    sets: int
    """Feasible sets that were looked at."""


def best_order(jobs: Sequence[Job], start: str | None = None, limit: int = SET_LIMIT) -> Order | None:
    """The order of least cost; None if there is no valid order. ``start`` is the place where work begins."""
    search = _Search(jobs, start)
    levels = search.levels(limit)
    if levels is not None:
        return search.exact(levels)
    return search.beam()


class _Search:
    """One search over done sets, as bits, with the last face, place and tool."""

    def __init__(self, jobs: Sequence[Job], start: str | None) -> None:
        self.jobs = jobs
        self.needed = [sum(1 << b for b in job.before) for job in jobs]
        self.stages = [0] * (max((job.stage for job in jobs), default=0) + 1)
        for index, job in enumerate(jobs):
            self.stages[job.stage] |= 1 << index
        self.forced = [(1 << i, job.then) for i, job in enumerate(jobs) if job.then is not None]
        self.start: _State = (0, (None, start, None))
        self.sets = 1
        self.known: dict[int, list[int]] = {}

    def candidates(self, done: int) -> list[int]:
        """What may come next, in the order of the file."""
        if done not in self.known:
            self.known[done] = self.find(done)
        return self.known[done]

    def find(self, done: int) -> list[int]:
        """The same, worked out."""
        for bit, then in self.forced:
            if done & bit and not done >> then & 1:
                # This one must come now, and only if all that it needs is there.
                return [then] if self.ready(then, done) else []
        open_stage = next((stage for stage in self.stages if stage & ~done), 0)
        return [
            index
            for index in range(len(self.jobs))
            if open_stage >> index & 1 and not done >> index & 1 and self.ready(index, done)
        ]

    def ready(self, index: int, done: int) -> bool:
        stage = self.jobs[index].stage
        earlier = sum(self.stages[:stage])
        return not (self.needed[index] & ~done or earlier & ~done)

    def step(self, state: _State, index: int, position: int) -> tuple[_State, Cost]:
        """The state after a job, and what the job costs at this position."""
        done, (face, place, tool) = state
        job = self.jobs[index]
        cost = (
            _changes(face, job.face),
            _changes(place, job.place),
            _changes(tool, job.tool),
            -position if job.irreversible else 0,
        )
        last = (job.face or face, job.place or place, job.tool or tool)
        return (done | 1 << index, last), cost

    def levels(self, limit: int) -> list[set[_State]] | None:
        """Every state that can be reached, by the number of jobs done; None above ``limit`` done sets."""
        found: list[set[_State]] = [{self.start}]
        for position in range(1, len(self.jobs) + 1):
            following: set[_State] = set()
            done_now: set[int] = set()
            for state in found[-1]:
                after = [self.step(state, index, position)[0] for index in self.candidates(state[0])]
                following.update(after)
                done_now.update(done for done, _ in after)
                if self.sets + len(done_now) > limit:
                    self.sets += len(done_now)
                    return None
            self.sets += len(done_now)
            found.append(following)
        return found

    def exact(self, levels: list[set[_State]]) -> Order | None:
        """Work back from the end: for each state the cheapest way on, ties by the order of the file."""
        best: dict[_State, tuple[Cost, int | None]] = dict.fromkeys(levels[-1], ((0, 0, 0, 0), None))
        for position in range(len(self.jobs), 0, -1):
            for state in levels[position - 1]:
                ways = []
                for index in self.candidates(state[0]):
                    after, cost = self.step(state, index, position)
                    if after in best:
                        ways.append((_add(cost, best[after][0]), index))
                if ways:
                    best[state] = min(ways)
        if self.start not in best:
            return None
        cost = best[self.start][0]
        return Order(tuple(self._follow(best)), cost, cost, True, self.sets)

    def _follow(self, best: dict[_State, tuple[Cost, int | None]]) -> Iterator[int]:
        state = self.start
        for position in range(1, len(self.jobs) + 1):
            index = best[state][1]
            assert index is not None
            yield index
            state, _ = self.step(state, index, position)

    def beam(self) -> Order | None:
        """The best of a bounded search, with a bound that no order can beat."""
        width = max(1, min(BEAM_WIDTH, BEAM_STEPS // len(self.jobs) ** 2))
        ahead: dict[_State, tuple[Cost, tuple[int, ...]]] = {self.start: ((0, 0, 0, 0), ())}
        for position in range(1, len(self.jobs) + 1):
            following: dict[_State, tuple[Cost, tuple[int, ...]]] = {}
            for state, (spent, way) in ahead.items():
                for index in self.candidates(state[0]):
                    after, cost = self.step(state, index, position)
                    entry = (_add(spent, cost), (*way, index))
                    if after not in following or entry < following[after]:
                        following[after] = entry
            kept = sorted(following.items(), key=lambda item: item[1])[:width]
            ahead = dict(kept)
        if not ahead:
            return None
        cost, way = min(ahead.values())
        bound = self.bound()
        return Order(way, cost, bound, cost == bound, self.sets)

    def bound(self) -> Cost:
        """Part by part: each distinct face (place, tool) but the first costs a change at least."""
        faces = {job.face for job in self.jobs} - {None}
        places = ({job.place for job in self.jobs} | {self.start[1][1]}) - {None}
        tools = {job.tool for job in self.jobs} - {None}
        count = len(self.jobs)
        late = sum(1 for job in self.jobs if job.irreversible)
        latest = sum(range(count - late + 1, count + 1))
        return (max(0, len(faces) - 1), max(0, len(places) - 1), max(0, len(tools) - 1), -latest)


def _changes(last: str | None, now: str | None) -> int:
    """1 where a face, place or tool gives way to another; the first one taken is no change."""
    return int(last is not None and now is not None and now != last)


def _add(one: Cost, other: Cost) -> Cost:
    return (one[0] + other[0], one[1] + other[1], one[2] + other[2], one[3] + other[3])
