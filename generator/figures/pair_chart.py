"""Two people at one shade as a chart: a lane each, minutes from left to right.

A step too short for its number has it outside, beyond its lane. Where nobody works for long, while something
dries, the line of minutes is broken.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.base.words import Words
from generator.figures.canvas import Canvas
from generator.figures.lettering import text_width
from generator.figures.model import Figure
from generator.figures.pens import EM, INK, NEW, PVC_INSIDE, RULE, SOFT, THIN, WHITE, Pen
from generator.figures.spread import spread
from generator.figures.svg import Passport, write_svg
from generator.plan.critical import Pace
from generator.plan.model import Plan
from generator.plan.pair import PairPlan, Turn

WIDTH = 178.0
LEFT, RIGHT = 20.0, 3.0
"""For the names of the lanes, and beyond the last minute, mm."""
LANE, BETWEEN = 8.6, 2.6
"""Height of a lane, and between the two, mm."""
OUTSIDE, CLOSE = 8.4, 2.0
"""Beyond a lane: with numbers there, and without, mm."""
GAP = 0.3
"""White round a dark bar, so that two of them are two, mm."""
PAUSE, BREAK = 15.0, 9.0
"""A pause longer than this, minutes, is drawn so long only, mm."""
TICKS = (5, 10, 20, 30, 60)
"""Minutes from mark to mark of the scale."""
LEAST_TICK = 12.0
"""Least distance of two marks, mm."""
ROOM = 1.2
"""Paper that a number needs beside it, mm."""
BASE = 0.33 * EM
LEADER = Pen(0.25, SOFT, (), "butt")


@dataclass(frozen=True)
class Scale:
    """Where a minute stands, past pauses that are cut short."""

    breaks: tuple[tuple[float, float], ...]
    end: float
    pitch: float
    """mm to the minute."""
    width: float = WIDTH
    """Of the whole chart, mm."""

    def x(self, minute: float) -> float:
        """Place of a minute, mm."""
        at = LEFT
        worked = minute
        for start, end in self.breaks:
            if minute >= end:
                worked -= end - start
                at += BREAK
            elif minute > start:
                worked = worked - (minute - start)
                at += BREAK * (minute - start) / (end - start)
        return at + worked * self.pitch

    def cut(self, minute: float) -> bool:
        """Whether a minute lies in a pause that is cut short."""
        return any(start < minute < end for start, end in self.breaks)


def pair_chart(
    plan: Plan, pair: PairPlan, pace: Pace, words: Words, width: float = WIDTH, enlarged: float = 1.0
) -> Figure:
    """The chart of one schedule, drawn for a place of this width, mm, then so many times as large."""
    name = f"pair-{pace.replace('_', '-')}"
    scale = scale_of(pair.turns, pair.minutes, width)
    first, second = (_outside(pair.turns, person, scale) for person in (1, 2))
    above = OUTSIDE if first else CLOSE
    tops = (above, above + LANE + BETWEEN)
    foot = tops[1] + LANE + (OUTSIDE if second else CLOSE)
    canvas = Canvas(width, foot + 6.6, view="plan")
    _lanes(canvas, words, tops, scale)
    _minutes(canvas, words, scale, foot)
    dark = {step.number for step in plan.steps if step.task.irreversible}
    ids = {step.number: step.id for step in plan.steps}
    for turn in pair.turns:
        _bar(canvas, turn, ids, turn.step in dark, tops, scale)
    _numbers(canvas, pair.turns, ids, dark, tops, scale)
    if enlarged != 1.0:
        canvas.magnify(enlarged)
    alt = words.say(f"alt.{name}", minutes=words.number(pair.minutes), saved=words.number(pair.saved))
    svg = write_svg(canvas, Passport(name, name, 0, alt, language=words.language))
    return Figure(name, 0, svg, round(canvas.width, 2), round(canvas.height, 2), alt)


def ticks(pair: PairPlan, width: float = WIDTH) -> tuple[int, ...]:
    """The minutes that the scale below a chart of this width, mm, names."""
    return tuple(_named(scale_of(pair.turns, pair.minutes, width)))


def scale_of(turns: Sequence[Turn], minutes: float, width: float = WIDTH) -> Scale:
    """The scale that fits the work of two between the edges."""
    breaks = tuple(_pauses(turns, minutes))
    worked = minutes - sum(end - start for start, end in breaks)
    pitch = (width - LEFT - RIGHT - BREAK * len(breaks)) / max(worked, 1.0)
    return Scale(breaks, minutes, pitch, width)


def _pauses(turns: Sequence[Turn], minutes: float) -> Iterator[tuple[float, float]]:
    """From and to when nobody works, if that is long."""
    done = 0.0
    for turn in sorted(turns, key=lambda turn: turn.start):
        if turn.start - done > PAUSE:
            yield done, turn.start
        done = max(done, turn.end)
    if minutes - done > PAUSE:
        yield done, minutes


def _lanes(canvas: Canvas, words: Words, tops: tuple[float, float], scale: Scale) -> None:
    for person, top in enumerate(tops, 1):
        with canvas.group("context", f"lane-{person}"):
            y = top + LANE / 2
            canvas.line([(LEFT, y), (scale.x(scale.end), y)], Pen(0.25, RULE))
            name = words.say("pair.first" if person == 1 else "pair.second")
            canvas.letters((0.4, y + BASE), name, weight=600)
    with canvas.group("context", "breaks"):
        for start, end in scale.breaks:
            x = (scale.x(start) + scale.x(end)) / 2
            for y in (top + LANE / 2 for top in tops):
                box = [(x - 1.4, y - 2), (x + 1.4, y - 2), (x + 1.4, y + 2), (x - 1.4, y + 2)]
                canvas.area(box, WHITE)
                for shift in (-1.1, 1.1):
                    canvas.line([(x + shift - 0.6, y + 1.8), (x + shift + 0.6, y - 1.8)], THIN)


def _minutes(canvas: Canvas, words: Words, scale: Scale, foot: float) -> None:
    with canvas.group("dimension", "minutes"):
        canvas.line([(LEFT, foot), (scale.x(scale.end), foot)], THIN)
        for minute in _named(scale):
            x = scale.x(minute)
            canvas.line([(x, foot), (x, foot + 1.4)], THIN)
            canvas.letters((x, foot + 1.8 + 0.74 * EM), words.number(minute), fill=SOFT, anchor="middle")
        canvas.letters((0.4, foot + 1.8 + 0.74 * EM), words.say("pair.minutes"), fill=SOFT)


def _named(scale: Scale) -> list[int]:
    """Minutes that the scale names: round ones, and the last."""
    every = next((each for each in TICKS if each * scale.pitch >= LEAST_TICK), TICKS[-1])
    last = round(scale.end)
    kept: list[int] = []
    for minute in range(0, last, every):
        apart = [scale.x(minute) - scale.x(kept[-1])] if kept else []
        apart.append(scale.x(last) - scale.x(minute))
        if not scale.cut(minute) and min(apart) >= 0.7 * LEAST_TICK:
            kept.append(minute)
    return [*kept, last]


def _bar(
    canvas: Canvas, turn: Turn, ids: Mapping[int, str], dark: bool, tops: tuple[float, float], scale: Scale
) -> None:
    """A step; across both lanes where both do it."""
    top = tops[turn.people[0] - 1]
    bottom = tops[turn.people[-1] - 1] + LANE
    left, right = scale.x(turn.start), scale.x(turn.end)
    with canvas.group("new", f"step-{ids[turn.step]}"):
        if dark:
            left, right = left + GAP, right - GAP
        box = [(left, top), (right, top), (right, bottom), (left, bottom)]
        canvas.area(box, INK if dark else PVC_INSIDE, None if dark else NEW)


def _numbers(
    canvas: Canvas,
    turns: Sequence[Turn],
    ids: Mapping[int, str],
    dark: set[int],
    tops: tuple[float, float],
    scale: Scale,
) -> None:
    """Each step's number in its bar, or beyond the lane with a line to it."""
    for person, top in enumerate(tops, 1):
        outside = _outside(turns, person, scale)
        middles = [(scale.x(turn.start) + scale.x(turn.end)) / 2 for turn in outside]
        widths = [text_width(str(turn.step), EM, 700) + ROOM for turn in outside]
        up = person == 1
        edge = top if up else top + LANE
        away = -1.0 if up else 1.0
        for turn, middle, x in zip(outside, middles, spread(middles, widths, LEFT, scale.width), strict=True):
            base = edge - 3.6 if up else edge + 3.6 + 0.7 * EM
            with canvas.group("label", f"number-{ids[turn.step]}"):
                canvas.line([(middle, edge + away * 0.3), (x, edge + away * 3.0)], LEADER)
                canvas.letters((x, base), str(turn.step), weight=700, anchor="middle")
    for turn in turns:
        if not _fits(turn, scale):
            continue
        middle = (scale.x(turn.start) + scale.x(turn.end)) / 2
        y = (tops[turn.people[0] - 1] + tops[turn.people[-1] - 1] + LANE) / 2
        fill = WHITE if turn.step in dark else INK
        with canvas.group("label", f"number-{ids[turn.step]}"):
            canvas.letters((middle, y + BASE), str(turn.step), weight=700, fill=fill, anchor="middle")


def _outside(turns: Sequence[Turn], person: int, scale: Scale) -> list[Turn]:
    """Steps of a lane whose numbers stand beyond it; what both do counts for the first."""
    return [turn for turn in turns if turn.people[0] == person and not _fits(turn, scale)]


def _fits(turn: Turn, scale: Scale) -> bool:
    return scale.x(turn.end) - scale.x(turn.start) >= text_width(str(turn.step), EM, 700) + ROOM
