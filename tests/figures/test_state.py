"""Pictures follow the plan: what earlier tasks have given is there, and nothing else, in whatever order.

The techniques here are copies of the project's own, their tasks in another order.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.figures.draw import draw_one
from generator.figures.model import HALF_A4, Figure, Job
from generator.figures.state import SEEN_AS
from generator.measures.build import measure
from generator.plan.build import load_technique, plan
from generator.shape.build import build_shade
from generator.sheets.wording import load_words
from tests.figures import laws
from tests.figures.drawings import SVG, parts, root
from tests.figures.jobs import figure, planned, size_of

Changes = tuple[tuple[str, str], ...]

SEAM_TAPE_BEFORE_THE_MARGINS: Changes = (
    (
        "      - exact panel\n      - cloth margins\n      - {what: folded hem, when: hem}\n",
        "      - exact panel\n",
    ),
    (
        "needs: [exact panel]\n    gives: [open kiss cuts]",
        "needs: [exact panel, prepared outside end]\n    gives: [open kiss cuts]",
    ),
    (
        "    needs:\n      - layout\n      - {what: prepared outside end, when: not two_panels}\n",
        "    needs:\n      - layout\n      - cloth margins\n      - {what: folded hem, when: hem}\n"
        "      - {what: prepared outside end, when: not two_panels}\n",
    ),
)
TAPE_BEFORE_THE_MARKS: Changes = (
    (
        "    needs:\n      - {what: paired seam marks, when: not two_panels}\n"
        "      - {what: paired joint marks, when: two_panels}\n    gives: [covered rings]",
        "    needs: [rings, measured perimeter]\n    gives: [covered rings]",
    ),
    (
        "needs: [layout, measured perimeter, rings]\n    gives: [paired seam marks]",
        "needs: [layout, measured perimeter, gripped wire]\n    gives: [paired seam marks]",
    ),
    (
        "      - gripped wire\n    gives: [oriented rings]",
        "      - {what: paired seam marks, when: not two_panels}\n"
        "      - {what: paired joint marks, when: two_panels}\n    gives: [oriented rings]",
    ),
    (
        "    mend_until: tape-rings\n\n  # The ring meets",
        "    mend_until: stop-and-orient\n\n  # The ring meets",
    ),
    (
        "    mend_until: tape-rings\n\n  - id: tape-rings",
        "    mend_until: stop-and-orient\n\n  - id: tape-rings",
    ),
)


@cache
def technique_text() -> str:
    return (Path(str(data_folder("recipes"))) / "techniques" / "rolled-edge.yaml").read_text("utf-8")


def jobs(sample: str, folder: Path, changes: Changes) -> dict[str, Job]:
    """The jobs of a sample made with a technique file in which these lines are changed."""
    text = technique_text()
    for before, after in changes:
        assert text.count(before) == 1, before
        text = text.replace(before, after)
    (folder / "own.yaml").write_text(text, encoding="utf-8")
    size = size_of(sample).model_copy(update={"technique": "./own.yaml"})
    shade = build_shade(size)
    measures = measure(size, shade)
    order = plan(size, measures, load_technique("./own.yaml", folder, size.span("technique")))
    words = load_words(ENGLISH).bound(order, measures)
    return {step.id: Job(size, shade, measures, order, step, words, HALF_A4) for step in order.steps}


def there(drawn: Figure) -> set[str]:
    """Names of what is there from before."""
    return {part.name for part in parts(drawn) if part.role == "context"}


def test_each_name_of_a_result_is_one_that_the_projects_techniques_give() -> None:
    given = {give for sample in ("pier-drum", "bell-hex", "slipway-45", "fog-cone", "capstan")
             for step in planned(sample)[2].steps for give in step.task.gives}  # fmt: skip
    assert set(SEEN_AS) <= given


def test_the_seam_is_taped_while_the_margin_strips_are_on(tmp_path: Path) -> None:
    usual = figure("pier-drum", "prepare-seam")
    assert "cloth-margin" in there(usual)
    assert not {"margin-strip", "kiss-cut"} & there(usual)
    other = jobs("pier-drum", tmp_path, SEAM_TAPE_BEFORE_THE_MARGINS)
    assert other["prepare-seam"].step.number < other["break-kiss-cuts"].step.number
    drawn = draw_one(other["prepare-seam"])
    assert {"margin-strip", "kiss-cut"} <= there(drawn)
    assert "cloth-margin" not in there(drawn)


def test_a_kiss_cut_is_dashed_until_it_is_broken() -> None:
    def dashes(drawn: Figure) -> set[str | None]:
        groups = (group for group in root(drawn).iter(f"{SVG}g") if group.get("data-part") == "kiss-cut")
        return {path.get("stroke-dasharray") for group in groups for path in group.iter(f"{SVG}path")}

    assert None not in dashes(figure("pier-drum", "trim"))
    assert dashes(figure("pier-drum", "release-margins")) == {None}


def test_rings_that_are_taped_first_are_marked_on_their_tape(tmp_path: Path) -> None:
    other = jobs("pier-drum", tmp_path, TAPE_BEFORE_THE_MARKS)
    assert other["tape-rings"].step.number < other["mark-rings"].step.number
    assert "seam-mark" in there(figure("pier-drum", "tape-rings"))
    assert "seam-mark" not in there(draw_one(other["tape-rings"]))
    bare, taped = (laws.shapes(f) for f in (figure("pier-drum", "mark-rings"), draw_one(other["mark-rings"])))
    cores = [{shape.stroke for shape in found if shape.part == "plain-ring"} for found in (bare, taped)]
    assert cores[0] != cores[1]


@pytest.mark.parametrize(
    ("sample", "changes"),
    [
        ("pier-drum", SEAM_TAPE_BEFORE_THE_MARGINS),
        ("slipway-45", SEAM_TAPE_BEFORE_THE_MARGINS),
        ("fog-cone", SEAM_TAPE_BEFORE_THE_MARGINS),
        ("bell-hex", TAPE_BEFORE_THE_MARKS),
        ("slipway-45", TAPE_BEFORE_THE_MARKS),
    ],
)
def test_every_figure_of_another_order_obeys_every_law(sample: str, changes: Changes, tmp_path: Path) -> None:
    for work in jobs(sample, tmp_path, changes).values():
        laws.check_all(work, draw_one(work))


def test_the_cloth_is_taped_to_the_bench_until_it_is_bonded() -> None:
    for name in ("position-panel", "anchor", "laminate"):
        assert "low-tack-tape" in there(figure("pier-drum", name)), name
    assert "low-tack-tape" not in there(figure("pier-drum", "burnish"))


def test_bent_corners_and_braid_are_seen_from_then_on() -> None:
    assert "crease" in there(figure("bell-hex", "roll"))
    assert "crease" not in there(figure("net-loft", "roll"))
    assert "braid" not in there(figure("bell-hex", "notch"))
    assert any(part.name == "braid" for part in parts(figure("bell-hex", "inspect")))
