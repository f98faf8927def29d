"""A class run many times with people of different speed: what is usual, what eight in ten reach, the last."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from generator.lesson.model import Course, Lesson, Person
from generator.lesson.simulate import simulate

RUNS = 200
SPREAD = 0.2047
"""Spread of people's factors: the logarithm's standard deviation. A quarter of people are slower than 1.15
times, one in ten slower than 1.3 times the usual. An estimate of the house, without source."""


@dataclass(frozen=True)
class Outlook:
    """What a class is likely to take. Minutes from its beginning."""

    median: float
    """Half of all people have finished by then, over all runs."""
    p80: float
    """Eight in ten have."""
    last: float
    """When the last person has finished, in the run in the middle."""
    last_p80: float
    """In eight runs of ten the last person has finished by then."""
    deterministic: Course
    """The class in which everybody needs the planned minutes."""
    waits: dict[str, float]
    """The longest wait for each resource in the run in the middle of all, by its name."""


def percentile(values: Sequence[float], share: float) -> float:
    """The ⌈share · n⌉-th smallest of n values. Raises ValueError if there is none."""
    if not values:
        raise ValueError("there is no value to choose from")
    return sorted(values)[max(0, math.ceil(share * len(values) - 1e-9) - 1)]


def outlook(lesson: Lesson, seed: int, runs: int = RUNS) -> Outlook:
    """Run a class many times; the same seed gives the same numbers."""
    # What would help and what is lent ask of the same changes: a quarter of all runs were made twice.
    return _outlook(lesson.people, lesson.stations, tuple(lesson.tools.items()), seed, runs)


def forget() -> None:
    """Run each class anew when it is asked for again, as a new process does."""
    _outlook.cache_clear()


@lru_cache(maxsize=64)
def _outlook(
    people: tuple[Person, ...], stations: int, tools: tuple[tuple[str, int], ...], seed: int, runs: int
) -> Outlook:
    lesson = Lesson(people, stations, dict(tools))
    courses = list(courses_of(lesson, seed, runs))
    finishes = [time for course in courses for time in course.finish]
    lasts = [course.last for course in courses]
    names = sorted({name for course in courses for name in course.longest})
    return Outlook(
        percentile(finishes, 0.5),
        percentile(finishes, 0.8),
        percentile(lasts, 0.5),
        percentile(lasts, 0.8),
        simulate(lesson),
        {name: percentile([course.longest.get(name, 0.0) for course in courses], 0.5) for name in names},
    )


def courses_of(lesson: Lesson, seed: int, runs: int = RUNS) -> Iterator[Course]:
    """Single runs, always the same for a seed.

    Each person's factor in a run is exp(SPREAD · g), g normal, drawn in the order of runs and then of people.
    """
    chance = random.Random(seed)
    for _ in range(runs):
        people = tuple(
            replace(person, factor=person.factor * math.exp(SPREAD * chance.gauss(0.0, 1.0)))
            for person in lesson.people
        )
        yield simulate(replace(lesson, people=people))
