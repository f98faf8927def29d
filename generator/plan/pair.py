"""Two people at one shade: who does what when, in the shortest time, and what that saves over one.

Each works by needs alone, not stage by stage. What must go on at once is one block and stays in one pair of
hands. A task is shared only where the technique states its factor: then both work at it for the factor times
its minutes, and a block with such a task may take both people from its first task to its last.

The search is exact. Sorted by their starts, blocks are placed one after another, each as early as it can be;
every best plan can be had so. What comes next depends only on the blocks done, on each person's last block
and on when it ends, so of two ways to the same point one is dropped if it is nowhere earlier. Own derivation,
after dynamic programming over subsets (Held and Karp 1962, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from generator.plan.critical import Pace, schedule
from generator.plan.model import Plan, Step

UNIT = 1000
"""Minutes are counted in thousandths, so that sums compare exactly."""
WAY_LIMIT = 20_000
"""So many ways are followed from one block to the next; beyond that the best of them."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One step in a pair's schedule. ``people`` are 1, 2 or both; minutes from the start of the work."""

    step: int
    people: tuple[int, ...]
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class PairPlan:
    """A schedule for two."""

    turns: tuple[Turn, ...]
    """By start, then by step."""
    minutes: float
    """When the last step is done."""
    alone: float
    """Minutes of one person, rests included."""
    bound: float
    """No two people can be quicker: the critical path, or half of all the work."""
    proved: bool
    """No schedule of this kind is shorter; False where the search had to leave ways out."""
    twice: tuple[str, ...]
    """Tools that both need at the same time."""

    @property
    def saved(self) -> float:
        """Minutes saved over one person."""
        return self.alone - self.minutes


@dataclass(frozen=True, slots=True)
class _Block:
    """Steps that one pair of hands does without a wait, in one way: by one person, or by both."""

    steps: tuple[Step, ...]
    ends: tuple[int, ...]
    """When each step ends, from the block's start."""
    shared: bool
    rest: int
    """After its end its results rest so long before they can be used."""

    @property
    def length(self) -> int:
        return self.ends[-1]

    def start_of(self, place: int) -> int:
        return self.ends[place - 1] if place else 0


@dataclass(frozen=True, slots=True)
class _Way:
    """What is placed so far: when each person is free, how much the second helped, when rests are over."""

    free: tuple[int, int]
    help: int
    rests: tuple[tuple[int, int], ...]
    placed: tuple[int, bool, int, tuple[int, ...]] | None
    before: _Way | None

    @property
    def values(self) -> tuple[int, ...]:
        return (*self.free, self.help, *(end for _, end in self.rests))


_Key = tuple[int, tuple[int, bool] | None, tuple[int, bool] | None]


def pair_plan(plan: Plan, pace: Pace = "first_time", limit: int = WAY_LIMIT) -> PairPlan:
    """The shortest schedule for two; of equal ones that in which the second person has the fewest blocks."""
    search = _Search(plan, pace)
    end, best, whole = search.best(limit)
    turns = sorted(search.turns(best), key=lambda turn: (turn.start, turn.step))
    bound = search.bound()
    alone = sum(block.length + block.rest for block, _ in search.blocks)
    return PairPlan(
        tuple(turns),
        end / UNIT,
        alone / UNIT,
        bound / UNIT,
        whole or end == bound,
        _twice(plan, turns),
    )


