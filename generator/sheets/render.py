"""Templates become HTML in a sandbox that escapes everything that is not markup of ours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import groupby

from jinja2 import FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup, escape

from generator.base.assets import data_folder
from generator.base.edition import Form
from generator.sheets.style import enlarged, scaled, style_files
from generator.sheets.wording import Segment, Sentence

RULE_PITCH = 8.0
"""Distance of the lines in ruled notes, mm."""
NOTES_HEAD = 9.0
"""Height of the heading above the lines, mm."""
_BREAK = Markup("\u200b")
_WHOLE = "\u00a0"
LONG = 40
"""A sentence with so many letters may end on a line below its first."""
NAME = 24
"""A name with a hyphen and no more letters is not broken there."""
PAIR = 18
"""Its last two words stay together if they have no more letters: one short word alone is hard to find."""


def render(template: str, context: Mapping[str, object]) -> str:
    """The HTML of a template, a path below ``templates``. Raises jinja2.UndefinedError for a missing name."""
    return _environment().get_template(template).render(context)


@cache
def _environment() -> ImmutableSandboxedEnvironment:
    environment = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(data_folder("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(rich=rich, narrow=narrow, plain=plain, mm=millimetres, lines=ruled_lines)
    environment.globals["style"] = style
    return environment


@pass_context
def style(context: Context, *names: str, small: bool = False, by: float = 1.0, large: bool = True) -> Markup:
    """Style sheets by name, each with the variants for the form of these pages, lettering at its size.

    With ``small`` it is smaller on A5; not ``large``: large enough for every print size. All lengths become
    ``by`` times as large.
    """
    form: Form = context["form"]
    found = (path for name in names for path in style_files(name, form))
    texts = (_environment().get_template(path).render(context.get_all()) for path in found)
    css = "\n".join(texts)
    if large:
        css = scaled(css, form, small=small)
    return Markup(css if by == 1.0 else enlarged(css, by))


def rich(sentence: Sentence | str) -> Markup:
    """A sentence as markup: each number from a measure bold, named after it, and on one line."""
    if isinstance(sentence, str):
        return escape(sentence)
    return _joined(_pieces(_ended(sentence)))


def narrow(sentence: Sentence | str) -> Markup:
    """The same for a narrow column, with a place for a line to end, without width, before each whole number.

    Where a text fills its line to the last space, and what follows must not be broken, the engine would
    otherwise end that line after its first word.
    """
    if isinstance(sentence, str):
        return escape(sentence)
    pieces: list[tuple[bool, Markup]] = []
    for aside, piece in _pieces(_ended(sentence)):
        if pieces and pieces[-1][1].endswith(" ") and piece.startswith("<"):
            pieces.append((aside and pieces[-1][0], _BREAK))
        pieces.append((aside, piece))
    return _joined(pieces)


def plain(sentence: Sentence) -> str:
    """A sentence's words alone, to stand within another sentence."""
    return "".join(segment.text for segment in sentence)


def _ended(sentence: Sentence) -> Sentence:
    """The same with its last two words on one line. No line more comes of it: only a word moves down."""
    if sum(len(segment.text) for segment in sentence) < LONG or sentence[-1].measure is not None:
        return sentence
    before, _, last = sentence[-1].text.rpartition(" ")
    fore, space, word = before.rpartition(" ")
    if not (space and word and last) or len(word) + len(last) >= PAIR:
        return sentence
    return (*sentence[:-1], replace(sentence[-1], text=f"{fore} {word}{_WHOLE}{last}"))


def _groups(sentence: Sentence) -> Iterable[list[Segment]]:
    """Segments that must stay on one line together: ``1155 × 270 mm``."""
    group: list[Segment] = []
    for segment in sentence:
        if group and not segment.keep:
            yield group
            group = []
        group.append(segment)
    if group:
        yield group


def _pieces(sentence: Sentence) -> Iterator[tuple[bool, Markup]]:
    """Groups as markup, and whether each says in another unit what stands before it."""
    for group in _groups(sentence):
        yield group[0].aside, _group(group)


def _joined(pieces: Iterable[tuple[bool, Markup]]) -> Markup:
    """All of them in order; what is said in another unit in an element of its own, for a page to set off."""
    found: list[Markup] = []
    for aside, run in groupby(pieces, key=lambda piece: piece[0]):
        inside = Markup("").join(piece for _, piece in run)
        found.append(Markup('<span class="second-unit">{}</span>').format(inside) if aside else inside)
    return Markup("").join(found)


def _group(group: list[Segment]) -> Markup:
    inside = Markup("").join(_piece(segment) for segment in group)
    return inside if len(group) == 1 else Markup('<span class="m">{}</span>').format(inside)


def _piece(segment: Segment) -> Markup:
    if segment.measure is None:
        if segment.name is not None and _stands_whole(segment.text):
            return Markup('<span class="m">{}</span>').format(segment.text)
        return escape(segment.text)
    if segment.aside:
        return Markup('<span class="m" data-measure="{}">{}</span>').format(segment.measure, segment.text)
    return Markup('<b class="m" data-measure="{}">{}</b>').format(segment.measure, segment.text)


def _stands_whole(text: str) -> bool:
    """Whether a value that was filled in keeps to one line: a number, or a recipe's name, ``pier-drum``."""
    return any(sign.isdigit() for sign in text) or ("-" in text and " " not in text and len(text) <= NAME)


def millimetres(length: float) -> str:
    """A length for a style attribute: ``80mm``."""
    return f"{length:.2f}".rstrip("0").rstrip(".") + "mm"


def ruled_lines(height: float) -> int:
    """How many lines of notes fit below their heading in a height, mm."""
    return max(0, int((height - NOTES_HEAD) / RULE_PITCH))
