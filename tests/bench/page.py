"""What one change in the form of a shade takes of the page's own time, for each sample.

    .ci/bench --page              all samples
    .ci/bench --page pier-drum    these

A change is one length typed: the form is sent as the browser sends it to ``/shade/NAME/try``, each time with
another height, so that only what really stays the same can be kept from the last one. Told is the median of
ten, and how many milliseconds of a processor the shade takes to be worked out and drawn (``look``), which a
busy machine changes less. No test. The wish is 100 ms.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from generator.base.assets import data_folder
from generator.base.edition import Voice
from generator.page import form
from generator.page.look import look
from tests.page.served import Served, serve

ROUNDS = 10
WISH = 100.0
UP = 0.5
"""So much higher is the shade each time, mm."""


def main() -> int:
    """Measure and print."""
    names = sys.argv[1:] or [path.stem for path in sorted(data_folder("recipes").glob("*.yaml"))]
    with (
        tempfile.TemporaryDirectory(prefix="rimfold-bench-") as folder,
        serve(Path(folder) / "shades", *names) as served,
    ):
        print(f"{'':16}{'whole':>9}{'look':>9}")
        for name in names:
            whole = median(asked(served, name))
            inside = median(looked(served.folder / f"{name}.yaml"))
            print(f"{name:16}{whole:7.0f} ms{inside:6.0f} ms   {'' if whole < WISH else 'ABOVE the wish'}")
    return 0


def asked(served: Served, name: str) -> list[float]:
    """Milliseconds until the answer to each change is there."""
    address = f"/shade/{name}.yaml"
    text = (served.folder / f"{name}.yaml").read_text(encoding="utf-8")
    found, base = [], served.base(f"{name}.yaml")
    for turn in range(ROUNDS + 2):
        fields = {**form.form_values(text), "base": base} | higher(text, turn)
        begin = time.perf_counter()
        answer = served.ask("POST", f"{address}/try", fields)
        found.append((time.perf_counter() - begin) * 1000)
        assert answer.status == 200
    return found[2:]


def looked(path: Path) -> list[float]:
    """The same without the page round it: milliseconds of a processor for ``look``."""
    text = path.read_text(encoding="utf-8")
    found = []
    for turn in range(ROUNDS + 2):
        changed = form.filled(text, {**form.form_values(text)} | higher(text, turn))
        begin = time.process_time()
        assert look(path, changed, None, Voice()).good
        found.append((time.process_time() - begin) * 1000)
    return found[2:]


def higher(text: str, turn: int) -> dict[str, str]:
    """What the form holds when the first size is a little higher than in the recipe."""
    size = form.sizes(text)[0]
    field = next(each for each in size.fields if each.field.key in ("height", "slant"))
    scale = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}[field.unit]
    return {field.name: f"{float(field.value) * scale + UP * (turn + 1):g}", field.unit_name: "mm"}


if __name__ == "__main__":
    sys.exit(main())
