"""Golden figures: drawings as they were when somebody last looked at them and found them good.

They guard against change that nobody meant, and they prove nothing: a golden figure may be wrong. What a
figure must be, the laws say. After a change that was meant, look at the figure with ``.ci/look``, then renew:

    .venv/bin/pytest tests/figures/test_golden.py --update-golden
"""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from tests.figures.canonical import canonical
from tests.figures.jobs import figure

FOLDER = Path(__file__).parent / "golden"
GOLDEN = (
    ("pier-drum/35", "rough-cut"),
    ("pier-drum/35", "prepare-seam"),
    ("bell-hex", "burnish"),
    ("customs-rect", "mark-rings"),
    ("net-loft", "tuck-plain-end"),
)
"""Plan, detail, left hand, bench and section, of five outlines; small files all."""
SHOWN = 40
"""Lines of a difference that are told."""


@pytest.mark.parametrize(("sample", "name"), GOLDEN, ids=lambda value: value.replace("/", "-"))
def test_a_golden_figure_has_not_changed(sample: str, name: str, request: pytest.FixtureRequest) -> None:
    path = FOLDER / f"{sample.replace('/', '-')}-{name}.txt"
    now = canonical(figure(sample, name).svg)
    if request.config.getoption("--update-golden"):
        path.parent.mkdir(exist_ok=True)
        path.write_text(now, encoding="utf-8")
    before = path.read_text(encoding="utf-8")
    if now != before:
        changed = list(
            difflib.unified_diff(before.splitlines(), now.splitlines(), "golden", "now", n=0, lineterm="")
        )
        told = "\n".join(line if len(line) < 200 else f"{line[:200]} …" for line in changed[:SHOWN])
        more = f"\n… and {len(changed) - SHOWN} lines more" if len(changed) > SHOWN else ""
        pytest.fail(f"{name} of {sample} is drawn otherwise than before:\n{told}{more}", pytrace=False)


def test_the_folder_holds_the_golden_figures_and_no_other() -> None:
    names = {f"{sample.replace('/', '-')}-{name}.txt" for sample, name in GOLDEN}
    assert {path.name for path in FOLDER.iterdir()} == names


def test_a_tenth_of_a_millimetre_is_no_change_and_a_half_is() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M1.04 2.00L3.00 4.00" fill="none"/></svg>'
    assert canonical(svg) == canonical(svg.replace("1.04", "1.01"))
    assert canonical(svg) != canonical(svg.replace("1.04", "1.54"))
    assert canonical(svg) == "figure: svg\nfigure: path d=M1 2L3 4 fill=none\n"
