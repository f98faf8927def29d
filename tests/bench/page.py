"""What one change in the form of a shade takes of the page's own time, for each sample.

    .ci/bench --page              all samples
    .ci/bench --page pier-drum    these

A change is one length typed: the form is sent as the browser sends it to ``/shade/NAME/try``, each time with
another height, so that only what really stays the same can be kept from the last one. Told are, of the answer
and of the picture with labels that is asked for after it, the median of ten, and how many milliseconds of a
processor the server took for one, which a busy machine changes less; and of the answer how many of these the
shade takes to be worked out (``look``). No test. The wish is 100 ms of the processor for an
answer. At the right stands how long the piece of work takes that ``.ci/bench`` measures by.
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
import time
from collections.abc import Callable
from html import unescape
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
ASKED = re.compile(r'hx-get="(/shade/[^"]+/picture\?of=[^"]+)"')


def main() -> int:
    """Measure and print."""
    names = sys.argv[1:] or [path.stem for path in sorted(data_folder("recipes").glob("*.yaml"))]
    with (
        tempfile.TemporaryDirectory(prefix="rimfold-bench-") as folder,
        serve(Path(folder) / "shades", *names) as served,
    ):
        heads = "".join(f"{head:>9}" for head in ("answer", "its CPU", "look", "picture", "its CPU"))
        print(f"{'ms':16}{heads}   {yardstick():.3f} s")
        for name in names:
            found, pictures = asked(served, name)
            inside = median(looked(served.folder / f"{name}.yaml"))
            numbers = (*found, inside, *pictures)
            told = "".join(f"{number:9.0f}" for number in numbers)
            print(f"{name:16}{told}   {'' if found[1] < WISH else 'ABOVE the wish'}", flush=True)
        print(f"{'':61}   {yardstick():.3f} s")
    return 0


def asked(served: Served, name: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Milliseconds until the answer to a change is there, and of the server's processor; of pictures too."""
    address = f"/shade/{name}.yaml"
    text = (served.folder / f"{name}.yaml").read_text(encoding="utf-8")
    base, size = served.base(f"{name}.yaml"), form.size_names(text)[0]
    usual = {**form.form_values(text), "base": base, "size": size, "l/languages": "shown", "told": ""}
    answers: list[str] = []

    def change(turn: int) -> None:
        answer = served.ask("POST", f"{address}/try", usual | higher(text, turn))
        assert answer.status == 200
        answers.append(answer.text)

    def picture(turn: int) -> None:
        (of,) = ASKED.findall(answers[turn])
        assert served.ask("GET", unescape(of)).status == 200

    return timed(served, change), timed(served, picture)


def timed(served: Served, work: Callable[[int], None]) -> tuple[float, float]:
    """The median of some turns, and what the server's processor took for one, ms; two go before."""
    found, begun = [], 0.0
    for turn in range(ROUNDS + 2):
        if turn == 2:
            begun = worked(served)
        begin = time.perf_counter()
        work(turn)
        found.append((time.perf_counter() - begin) * 1000)
    return median(found[2:]), (worked(served) - begun) / ROUNDS


def worked(served: Served) -> float:
    """How long processors have worked for the server, ms."""
    fields = Path(f"/proc/{served.process.pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")


def looked(path: Path) -> list[float]:
    """The same without the page round it: milliseconds of a processor for ``look``."""
    text = path.read_text(encoding="utf-8")
    found = []
    for turn in range(ROUNDS + 2):
        changed = form.filled(text, {**form.form_values(text)} | higher(text, turn))
        begin = time.process_time()
        assert look(path, changed, form.size_names(text)[0], Voice()).good
        found.append((time.process_time() - begin) * 1000)
    return found[2:]


def higher(text: str, turn: int) -> dict[str, str]:
    """What the form holds when the first size is a little higher than in the recipe."""
    size = form.sizes(text)[0]
    field = next(each for each in size.fields if each.field.key in ("height", "slant"))
    scale = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}[field.unit]
    return {field.name: f"{float(field.value) * scale + UP * (turn + 1):g}", field.unit_name: "mm"}


def yardstick() -> float:
    """Seconds for the piece of work that ``.ci/bench`` does between its stages."""
    start = time.process_time()
    words = {f"{number * 7919 % 100003:06d}": number for number in range(100_000)}
    sum(len(f"{words[key] / 7:.2f}") for key in sorted(words))
    return time.process_time() - start


if __name__ == "__main__":
    sys.exit(main())
