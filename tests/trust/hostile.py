"""Recipes and techniques as nobody would write them by mistake: sound files with a few parts replaced."""

from __future__ import annotations

import gc
import random
import re
import time
from dataclasses import dataclass
from pathlib import Path

from generator.base.errors import InputError
from generator.examine import examine
from generator.plan.build import load_technique

TESTS = Path(__file__).parents[1]
WAY = TESTS / "trust" / "short-way.yaml"
WAYS = [*sorted((TESTS / "plan" / "bad").glob("*.yaml")), TESTS / "plan" / "good-technique.yaml", WAY]

RECIPE = """\
rimfold: 1
title: Test
technique: ./short-way.yaml
times: none
use: pendant
outline: circle
sizes:
  25: {diameter: 250 mm, height: 180 mm}
  30: {diameter: 30 cm, height: 20 cm, ring: {struts: 4}}
covering: {name: Linen, width: 140 cm, direction: any, slack_ends: 20 mm, slack_edges: 10 mm, frays: little,
  repeat: {around: 40 mm}}
panel: {thickness: 0.35 mm, margin: 15 mm, overlap: 10 mm, kiss_cut: true, stock_length: 2 m,
  stock_width: 700 mm}
ring: {wire: 3.5 mm, struts: 3, recess: 25 mm, spacing: arc, first_strut: 100 mm, fitter: top, hole: 40 mm}
tape: {width: 9 mm, thickness: 0.15 mm}
lamp: {diameter: 60 mm, kind: LED, watts: 6, length: 100 mm}
makers: {people: 1, hand: right, ages: [9, 11], blades: adult, own_cloth: false}
seam: {finish: hem, hem: 10 mm}
braid: {width: 12 mm, cures: 2 h}
maker: {name: Gannetry Steps Workroom, contact: workroom@example.org}
link: https://example.org/a
"""
"""Every key that a straight shade can have."""

WRONG = [
    # Nothing, and other kinds of things.
    "", "~", "[]", "{}", "[[]]", "{a: b}", "[9, 11, 12]", "[a, b]", "[99999999999, 1]", "- a", "? a",
    "true", "0",
    # What YAML can do and a recipe may not.
    "&a x", "*a", "&a [*a]", "!!python/object/apply:os.system [ls]", "!!binary aGk=", "!x y", "!!set {a}",
    "|\n  a\n  b",
    "[1, 2", '"open', "@x", "`x`", "%x", "2024-01-01", "0x10", "1_0", '"\\x1b[31m"', '"\\n"', '"\\u0000"',
    '"\\ud800"',
    # Numbers without measure.
    "9" * 400, "1e999", ".nan", ".inf", "-.inf", "-1", "NaN mm", "inf mm", "1e300 mm", "999999999 m",
    "0.000000001 mm",
    "3001 mm", "39.999 mm", "-5 mm", "1/0 in", "1/999999999 in", "250", "1,5 cm", "250 MM", "10 ft",
    "1 mm 2 mm",
    # Text that is code somewhere.
    "'{{ 7*7 }}'", "'{% include \"/etc/passwd\" %}'", '"<script>alert(1)</script>"', '"{panel_length}"',
    '"%s %d"',
    "'${HOME} $(ls) `ls`'", "'[bold]x[/bold]'", "']]><x/>'",
    # Ways out of the folder.
    "../../etc/passwd", "/etc/passwd", "file:///etc/passwd", "javascript:alert(1)", "./a/../b.yaml", "..",
    ".", "a/b",
    "./none.yaml", "../short-way.yaml", "~/x.yaml", "\\\\server\\x.yaml", "CON",
    "https://example.org/" + "a" * 400,
    # Signs that are not seen, or seen elsewhere.
    '"\u202e250 mm"', '"250\u00a0mm"', "\u0662\u0665\u0660 mm", "\uff12\uff15\uff10 mm",
    "e\u0301\u0302\u0303", "\U0001f600",
    '"\u200b"', "\ufeff", "x" * 5000,
]  # fmt: skip
"""What is put in the place of a value."""

WORDS = [
    "technique", "wording", "materials", "finish", "faces", "places", "tools", "consumables", "cautions",
    "stages",
    "tasks", "asks", "words", "id", "stage", "when", "needs", "gives", "minutes", "figure", "face",
    "place", "after",
    "irreversible", "gate", "pair", "adult", "hands", "mend_until", "rest", "times", "first_time",
    "practised", "key",
    "holds", "wrong", "expected", "fix", "title", "do", "check", "mistake", "see", "rescue", "what",
    "free",
]  # fmt: skip
"""Keys of a technique."""

