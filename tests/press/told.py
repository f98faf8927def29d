"""A finished file read in the order of its tags, from its own operators and its fonts' tables of signs.

What a reader shows of a page puts spaces where it sees a gap; here is only what the file says.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pikepdf

_PAIR = re.compile(r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_TEXTS = ("P", "H1", "H2", "H3", "H4", "TH", "TD", "LBody", "Figure")


@dataclass
class Told:
    """One tag: its name, its own words with those of tags within it, and these."""

    name: str
    words: str = ""
    page: int = 0
    kids: list[Told] = field(default_factory=list)

    def walk(self) -> Iterator[Told]:
        """This tag and all within it, in the order of reading."""
        yield self
        for kid in self.kids:
            yield from kid.walk()


def told(pdf: bytes) -> Told:
    """The tree of a file."""
    with pikepdf.open(io.BytesIO(pdf)) as file:
        words = {
            (number, mark): text for number, page in enumerate(file.pages) for mark, text in _drawn(page)
        }
        pages: dict[Any, int] = {page.objgen: number for number, page in enumerate(file.pages)}
        return _told(file.Root.StructTreeRoot.K[0], words, pages)


def texts(pdf: bytes) -> list[tuple[str, str]]:
    """Name and words of each paragraph, heading, cell and item, in the order of reading."""
    found = [each for each in told(pdf).walk() if each.name in _TEXTS]
    return [(each.name, "" if each.name == "Figure" else each.words) for each in found]


def _told(tag: pikepdf.Object, words: dict[tuple[int, int], str], pages: dict[Any, int]) -> Told:
    found = Told(str(tag.S)[1:], page=pages[tag.Pg.objgen] if "/Pg" in tag else 0)
    for kid in tag.get("/K", []):
        if isinstance(kid, pikepdf.Dictionary):
            if "/S" in kid:
                found.kids.append(_told(kid, words, pages))
                found.words += found.kids[-1].words if found.kids[-1].name != "Figure" else ""
        else:
            found.words += words.get((found.page, int(kid)), "")
    return found


def _drawn(page: pikepdf.Page) -> Iterator[tuple[int, str]]:
    """Each marked text of a page."""
    mark, text, signs = -1, "", dict[int, str]()
    for each in pikepdf.parse_content_stream(page):
        operands: Any = each.operands
        name = str(each.operator)
        if name == "BDC":
            mark, text = int(operands[1].get("/MCID", -1)), ""
        elif name == "EMC":
            if mark >= 0:
                yield mark, text
            mark = -1
        elif name == "Tf":
            signs = _signs(page.Resources.Font[str(operands[0])])
        elif name == "TJ":
            for part in operands[0]:
                if isinstance(part, pikepdf.String):
                    codes = bytes(part)
                    text += "".join(signs[codes[at] * 256 + codes[at + 1]] for at in range(0, len(codes), 2))


def _signs(font: pikepdf.Object) -> dict[int, str]:
    """Which sign each glyph is (ToUnicode; ISO 32000-1, 9.10.3, from memory)."""
    table = font.ToUnicode.read_bytes().decode("latin-1")
    pairs = [
        pair for part in re.findall(r"beginbfchar(.*?)endbfchar", table, re.S) for pair in _PAIR.findall(part)
    ]
    assert "beginbfrange" not in table
    return {int(code, 16): bytes.fromhex(sign).decode("utf-16-be") for code, sign in pairs}
