"""The same documents by Rimfold, by a headless browser and by other libraries, cold and warm, in one run.

    .ci/bench-others compare
    .ci/bench-others compare --kind step-sheet --each 4 --workers 1

Warm: one process a core, each of which has printed the document once before the clock starts. Cold: one
command that starts, prints one document and ends. Time on the wall is what a person waits for; CPU time
changes less where there is other work, and ratios are told in both. Ratios are of documents: how many Rimfold
makes from recipes for one that the other makes from what Rimfold has composed already.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path
from time import monotonic

import pypdfium2

from tests.bench.captured import KINDS, RECIPE, SIZE, write
from tests.bench.devtools import FLAGS, environment
from tests.bench.watch import Watch

ROOT = Path(__file__).resolve().parents[2]
OURS, ENGINE, BROWSER = "recipe", "engine", "browser"
NAMES = {
    OURS: "Rimfold, recipe to proved PDF",
    ENGINE: "Rimfold's engine, same HTML",
    BROWSER: "Chromium, same HTML",
    "typst": "typst, same content",
    "reportlab": "reportlab, same content",
}


@dataclass(frozen=True)
class Found:
    """What one way of making a document took."""

    kind: str
    way: str
    warm: bool
    documents: int
    pages: int
    """Of one document."""
    bytes_a_page: float
    seconds: float
    cpu: float
    together: float
    """MB of all its processes at once."""
    greatest: float
    """MB of its largest process."""

    @property
    def a_second(self) -> float:
        """Documents a second on the wall."""
        return self.documents / self.seconds

    @property
    def each(self) -> float:
        """CPU seconds a document."""
        return self.cpu / self.documents


class Worker:
    """A process that prints one document each time it is asked."""

    def __init__(self, command: Sequence[str]) -> None:
        self._process = subprocess.Popen(
            command,
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def ask(self, times: int) -> None:
        """Wait for so many documents."""
        assert self._process.stdin
        assert self._process.stdout
        for _ in range(times):
            self._process.stdin.write("next\n")
            self._process.stdin.flush()
            if not self._process.stdout.readline():
                raise SystemExit(f"compare: {self._process.args!r} has ended")

    def close(self) -> None:
        """End it."""
        self._process.communicate()


def command(way: str, kind: str, folder: Path, wish: argparse.Namespace) -> list[str]:
    """What starts a worker of a way."""
    if way in ("typst", "reportlab"):
        return [wish.other_python, str(Path(__file__).with_name("typesetting.py")), way, kind, str(folder)]
    more = [wish.browser] if way == BROWSER else []
    return [sys.executable, "-m", "tests.bench.printing", way, kind, str(folder), *more]


def warm(way: str, kind: str, folder: Path, wish: argparse.Namespace) -> Found:
    """Several documents by workers that have made one before."""
    with ExitStack() as stack, ThreadPoolExecutor(wish.workers) as threads:
        workers = [Worker(command(way, kind, folder, wish)) for _ in range(wish.workers)]
        for worker in workers:
            stack.callback(worker.close)
        list(threads.map(lambda worker: worker.ask(1), workers))
        # Who is quick is asked more often, so that the clock has something to show.
        each = wish.each if way in (OURS, ENGINE, "reportlab") else 10 * wish.each
        with Watch() as watch:
            list(threads.map(lambda worker: worker.ask(each), workers))
    return _found(kind, way, True, each * wish.workers, folder, watch.seconds, watch.cpu, watch)


def cold(way: str, kind: str, folder: Path, wish: argparse.Namespace) -> Found:
    """One command for one document."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), monotonic()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place, Watch() as watch:
        if way == OURS:
            asked = [f"recipes/{RECIPE}.yaml", "--document", kind, "--out", place]
            if kind != "class-pack":
                asked += ["--size", SIZE]
            _run([sys.executable, "-m", "generator", "make", *asked], {"PYTHONPATH": str(ROOT)})
        elif way == BROWSER:
            target = [f"--print-to-pdf={folder / 'cold.pdf'}", "--no-pdf-header-footer"]
            own = [f"--user-data-dir={place}/profile", *target, (folder / "page.html").as_uri()]
            _run([wish.browser, *FLAGS, *own], environment(folder, Path(place)))
        else:
            worker = Worker(command(way, kind, folder, wish))
            worker.ask(1)
            worker.close()
    seconds, after = monotonic() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return _found(kind, way, False, 1, folder, seconds, cpu, watch)


def _run(asked: Sequence[str], more: Mapping[str, str]) -> None:
    subprocess.run(asked, cwd=ROOT, env={**os.environ, **more}, check=True, capture_output=True)


def _found(
    kind: str, way: str, warm: bool, count: int, folder: Path, seconds: float, cpu: float, watch: Watch
) -> Found:
    pdf = folder / f"{way}.pdf"
    with pypdfium2.PdfDocument(pdf) as document:
        pages = len(document)
    size = pdf.stat().st_size / pages
    return Found(kind, way, warm, count, pages, size, seconds, cpu, watch.together, watch.greatest)


@contextmanager
def folder_of(kind: str) -> Iterator[Path]:
    """A folder with all that a kind is printed from."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place:
        folder = Path(place) / kind
        write(kind, folder)
        shutil.copy(folder / "ours.pdf", folder / f"{OURS}.pdf")
        yield folder


def show(found: Sequence[Found]) -> None:
    """A table of one kind, ratios against Rimfold warm."""
    ours = next(one for one in found if one.way == OURS and one.warm)
    print(f"\n{ours.kind}: {ours.pages} pages")
    print(
        f"{'':32}{'':5}{'pages/s':>9}{'CPU s/doc':>11}{'MB all':>8}{'MB one':>8}{'kB/page':>9}"
        f"{'Rimfold:it':>12}{'by CPU':>8}"
    )
    for one in found:
        print(
            f"{NAMES[one.way]:32}{'warm' if one.warm else 'cold':5}{one.a_second * one.pages:9.2f}"
            f"{one.each:11.2f}{one.together:8.0f}{one.greatest:8.0f}{one.bytes_a_page / 1000:9.1f}"
            f"{ours.a_second / one.a_second:12.3f}{one.each / ours.each:8.3f}",
            flush=True,
        )


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog=".ci/bench-others compare", description=__doc__.splitlines()[0])
    parser.add_argument("--kind", action="append", choices=KINDS)
    parser.add_argument("--each", type=int, default=2, help="documents of each worker")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--browser", default=shutil.which("chromium") or "chromium")
    parser.add_argument("--other-python", default=sys.executable, help=argparse.SUPPRESS)
    parser.add_argument("--json", type=Path, default=None, metavar="FILE")
    wish = parser.parse_args()
    print(f"cores {os.cpu_count()}, workers {wish.workers}, load {os.getloadavg()[0]:.1f} at the beginning")
    every: list[Found] = []
    for kind in wish.kind or KINDS:
        with folder_of(kind) as folder:
            found = []
            for way in NAMES:
                found.append(warm(way, kind, folder, wish))
                if way != ENGINE:
                    found.append(cold(way, kind, folder, wish))
            show(found)
            every += found
    print(f"\nload {os.getloadavg()[0]:.1f} at the end")
    if wish.json:
        wish.json.write_text(json.dumps([asdict(one) for one in every], indent=1), encoding="utf-8")


if __name__ == "__main__":
    main()