OF_WAYS = [
    '"1) + (2"', '"1/0"', "p/0", "p*1e6*1e6", "p.__class__", "lipsum()", "'{{ p }}'", "p ** 9", "(" * 90,
    "[a, a]",
    "[a, [b]]", "{what: a}", "{what: a, when: taper}", "{when: taper}", '{what: a, when: "1"}', '"{x}"',
    "panels",
    '{first_time: "1", practised: "1"}', "{how: hold, factor: nan}", "{how: hold, factor: inf}",
    "at-once", "never",
    "[roll]", "roll", "[shade]", "[cloth]", "struts", "safe-pause", "any-time", "1e400", "-1",
    "taper and",
]  # fmt: skip
"""More values for a technique, which holds expressions."""

_SPOTS = [match.span(2) for match in re.finditer(r"([a-z_0-9]+): (\[[^\]]*\]|[^,{}\n]+)", RECIPE)]
_SIGNS = "'\"{}[]:#&*\t\x07|,!%@`?-"


def bad_recipe(seed: int) -> str:
    """The recipe above with one to three values replaced, and now and then a line lost, doubled or moved."""
    chance = random.Random(seed)
    text = RECIPE
    for start, end in sorted(chance.sample(_SPOTS, chance.choice([1, 1, 1, 2, 3])), reverse=True):
        text = text[:start] + chance.choice(WRONG) + text[end:]
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    match chance.randrange(8):
        case 0:
            lines.insert(at, chance.choice(lines))
        case 1:
            del lines[at]
        case 2:
            lines[at] = " " * chance.randint(1, 3) + lines[at]
        case 3:
            cut = chance.randrange(len(lines[at]) + 1)
            lines[at] = lines[at][:cut] + chance.choice(_SIGNS) + lines[at][cut:]
    return "\n".join(lines)


def bad_way(seed: int) -> str:
    """A small technique with one to three lines changed."""
    chance = random.Random(seed)
    lines = chance.choice(WAYS).read_text(encoding="utf-8").split("\n")
    for _ in range(chance.randint(1, 3)):
        at = chance.randrange(len(lines))
        line = lines[at]
        match chance.randrange(5):
            case 0 if ":" in line:
                lines[at] = f"{line.split(':', 1)[0]}: {chance.choice(WRONG + OF_WAYS)}"
            case 1:
                indent = " " * chance.choice([0, 2, 4, 6])
                lines.insert(at, f"{indent}{chance.choice(WORDS)}: {chance.choice(WRONG + OF_WAYS)}")
            case 2:
                lines.insert(at, line)
            case 3 if len(lines) > 1:
                del lines[at]
            case _:
                cut = chance.randrange(len(line) + 1)
                lines[at] = line[:cut] + chance.choice(_SIGNS) + line[cut:]
    return "\n".join(lines)


@dataclass
class Answers:
    """How a batch of files was answered."""

    refused: int = 0
    accepted: int = 0
    slowest: float = 0.0
    """Seconds of the processor for one file."""


def answered(folder: Path, texts: list[str], *, ways: bool = False) -> Answers:
    """Give each text to Rimfold as a file in a folder. Fails where an answer is not what a maker can use."""
    path = folder / ("way.yaml" if ways else "recipe.yaml")
    told = Answers()
    # What other tests hold in memory is not gone through again while a recipe is read and timed.
    gc.collect()
    gc.freeze()
    for text in texts:
        path.write_text(text, encoding="utf-8", errors="surrogatepass")
        before = time.process_time()
        try:
            if ways:
                load_technique("./way.yaml", folder)
            else:
                examine(path)
            told.accepted += 1
        except InputError as error:
            told.refused += 1
            check_words(error, folder)
        told.slowest = max(told.slowest, time.process_time() - before)
    gc.unfreeze()
    return told


def check_words(error: InputError, folder: Path) -> None:
    """Every fault in one line of bounded length that begins with file, line and column."""
    assert error.exit_code == 2
    lines = str(error).split("\n")
    assert 1 <= len(lines) == len(error.faults) <= 100
    for line in lines:
        assert re.match(rf"{re.escape(str(folder))}/[a-z-]+\.yaml:\d+:\d+: \S", line), line
        assert "; expected " in line
        assert line.isprintable(), line
        assert len(line) < 1400 + len(str(folder)), line
        line.encode("utf-8")
