"""The first pages as a template shows them: five numbers, what to lay out, the work, all measures."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.figures.lettering import text_width
from generator.figures.model import Figure
from generator.measures.measure import Measure, Measures
from generator.plan.model import Plan
from generator.sheets.called import label_of
from generator.sheets.cards import card_id, plan_minutes, stage_minutes, text_of
from generator.sheets.document import Subject
from generator.sheets.formatting import duration, held, numbers_of, told, tolerances
from generator.sheets.segments import figures_of, in_brackets
from generator.sheets.wording import Catalogue, Segment, Sentence

FIVE: Mapping[str, tuple[str, ...]] = {
    "cloth": ("cloth_length", "cloth_width"),
    "panel": ("panel_length", "panel_height"),
    "perimeter": ("perimeter",),
    "tape": ("tape_total",),
    "seam": ("seam_to_strut",),
}
"""The five numbers that head the table of measures: wording key and measures."""

OF_TAPERS: Mapping[str, tuple[str, ...]] = {
    "panel": ("blank_length", "blank_width"),
    "perimeter": ("bottom_perimeter", "top_perimeter"),
}
"""The measures of a tapered shade in the place of those."""

UNSHOWN = (
    "blank_area", "lateral_area", "seam_misfit", "relief_limit", "relief_clear", "bottom_reliefs",
    "top_reliefs",
)  # fmt: skip
"""Measures for programs and for the pattern; a maker at the bench has no use for them."""
OF_BOTH_RIMS = ("perimeter", "wrapped_length", "quarters", "corner_stations")
"""Measures along a taper's wide rim, which its table gives for each rim by name."""
SAID_OF_RINGS = ("ring_length", "ring_width", "fitter_length", "fitter_width", "plain_length", "plain_width")
"""Sizes of a taper's rings by their part; the table gives them as bottom and top."""

ELSEWHERE = ("margin_tolerance", "height_tolerance", "width_tolerance")
"""Measures that the table shows beside another, after its plus or minus."""

GROUPS: Mapping[str, tuple[str, ...]] = {
    "rings": (
        "ring_diameter", "sides", "across_flats", "ring_length", "ring_width", "corner_radius", "perimeter",
        "bottom_diameter", "bottom_side", "bottom_length", "bottom_width", "bottom_sides",
        "bottom_across_flats", "bottom_corner_radius", "bottom_perimeter", "top_diameter", "top_side",
        "top_length", "top_width", "top_sides", "top_across_flats", "top_corner_radius", "top_perimeter",
        "shift_side", "shift_back",
        "wire", "struts", "first_strut", "recess", "hole", "seam_mark", "seam_to_strut", "joint_marks",
        "plain_joint_marks", "ring_agreement",
    ),
    "panel": (
        "panels", "panel_length", "panel_wrapped", "panel_height", "strip_length", "wrapped_length",
        "overlap", "finished_height", "margin",
        "margin_tolerance", "slant", "outer_radius", "inner_radius", "outer_cut", "inner_cut", "sweep",
        "panel_sweep",
        "blank_length", "blank_width",
        "bottom_wrapped", "top_wrapped", "panel_thickness", "bend_strain",
        "joint_stations", "quarters", "corner_stations",
        "strut_stations",
        "bottom_quarters", "top_quarters", "bottom_corner_stations", "top_corner_stations",
        "relief_cuts", "bottom_relief_step", "top_relief_step",
        "relief_misfit", "relief_depth", "relief_clear", "drift",
    ),
    "cloth": (
        "cloth_length", "cloth_width", "cloth_pieces", "diagonal",
        "slack_ends", "slack_end_rest", "slack_edges",
        "slack_edge_rest", "hem", "cloth_stock", "repeat_around", "repeat_up", "bottom_grain", "top_grain",
        "grain_lean", "motif_centre", "motif_height",
        "swatch", "motif_clear", "motif_edge", "bow", "weave", "tape_hold",
    ),
    "tape": (
        "tape_width", "tape_thickness", "tape_total", "ring_tape", "ring_tape_each", "bottom_ring_tape",
        "top_ring_tape", "tape_gap", "seam_tape", "seam_tapes",
        "tape_inset", "rim_inset",
    ),
    "braid": (
        "braid_width", "binding_fold", "binding_inside", "binding_length", "binding_total", "binding_lap",
        "braid_cures",
    ),
    "lamp": (
        "lamp_diameter", "lamp_length", "lamp_watts", "inside_width", "lamp_gap", "lamp_gap_end",
        "lamp_limit",
    ),
}  # fmt: skip
"""Measures in the table, group by group; those that no group names come last, with the work."""
REST = "work"
LABEL, VALUE, LETTERS = 57.0, 27.0, 9 * 25.4 / 72
IN_TWO_UNITS = 41.0
"""Widths of the table's cells and size of its letters, mm, as ``first.css`` sets them."""
COLUMN_LINES = 58
"""So many lines of the table a column of the lowest page holds."""


