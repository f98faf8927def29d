"""The same pages from other processes that a scheduler deals work out to, and clear words where that fails.

The scheduler and the workers are those of the library itself, in processes of their own, which only this
machine can reach.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from distributed import Client, LocalCluster

from generator.base.edition import NO_WISHES
from generator.base.errors import HandsError, RimfoldError, UsageError
from generator.build import make_all
from generator.cli.run import run
from generator.cluster import Cluster
from generator.examine import examine
from generator.hands import Alone, Hands
from generator.jobs import Job, jobs_for
from generator.making import made as made_of
from generator.making import parts_of, together
from tests.record.quick import quick_recipe

ROOT = Path(__file__).parents[1]
KINDS = ("step-sheet", "pattern")
WORKER = "from distributed.cli.dask_worker import main; main()"

WITHOUT = f"""
import sys
class Nowhere:
    def find_spec(self, name, path=None, target=None):
        if name == "generator":
            raise ModuleNotFoundError("No module named 'generator'")
sys.meta_path.insert(0, Nowhere())
{WORKER}
"""
"""A worker on a machine without Rimfold."""


def jobs(recipe: Path) -> tuple[Job, ...]:
    works = examine(recipe).works
    return jobs_for(works, works, KINDS).jobs


def made(recipe: Path, out: Path, hands: Hands) -> dict[str, bytes]:
    """Every file that is put into its place, but the manifest, which tells the way to the recipe."""
    with hands:
        for _, one in make_all(jobs(recipe), out, hands=hands):
            assert not isinstance(one, RimfoldError), one
    home = out / recipe.stem
    paths = (path for path in home.rglob("*") if path.is_file() and path.name != "manifest.json")
    return {str(path.relative_to(home)): path.read_bytes() for path in paths}


def nap(number: int) -> tuple[int, int]:
    """Work that takes long enough for something to happen meanwhile; which process did it."""
    time.sleep(2)
    return number, os.getpid()


@contextmanager
def two_workers() -> Iterator[Any]:
    with LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, host="127.0.0.1", dashboard_address=None
    ) as workers:
        yield workers


@contextmanager
def running(*command: str, **more: str) -> Iterator[subprocess.Popen[bytes]]:
    """A process, ended with all that it started."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **more}
    process = subprocess.Popen(
        [sys.executable, *command],
        env=environment,
        # Python looks here first.
        cwd=environment["PYTHONPATH"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        yield process
    finally:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()


@contextmanager
def scheduler(folder: Path) -> Iterator[tuple[str, subprocess.Popen[bytes]]]:
    """A scheduler without workers: its address, and its process."""
    told = folder / "scheduler.json"
    where = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(told))
    with running("-m", "distributed.cli.dask_scheduler", *where) as process:
        for _ in range(600):
            if told.exists() and told.read_text(encoding="utf-8").endswith("}"):
                break
            time.sleep(0.1)
        yield json.loads(told.read_text(encoding="utf-8"))["address"], process


def worker(address: str, code: str = WORKER, **more: str) -> Any:
    """A worker without a guard that would start it again."""
    alone = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1")
    return running("-c", code, address, *alone, **more)


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, bytes]]:
    """A recipe, and all that this process makes of it."""
    folder = tmp_path_factory.mktemp("alone")
    recipe = quick_recipe(folder / "recipes")
    return recipe, made(recipe, folder / "out", Alone())


def test_workers_make_the_same_bytes_as_one_process_even_where_one_is_killed_at_work(
    alone: tuple[Path, dict[str, bytes]], tmp_path: Path
) -> None:
    recipe, expected = alone
    assert len(expected) > 10
    with two_workers() as workers:
        assert made(recipe, tmp_path / "whole", Cluster(workers.scheduler_address)) == expected
        killed: list[int] = []

        def kill() -> None:
            with Client(workers.scheduler_address, set_as_default=False) as watching:
                processes = watching.run(os.getpid)
                while not killed:
                    for address, busy in watching.processing().items():
                        if busy:
                            os.kill(processes[address], signal.SIGKILL)
                            killed.append(processes[address])
                            return
                    time.sleep(0.05)

        killing = Thread(target=kill)
        killing.start()
        again = made(recipe, tmp_path / "killed", Cluster(workers.scheduler_address))
        killing.join(60)
        assert killed
        assert again == expected


def test_what_a_part_needs_travels_with_it(alone: tuple[Path, dict[str, bytes]], tmp_path: Path) -> None:
    """The technique of this recipe stands beside it; neither is there any more when the pages are made."""
    recipe = quick_recipe(tmp_path / "recipes")
    (_, job) = jobs(recipe)
    shutil.rmtree(recipe.parent)
    with (
        scheduler(tmp_path) as (address, _),
        worker(address),
        Cluster(address) as hands,
    ):
        groups = together(parts_of(job, NO_WISHES))
        sent = [hands.give("here", made_of, job, group) for group in groups]
        found = {file.name: file.data for each in sent for piece in each.result() for file in piece.files}
    assert found == {name: data for name, data in alone[1].items() if name.startswith("25/")}


