"""Paper that can be printed, turned over, folded and leafed through: a plain model of what hands do.

A layer of paper has marks on both faces. Every mark is where it is seen from above, as if paper were glass,
so turning or folding mirrors its place and puts the upper face below. Lengths are in mm, y upwards.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

Point = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """A page's number, with the places of its head and of its foot."""

    number: int
    head: Point
    foot: Point

    def mirrored(self, axis: int, at: float) -> Mark:
        def flip(point: Point) -> Point:
            x, y = point
            return (2 * at - x, y) if axis == 0 else (x, 2 * at - y)

        return replace(self, head=flip(self.head), foot=flip(self.foot))

    @property
    def upright(self) -> bool:
        """Whether its head is straight above its foot."""
        return self.head[1] > self.foot[1] + 10 and abs(self.head[0] - self.foot[0]) < 0.1


@dataclass(frozen=True)
class Layer:
    """One thickness of paper: what is printed on its upper and on its lower face."""

    upper: tuple[Mark, ...]
    lower: tuple[Mark, ...]

    def over(self, axis: int, at: float) -> Layer:
        """Turned over about a line, ``axis`` 0 for an upright one."""
        return Layer(
            tuple(mark.mirrored(axis, at) for mark in self.lower),
            tuple(mark.mirrored(axis, at) for mark in self.upper),
        )

    def part(self, axis: int, at: float, *, beyond: bool) -> Layer:
        """What lies on one side of a line."""

        def here(mark: Mark) -> bool:
            return (mark.foot[axis] > at) is beyond

        return Layer(tuple(filter(here, self.upper)), tuple(filter(here, self.lower)))


Stack = list[Layer]
"""From the table upwards."""


def printed(front: Sequence[Mark], back: Sequence[Mark], turned_about: int, size: Point) -> Layer:
    """A sheet with its front up; its back was printed after it had been turned about its middle line."""
    at = size[turned_about] / 2
    return Layer(tuple(front), tuple(mark.mirrored(turned_about, at) for mark in back))


def turned(stack: Stack, axis: int, at: float) -> Stack:
    """The whole stack turned over."""
    return [layer.over(axis, at) for layer in reversed(stack)]


def folded(stack: Stack, axis: int, at: float, *, beyond: bool) -> Stack:
    """The part on one side of a line laid over the other part."""
    lying = [layer.part(axis, at, beyond=not beyond) for layer in stack]
    moving = [layer.part(axis, at, beyond=beyond) for layer in stack]
    return lying + turned(moving, axis, at)


def leafed(stack: Stack, spine: float) -> list[Mark | None]:
    """What a reader sees from the front on: each layer's upper face, then its lower one when it is turned."""
    seen: list[Mark | None] = []
    for layer in reversed(stack):
        for face in (layer.upper, layer.over(0, spine).upper):
            assert len(face) < 2
            seen.append(face[0] if face else None)
    return seen