@dataclass(frozen=True, slots=True)
class Number:
    """A row of the five numbers."""

    name: Sentence
    note: Sentence
    value: Sentence


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of the strip."""

    name: str
    lines: tuple[Sentence, ...]
    dark: bool = False


@dataclass(frozen=True, slots=True)
class WorkRow:
    """A stage in the table of work."""

    stage: Sentence
    steps: str
    first_time: str
    practised: str
    irreversible: str
    pause: str


@dataclass(frozen=True, slots=True)
class MeasureRow:
    """A measure in the table of all measures."""

    label: str
    value: Sentence
    many: bool

    @property
    def lines(self) -> int:
        """Lines that it takes in its column."""
        # Two units make the cell of values wider.
        more = IN_TWO_UNITS - VALUE if any(segment.aside for segment in self.value) else 0.0
        named = text_width(self.label, LETTERS) / (LABEL - more)
        valued = text_width(text_of(self.value), LETTERS, 600) / (VALUE + more)
        return max(1, math.ceil(max(named, valued)))


@dataclass(frozen=True, slots=True)
class MeasureGroup:
    """Measures that belong together."""

    title: str
    rows: tuple[MeasureRow, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A step in the contents."""

    number: int
    title: Sentence
    figure: Figure
    alt: str
    card: str
    """Id of its card."""
    before: str
    """What stands before the number of its page, and after it."""
    after: str


@dataclass(frozen=True, slots=True)
class Term:
    """A word of the craft and what it means."""

    word: str
    means: Sentence


def five_numbers(measures: Measures, words: Catalogue) -> tuple[Number, ...]:
    """The five numbers that a maker needs most."""
    five = {**FIVE, **(OF_TAPERS if "bottom_perimeter" in measures else {})}
    return tuple(
        Number(
            words.rich(f"number.{name}"),
            words.rich(f"number.{name}.note"),
            figures_of(
                (measures[key] for key in keys),
                words.voice,
                words.say("number.and") if name == "perimeter" else " × ",
            ),
        )
        for name, keys in five.items()
    )


def strip(subject: Subject, words: Catalogue) -> Iterator[Cell]:
    """Fitter end, print, time, and the first step that cannot be undone."""
    yield Cell(words.say("strip.fitter"), (words.rich(f"strip.fitter.{subject.size.fitter_end}"),))
    yield Cell(words.say("strip.print"), (words.rich(f"strip.print.{subject.size.covering.direction}"),))
    first_time = words.rich("strip.time.first", minutes=duration(plan_minutes(subject.plan)))
    practised = duration(plan_minutes(subject.plan, practised=True))
    yield Cell(words.say("strip.time"), (first_time, words.rich("strip.time.practised", minutes=practised)))
    first = next((step for step in subject.plan.steps if step.task.irreversible), None)
    if first is not None:
        cut = words.rich("strip.cut.step", number=first.number)
        yield Cell(words.say("strip.cut"), (cut,), dark=True)


def lay_out(names: Iterable[str], words: Catalogue) -> tuple[Sentence, ...]:
    """Check-list entries for tools or consumables."""
    return tuple(words.rich(f"layout.{name}") for name in names)


def work(plan: Plan, words: Catalogue) -> tuple[WorkRow, ...]:
    """The table of work: a row a stage, then the sums."""
    rows = [
        WorkRow(
            words.rich(f"stage.{stage.id}"),
            _span(stage.steps[0].number, stage.steps[-1].number),
            duration(stage_minutes(stage)),
            duration(stage_minutes(stage, practised=True)),
            _numbers(step.number for step in stage.steps if step.task.irreversible),
            _numbers(step.number for step in stage.steps if step.task.after == "safe-pause"),
        )
        for stage in plan.stages
    ]
    total = WorkRow(
        words.rich("work.all"),
        _span(plan.steps[0].number, plan.steps[-1].number),
        duration(plan_minutes(plan)),
        duration(plan_minutes(plan, practised=True)),
        "",
        "",
    )
    return (*rows, total)


def _span(first: int, last: int) -> str:
    return f"{first}" if first == last else f"{first}–{last}"


def _numbers(numbers: Iterable[int]) -> str:
    return numbers_of(numbers) or "–"


def contents(subject: Subject, words: Catalogue) -> tuple[Entry, ...]:
    """Every step at a glance; nothing where no small figures were drawn."""
    small = {figure.number: figure for figure in subject.small}
    before, after = page_words(words)
    return tuple(
        Entry(
            step.number,
            words.rich(f"{step.task.key}.title"),
            small[step.number],
            words.say("contents.picture", number=step.number),
            card_id(step),
            before,
            after,
        )
        for step in subject.plan.steps
        if step.number in small
    )