def test_where_all_workers_are_gone_or_the_scheduler_is_that_is_told(tmp_path: Path) -> None:
    with scheduler(tmp_path) as (address, process):
        with worker(address) as only, Cluster(address, patience=4) as hands:
            first = hands.give("first", nap, 1)
            assert first.result()[1] == only.pid
            second = hands.give("second", nap, 2)
            only.kill()
            with pytest.raises(HandsError, match=f"{address} has had no worker for 4 seconds; start workers"):
                second.result()
        with pytest.raises(HandsError, match="has had no worker for 1 seconds"):
            Cluster(address, patience=1)
        with worker(address), Cluster(address) as hands:
            third = hands.give("third", nap, 3)
            process.kill()
            with pytest.raises(HandsError, match=f"{address} is no longer there"):
                third.result()


def test_a_worker_with_other_files_or_without_any_refuses_and_says_what_differs(tmp_path: Path) -> None:
    for name in ("generator", "recipes", "templates"):
        shutil.copytree(ROOT / name, tmp_path / "other" / name, ignore=shutil.ignore_patterns("__pycache__"))
    wording = tmp_path / "other" / "templates" / "wording" / "en" / "page.po"
    wording.write_text(wording.read_text(encoding="utf-8") + "# a note\n", encoding="utf-8")
    with scheduler(tmp_path) as (address, _):
        with (
            worker(address, PYTHONPATH=str(tmp_path / "other")),
            Cluster(address) as hands,
            pytest.raises(HandsError, match="the same versions, but other files of Rimfold"),
        ):
            hands.give("other", nap, 1).result()
        with (
            worker(address, WITHOUT),
            Cluster(address) as hands,
            pytest.raises(HandsError, match="has no Rimfold, or another one"),
        ):
            hands.give("without", nap, 1).result()


@pytest.mark.parametrize("wrong", ["harbour", "http://127.0.0.1:80", "tcp://127.0.0.1", "ssh://127.0.0.1:22"])
def test_what_is_no_address_is_refused_before_anything_is_asked(wrong: str) -> None:
    with pytest.raises(UsageError, match="is no address of a scheduler; expected one like"):
        Cluster(wrong)


def test_who_takes_a_connection_and_says_nothing_is_not_waited_for() -> None:
    with socket.socket() as silent:
        silent.bind(("127.0.0.1", 0))
        silent.listen()
        before = time.monotonic()
        with pytest.raises(HandsError, match="no scheduler answers at"):
            Cluster(f"127.0.0.1:{silent.getsockname()[1]}")
        assert time.monotonic() - before < 60


def test_the_command_says_that_nobody_answers_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    with socket.socket() as taken:
        # Taken, but nobody listens there.
        taken.bind(("127.0.0.1", 0))
        address = f"tcp://127.0.0.1:{taken.getsockname()[1]}"
        out = tmp_path / "out"
        assert run(["make", str(recipe), "--scheduler", address, "--out", str(out)]) == 1
    told = capsys.readouterr()
    assert told.err == (
        f"no scheduler answers at {address} within 10 seconds; see that it runs and that this machine may "
        "reach it, then run the command again\n"
    )
    assert not out.exists()


def test_without_the_library_the_command_says_what_to_install(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    code = (
        "import sys; sys.modules['distributed'] = None; from generator.cli.run import run; "
        "sys.exit(run(sys.argv[1:]))"
    )
    command = [sys.executable, "-c", code, "make", str(recipe), "--scheduler", "127.0.0.1:8786"]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert answer.returncode == 1
    (line,) = answer.stderr.splitlines()
    assert "needs the library “distributed”, which is not installed here" in line


def test_the_command_makes_on_a_cluster_what_it_makes_without_one(
    alone: tuple[Path, dict[str, bytes]], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    with scheduler(tmp_path) as (address, _), worker(address):
        asked = ["--document", "step-sheet", "--size", "20", "--out", str(tmp_path / "out")]
        assert run(["make", str(recipe), "--scheduler", address, *asked]) == 0
    assert capfd.readouterr().err == ""
    sheet = (tmp_path / "out" / "quick" / "20" / "step-sheet.en.pdf").read_bytes()
    assert sheet == alone[1]["20/step-sheet.en.pdf"]


def test_who_watches_is_told_that_only_this_machine_makes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recipe = quick_recipe(tmp_path / "recipes")
    assert run(["make", str(recipe), "--watch", "--scheduler", "127.0.0.1:8786"]) == 2
    assert "--watch makes on this machine alone" in capsys.readouterr().err
