"""Catalogues that are read in one go hold what Babel reads in them; the others are left to Babel."""

from __future__ import annotations

from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from generator.base.errors import WordingError
from generator.sheets.catalogues import Counted, read_folder
from generator.sheets.plain_catalogue import read_plain

WORDING = Path(__file__).parents[2] / "templates" / "wording"
CATALOGUES = sorted(WORDING.rglob("*.po"))
HEADER = (
    'msgid ""\nmsgstr ""\n"Language: en\\n"\n"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
    '"Content-Type: text/plain; charset=UTF-8\\n"\n\n'
)


def listed(text: object) -> tuple[str, ...]:
    return tuple(map(str, text)) if isinstance(text, list | tuple) else (str(text),)


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.relative_to(WORDING).as_posix())
def test_every_catalogue_of_ours_is_plain_and_says_what_babel_reads_in_it(path: Path) -> None:
    plain = read_plain(path.read_text(encoding="utf-8"))
    assert plain is not None
    with path.open("rb") as stream:
        babel = read_po(stream, abort_invalid=True)
    assert [((e.key, *([e.counted] if e.counted else [])), e.texts) for e in plain.entries] == [
        (listed(message.id), listed(message.string)) for message in babel if message.id
    ]
    if plain.rule:
        assert (plain.plurals, plain.rule) == (babel.num_plurals, babel.plural_expr)
    else:
        assert not any(entry.counted for entry in plain.entries)


@pytest.mark.parametrize(
    "entry",
    [
        'msgid "a"\nmsgstr "tab\\t"\n',
        'msgid "a"\nmsgstr "b" \n',
        'msgid "a"\r\nmsgstr "b"\r\n',
        'msgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgstr "c"\n',
        'msgctxt "x"\nmsgid "a"\nmsgstr "b"\n',
        '#, fuzzy\nmsgid "a"\nmsgstr "b"\n',
        '#~ msgid "a"\n#~ msgstr "b"\n',
        'msgid "a"\nmsgid_plural "{n}"\nmsgstr[0] "b"\n',
        'msgid "a"\nmsgid_plural "{n}"\nmsgstr[0] "b"\nmsgstr[2] "c"\n',
        'msgid "a"\nmsgstr "b',
        'msgid "a"\n',
        "nonsense\n",
    ],
)
def test_what_is_written_otherwise_is_left_to_babel(entry: str) -> None:
    assert read_plain(HEADER + 'msgid "z"\nmsgstr "y"\n') is not None
    assert read_plain(HEADER + entry) is None
    assert read_plain(entry) is None


def test_a_catalogue_that_is_not_plain_is_read_all_the_same(tmp_path: Path) -> None:
    (tmp_path / "own.po").write_text(
        HEADER + '#, c-format\nmsgid "a"\nmsgstr "say \\"b\\""\n\n'
        'msgid "c"\nmsgid_plural "{n}"\nmsgstr[0] "one"\nmsgstr[1] "{n}"\n',
        encoding="utf-8",
    )
    found = read_folder(tmp_path)
    assert found["a"] == 'say "b"'
    counted = found["c"]
    assert isinstance(counted, Counted)
    assert [counted.texts[counted.which(number)] for number in (1, 2)] == ["one", "{n}"]


def test_a_file_that_is_no_catalogue_is_refused_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "own.po").write_text(HEADER + "nonsense\n", encoding="utf-8")
    with pytest.raises(WordingError, match=r"own\.po cannot be read"):
        read_folder(tmp_path)