def page_words(words: Catalogue) -> tuple[str, str]:
    """What stands before and after the number of a page."""
    before, _, after = words.say("contents.page", page="\0").partition("\0")
    return before, after


def measure_groups(measures: Measures, words: Catalogue) -> tuple[MeasureGroup, ...]:
    """Every measure that has a value, once, in groups, each with how far the work may be off."""
    hidden = {*ELSEWHERE, *UNSHOWN}
    if "bottom_perimeter" in measures:
        hidden |= {*OF_BOTH_RIMS, *SAID_OF_RINGS}
    else:
        hidden |= {"blank_length", "blank_width"}  # a straight panel is its own rectangle
    left = {key for key, measure in measures.items() if measure.values and key not in hidden}
    if "ring_diameter" in left:
        left -= {"ring_length", "ring_width"}  # a round ring has one size
    if measures.shown("panels") == 1:
        left -= {"panels"}  # one goes without saying
    groups: list[MeasureGroup] = []
    for name, keys in GROUPS.items():
        rows = tuple(measure_row(measures[key], words) for key in keys if key in left)
        left.difference_update(keys)
        if rows:
            groups.append(MeasureGroup(words.say(f"measures.group.{name}"), rows))
    rest = tuple(measure_row(measures[key], words) for key in measures if key in left)
    if rest:
        groups.append(MeasureGroup(words.say(f"measures.group.{REST}"), rest))
    return tuple(groups)


def measure_row(measure: Measure, words: Catalogue) -> MeasureRow:
    """A measure as the table of all measures shows it."""
    key, label = f"measure.{measure.id}", label_of(measure, words)
    many = len(measure.values) > 1
    if words.has(f"{key}.value"):
        return MeasureRow(label, words.rich(f"{key}.value"), many)
    if not measure.tolerance:
        return MeasureRow(label, figures_of([measure], words.voice), many)
    pieces: list[Segment] = []
    for way, off in zip(told(measure, words.voice), tolerances(measure, words.voice), strict=True):
        aside = bool(pieces)
        shown = Segment(way.numbers, measure.id, measure.id, keep=aside, aside=aside)
        within = Segment(
            held(words.say("measures.within.value", value=off) + way.unit), "within", keep=aside, aside=aside
        )
        space = Segment(" ", keep=aside, aside=aside)
        pieces += in_brackets([shown, space, within]) if aside else [shown, space, within]
    return MeasureRow(label, tuple(pieces), many)


Columns = tuple[tuple[MeasureGroup, ...], tuple[MeasureGroup, ...]]
"""Groups side by side."""


def pages(groups: Iterable[MeasureGroup]) -> tuple[Columns, ...]:
    """The table of all measures, on as few pages as hold it: as many groups on each as find room."""
    found: list[Columns] = []
    rest = list(groups)
    while rest:
        count = len(rest)
        while count > 1 and max(map(length, columns(rest[:count]))) > COLUMN_LINES:
            count -= 1
        found.append(columns(rest[:count]))
        rest = rest[count:]
    return tuple(found)


def length(groups: Iterable[MeasureGroup]) -> float:
    """Lines of the rows, and a little more for each heading."""
    return sum(1.4 + sum(row.lines for row in group.rows) for group in groups)


def columns(groups: Iterable[MeasureGroup]) -> Columns:
    """Groups in two columns of about the same length, each in order."""
    several = list(groups)

    def split(mask: int) -> tuple[list[MeasureGroup], list[MeasureGroup]]:
        left = [group for index, group in enumerate(several) if mask >> index & 1]
        return left, [group for index, group in enumerate(several) if not mask >> index & 1]

    # The first group stands first; of equal splits the one that keeps the order wins.
    masks = [mask for mask in range(1 << len(several)) if mask & 1]
    left, right = split(min(masks, key=lambda m: (round(abs(length(split(m)[0]) - length(split(m)[1]))), m)))
    return tuple(left), tuple(right)


def terms(words: Catalogue, sentences: Iterable[Sentence]) -> tuple[Term, ...]:
    """The words of the craft that the cards use, and what they mean."""
    used = " ".join(text_of(sentence) for sentence in sentences)
    # A meaning may have variants: its word is one and the same.
    keys = dict.fromkeys(key.partition("@")[0] for key in iter(words.keys()) if key.startswith("glossary."))
    names = [key for key in keys if not key.endswith(".means")]
    found = [(words.say(key), words.rich(f"{key}.means")) for key in names if words.has(key)]
    return tuple(Term(word, means) for word, means in found if _uses(used, word))


ENDING = 2
"""Most letters that a plural or a case adds to a word in the languages that there are."""


def _uses(text: str, word: str) -> bool:
    """Whether a text holds a word, on its own or with an ending, as of the plural."""
    return re.search(rf"\b{re.escape(word)}\w{{0,{ENDING}}}\b", text, re.IGNORECASE) is not None