class _Search:
    def __init__(self, plan: Plan, pace: Pace) -> None:
        self.pace: Pace = pace
        self.blocks: list[tuple[_Block, _Block | None]] = [
            (self.block(steps, False), self.block(steps, True) if _shareable(steps) else None)
            for steps in _chains(plan)
        ]
        self.home = {
            step.number: (index, place)
            for index, (block, _) in enumerate(self.blocks)
            for place, step in enumerate(block.steps)
        }
        self.needs = [self.edges(index) for index in range(len(self.blocks))]
        self.needed = [sum(1 << b for b in {b for b, _, _ in edges}) for edges in self.needs]

    def block(self, steps: Sequence[Step], shared: bool) -> _Block:
        ends: list[int] = []
        for step in steps:
            factor = step.task.share if shared and step.task.share is not None else 1.0
            length = round(getattr(step.minutes, self.pace) * factor * UNIT)
            ends.append(length + (ends[-1] if ends else 0))
        return _Block(tuple(steps), tuple(ends), shared, round(steps[-1].rest * UNIT))

    def edges(self, index: int) -> list[tuple[int, int, int]]:
        """Blocks that give this one something: the block, the giver's place in it, the taker's place here."""
        found = set()
        for place, step in enumerate(self.blocks[index][0].steps):
            for number in step.from_steps.values():
                giver, at = self.home[number]
                if giver != index:
                    found.add((giver, at, place))
        return sorted(found)

    def best(self, limit: int) -> tuple[int, _Way, bool]:
        """When the best way ends, the way, and whether every way was looked at."""
        ahead: dict[_Key, list[_Way]] = {(0, None, None): [_Way((0, 0), 0, (), None, None)]}
        whole = True
        for _ in self.blocks:
            following: dict[_Key, list[_Way]] = {}
            for key, ways in ahead.items():
                for way in ways:
                    for after, next_way in self.steps(key, way):
                        _keep(following.setdefault(after, []), next_way)
            if sum(map(len, following.values())) > limit:
                whole = False
                following = _cut(following, limit)
            ahead = following
        ways = [way for found in ahead.values() for way in found]
        best = min(ways, key=lambda way: (max(way.values[:2]), way.help, sum(way.free)))
        return max(best.free), best, whole

    def steps(self, key: _Key, way: _Way) -> Iterator[tuple[_Key, _Way]]:
        done, *last = key
        starts = [
            0 if one is None else way.free[person] - self.of(one).length for person, one in enumerate(last)
        ]
        for index, (alone, both) in enumerate(self.blocks):
            if done >> index & 1 or self.needed[index] & ~done:
                continue
            choices: list[tuple[_Block, tuple[int, ...]]] = [(alone, (0,))]
            # Who begins does not matter.
            choices += [(alone, (1,))] if done else []
            choices += [(both, (0, 1))] if both else []
            for block, people in choices:
                start = max(*starts, *(way.free[person] for person in people))
                start = max(start, *self.ready(index, block, last, way), 0)
                end = start + block.length
                free = tuple(end if person in people else way.free[person] for person in (0, 1))
                one, other = ((index, block.shared) if p in people else last[p] for p in (0, 1))
                rests = tuple(sorted((*way.rests, (index, end + block.rest)))) if block.rest else way.rests
                placed = (index, block.shared, start, people)
                helped = way.help + (1 in people)
                following = _Way((free[0], free[1]), helped, rests, placed, way)
                yield (done | 1 << index, one, other), following

    def ready(
        self, index: int, block: _Block, last: Sequence[tuple[int, bool] | None], way: _Way
    ) -> Iterator[int]:
        """The earliest starts that its needs allow. What is nobody's last block any more has ended by now."""
        rests = dict(way.rests)
        for giver, at, place in self.needs[index]:
            if giver in rests and at == len(self.blocks[giver][0].steps) - 1:
                yield rests[giver] - block.start_of(place)
            for person, one in enumerate(last):
                if one is not None and one[0] == giver:
                    done = self.of(one)
                    yield way.free[person] - done.length + done.ends[at] - block.start_of(place)

    def of(self, one: tuple[int, bool]) -> _Block:
        alone, both = self.blocks[one[0]]
        return both if one[1] and both is not None else alone

    def bound(self) -> int:
        """The longest chain of needs, and half of the work, each block in its quicker way."""
        work = [min(block.length, 2 * both.length) if both else block.length for block, both in self.blocks]
        quick = [both if both and both.length < alone.length else alone for alone, both in self.blocks]
        minutes: dict[int, float] = {}
        before: dict[int, list[int]] = {}
        for number, (index, place) in sorted(self.home.items()):
            block, step = quick[index], self.blocks[index][0].steps[place]
            minutes[number] = block.ends[place] - block.start_of(place)
            before[number] = list(step.from_steps.values())
        rests = {
            n: self.blocks[i][0].rest
            for n, (i, p) in self.home.items()
            if p == len(self.blocks[i][0].steps) - 1
        }
        longest = schedule(minutes, before, rests).length
        return max(round(longest), -(-sum(work) // 2))

    def turns(self, way: _Way) -> Iterator[Turn]:
        while way.placed is not None and way.before is not None:
            index, shared, start, people = way.placed
            block = self.of((index, shared))
            for place, step in enumerate(block.steps):
                yield Turn(
                    step.number,
                    tuple(person + 1 for person in people),
                    (start + block.start_of(place)) / UNIT,
                    (start + block.ends[place]) / UNIT,
                )
            way = way.before


def _chains(plan: Plan) -> list[list[Step]]:
    """Steps in order, those together that must go on at once."""
    found: list[list[Step]] = []
    held = False
    for step in plan.steps:
        if held:
            found[-1].append(step)
        else:
            found.append([step])
        held = step.task.after == "at-once"
    return found


def _shareable(steps: Sequence[Step]) -> bool:
    return any(step.task.share is not None for step in steps)


def _keep(ways: list[_Way], way: _Way) -> None:
    """Add a way unless another is nowhere later; drop those that it beats."""
    values = way.values
    for other in ways:
        if all(a <= b for a, b in zip(other.values, values, strict=True)):
            return
    ways[:] = [o for o in ways if not all(a <= b for a, b in zip(values, o.values, strict=True))]
    ways.append(way)


def _cut(following: dict[_Key, list[_Way]], limit: int) -> dict[_Key, list[_Way]]:
    several = [(key, way) for key, ways in following.items() for way in ways]
    several.sort(key=lambda item: (sum(item[1].free), max(item[1].free), item[1].help))
    kept: dict[_Key, list[_Way]] = {}
    for key, way in several[:limit]:
        kept.setdefault(key, []).append(way)
    return kept


def _twice(plan: Plan, turns: Sequence[Turn]) -> tuple[str, ...]:
    tools = {step.number: set(step.task.tools) for step in plan.steps}
    found: set[str] = set()
    for one, other in product(turns, turns):
        apart = one.people == (1,) and other.people == (2,)
        if apart and one.start < other.end and other.start < one.end:
            found |= tools[one.step] & tools[other.step]
    return tuple(tool for tool in plan.tools if tool in found)
