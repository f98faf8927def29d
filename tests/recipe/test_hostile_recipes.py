"""Whatever a file holds: it reads, or RecipeError tells located faults, in bounded time."""

from __future__ import annotations

import random
import tempfile
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.base.errors import RecipeError
from tests.recipe.reading import BAD, HEAD, PLAIN, SAMPLES, STARTER, read_text, refusal

SEEDS = [path.read_bytes() for path in (*SAMPLES, STARTER, *BAD) if path.stat().st_size < 20_000]
TRICKS = [
    b": ", b"- ", b"{", b"}", b"[", b"]", b"\n", b"\t", b"'", b'"', b"&a ", b"*a", b"!!int ", b"<<: ", b"%",
    b"|\n", b"mm", b"NaN", b"-1", b"0", b"99999999999", b"true", b"~", b"\xe2\x80\xae", b"\xff", b"\x00",
    b"---\n", b"?", b"{{ 7*7 }}", b"{% raw %}", b"<script>", b"../../etc/passwd", b"file:///etc/passwd",
    b"\\", b"#", b"sizes", b",",
]  # fmt: skip


def _mutated(seed: int) -> bytes:
    """A sample with a few cuts, copies and tricks in it."""
    chance = random.Random(seed)
    data = bytearray(chance.choice(SEEDS))
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(data) + 1)
        match chance.randrange(4):
            case 0:
                del data[at : at + chance.randint(1, 12)]
            case 1:
                data[at:at] = chance.choice(TRICKS)
            case 2:
                data[at : at + 4] = chance.choice(TRICKS)
            case _:
                start = chance.randrange(len(data) + 1)
                data[at:at] = data[start : start + chance.randint(1, 60)]
    return bytes(data)


def _check(folder: Path, data: str | bytes) -> None:
    path = folder / "recipe.yaml"
    path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8", "surrogatepass"))
    before = time.monotonic()
    error = refusal(path)
    assert time.monotonic() - before < 5
    if error is None:
        return
    assert 1 <= len(error.faults) <= 100
    assert len(set(error.faults)) == len(error.faults)
    lines = str(error).splitlines()
    assert len(lines) == len(error.faults)
    assert all(line.startswith(f"{path}:") for line in lines)
    assert str(error).isprintable() or "\n" in str(error)
    str(error).encode("utf-8")


@given(st.text())
@settings(suppress_health_check=[HealthCheck.too_slow])
def test_any_text_reads_or_is_refused_in_words(text: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        _check(Path(folder), text)


@given(st.binary())
@settings(suppress_health_check=[HealthCheck.too_slow])
def test_any_bytes_read_or_are_refused_in_words(data: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        _check(Path(folder), data)


@given(st.text(max_size=40))
@settings(suppress_health_check=[HealthCheck.too_slow], max_examples=30)
@pytest.mark.parametrize(
    "key",
    ["title: ", "link: ", "height: ", "technique: ", "covering: ", "ring: {fitter: ", "makers: {ages: ",
     "lamp: {watts: ", "braid: {cures: ", "sizes: ", "covering: {repeat: ", "maker: {name: ",
     "slant: ", "shift: {x: ", "top: {diameter: ", "bottom: "],
)  # fmt: skip
def test_any_text_in_any_field_reads_or_is_refused_in_words(key: str, text: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        closing = "}" * key.count("{")
        _check(Path(folder), f"{PLAIN}{key}{text}{closing}\n")
        quoted = text.replace("'", "''")
        _check(Path(folder), f"{PLAIN}{key}'{quoted}'{closing}\n")


@pytest.mark.parametrize("batch", range(20))
def test_fifty_mutated_recipes_read_or_are_refused_in_words(tmp_path: Path, batch: int) -> None:
    for seed in range(batch * 50, batch * 50 + 50):
        _check(tmp_path, _mutated(seed))
    assert (tmp_path / "recipe.yaml").exists()


@pytest.mark.parametrize(
    "text",
    [
        "[" * 200_000,
        "{a: " * 60_000,
        "- " * 120_000,
        "a: 1\n" * 50_000,
        PLAIN + "x: '" + "a " * 100_000,
        PLAIN + "link: https://" + "a" * 200_000,
        PLAIN.replace("250 mm", "9" * 200_000),
        PLAIN.replace("250 mm", "1/" * 100_000),
        HEAD + "height: 3\nsizes: {" + ", ".join(f"s{n}: {{hight: 3}}" for n in range(2_000)) + "}",
        PLAIN + "ring: {" + ", ".join(f"struts{n}: 3" for n in range(4_000)) + "}",
        "\u202e" * 60_000,
        "%a\n" * 60_000,
    ],
    ids=lambda text: text[-20:-8],
)
def test_the_largest_files_are_refused_in_bounded_time(tmp_path: Path, text: str) -> None:
    before = time.monotonic()
    with pytest.raises(RecipeError):
        read_text(tmp_path, text)
    # A second or so on a machine that does nothing else.
    assert time.monotonic() - before < 10


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "{{ 7 * 7 }}", "{% include 'x' %}", "&amp; ${HOME} $(ls)"]
)
def test_markup_and_template_code_in_a_title_is_plain_text(tmp_path: Path, text: str) -> None:
    quoted = text.replace("'", "''")
    assert read_text(tmp_path, PLAIN.replace("title: Test", f"title: '{quoted}'")).title == text
