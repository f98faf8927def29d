"""Every figure of every sample and size, and of shades that nobody thought of, obeys every law of figures."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.base.errors import GeometryError
from generator.figures.draw import draw_one
from generator.figures.model import HALF_A4, Figure, Job
from generator.measures.build import measure
from generator.measures.judge import judge
from generator.plan.build import contradictions, load_technique, plan
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from generator.sheets.wording import load_words
from tests.figures import laws
from tests.figures.jobs import figure, job, names_in, planned, size_of
from tests.figures.long_words import LongWords
from tests.figures.telling import check_told

SAMPLES = [
    name for path in sorted(data_folder("recipes").glob("*.yaml")) for name in sorted(names_in(path.stem))
]
CLOSE_UPS = frozenset(
    ("wrap-tape", "tuck-plain-end", "trim", "break-kiss-cuts", "release-margins", "notch", "turn-and-snip")
)
"""An edge, a rim or a wire seen from near: margin, wire and tape, which two sizes of one recipe share."""


@cache
def works(sample: str) -> tuple[tuple[Job, Figure], ...]:
    """Every step's job and figure; drawn figures are shared with the other tests."""
    names = [step.task.figure for step in planned(sample)[2].steps]
    return tuple((job(sample, name), figure(sample, name)) for name in dict.fromkeys(names))


@pytest.mark.parametrize("sample", SAMPLES)
def test_every_figure_of_a_sample_obeys_every_law(sample: str) -> None:
    for work, drawn in works(sample):
        try:
            laws.check_all(work, drawn)
            check_told(drawn)
        except AssertionError as error:
            raise AssertionError(f"{sample}, {drawn.id}: {error}") from error


@pytest.mark.parametrize(
    "sample",
    [
        "pier-drum/35",
        "ferry-square",
        "net-loft",
        "customs-rect",
        "bell-hex",
        "tide-drum",
        "capstan",
        "slipway-45",
    ],
)
def test_words_four_tenths_longer_stand_apart_and_on_the_paper(sample: str) -> None:
    for work, _ in works(sample):
        longer = replace(work, words=LongWords(work.words))
        try:
            laws.check_paper(draw_one(longer))
        except AssertionError as error:
            raise AssertionError(f"{sample}, {work.step.id}: {error}") from error


def test_no_two_figures_of_all_sizes_share_an_id() -> None:
    """So that several can stand in one page of the web."""
    ids = [
        found for s in SAMPLES for _, drawn in works(s) for found in re.findall(r' id="([^"]+)"', drawn.svg)
    ]
    assert len(ids) == len(set(ids)) > 1000


def shown(drawn: Figure) -> list[tuple[str, str]]:
    """What is painted, without names."""
    return [
        (element.tag, element.get("d") or element.text or "")
        for element in ElementTree.fromstring(drawn.svg).iter()
        if element.tag.endswith(("path", "text"))
    ]


def test_figures_of_two_sizes_differ() -> None:
    first, second = "pier-drum/25", "pier-drum/45"
    assert len(works(first)) > 2 * len(CLOSE_UPS)
    alike = {a.id for (_, a), (_, b) in zip(works(first), works(second), strict=True) if shown(a) == shown(b)}
    assert alike <= CLOSE_UPS


LENGTHS = st.integers(120, 600).map(float)


@st.composite
def rings(draw: st.DrawFn) -> tuple[str, dict[str, float]]:
    """An outline and its dimensions."""
    kind = draw(st.sampled_from(["circle", "ellipse", "stadium", "rectangle", "square", "polygon"]))
    long = draw(LENGTHS)
    short = float(round(long * draw(st.floats(0.35, 0.95))))
    corner = float(draw(st.integers(12, 60)))
    found: dict[str, dict[str, float]] = {
        "circle": {"diameter": long},
        "ellipse": {"length": long, "width": short},
        "stadium": {"length": long, "width": short},
        "rectangle": {"length": long, "width": short, "corner_radius": corner},
        "square": {"side": long, "corner_radius": corner},
        "polygon": {"sides": float(draw(st.integers(3, 12))), "across_flats": long, "corner_radius": corner},
    }
    return kind, found[kind]


@st.composite
def sizes(draw: st.DrawFn) -> SizeRecipe:
    """A recipe's size that nobody wrote: any outline, any height, any way of making it."""
    base = size_of(
        draw(st.sampled_from(["pier-drum/35", "ferry-square", "net-loft", "bell-hex", "tide-drum"]))
    )
    outline, dimensions = draw(rings())
    hem = draw(st.booleans()) and base.panel.margin > 0
    braid = base.braid or (size_of("bell-hex").braid if draw(st.booleans()) else None)
    scored = draw(st.booleans()) and base.panel.margin > 0
    return base.model_copy(
        update={
            "name": "x",
            "outline": outline,
            "dimensions": dimensions,
            "height": float(draw(st.integers(80, 500))),
            "use": draw(st.sampled_from(["table", "pendant"])),
            "makers": base.makers.model_copy(update={"hand": draw(st.sampled_from(["right", "left"]))}),
            "panel": base.panel.model_copy(update={"kiss_cut": scored}),
            "seam": base.seam.model_copy(update={"finish": "hem" if hem else "raw"}),
            "ring": base.ring.model_copy(update={"struts": draw(st.integers(2, 6)), "first_strut": None}),
            # A wide cloth and a small lamp, so that few shades are refused for what is not their shape.
            "covering": base.covering.model_copy(update={"width": 3000.0, "repeat": None}),
            "braid": braid,
            "lamp": None,
        }
    )


def drawn_works(size: SizeRecipe) -> list[tuple[Job, Figure]] | None:
    """Jobs and figures of a size, or None if it cannot be made."""
    try:
        shade = build_shade(size)
    except GeometryError:
        return None
    measures = measure(size, shade)
    technique = load_technique(size.technique)
    if judge(size, shade, measures).faults or contradictions(size, measures, technique):
        return None
    steps = plan(size, measures, technique)
    words = load_words(ENGLISH).bound(steps, measures)
    jobs = [Job(size, shade, measures, steps, step, words, HALF_A4) for step in steps.steps]
    return [(work, draw_one(work)) for work in jobs]


def check_works(works: list[tuple[Job, Figure]]) -> None:
    """Every law, with the name of the figure that breaks one."""
    for work, drawn in works:
        try:
            laws.check_all(work, drawn)
            check_told(drawn)
        except AssertionError as error:
            raise AssertionError(f"{drawn.id}: {error}") from error


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_sample_obeys_every_law_in_its_other_use_too(sample: str) -> None:
    """A pendant as a table lamp and the other way round: the fitter ring is at the other end then."""
    size = size_of(sample)
    other = "table" if size.use == "pendant" else "pendant"
    works = drawn_works(size.model_copy(update={"use": other, "lamp": None}))
    assert works, "no longer a shade that can be made"
    check_works(works)


@settings(max_examples=4, suppress_health_check=list(HealthCheck))
@given(sizes())
def test_every_figure_of_any_shade_obeys_every_law(size: SizeRecipe) -> None:
    works = drawn_works(size)
    assume(works is not None)
    check_works(works or [])
