"""A step's card as one drawing: its figure and its words, with live text, for slides, posters and web pages.

It is drawn from plain values; what they say is decided where the sheet's words are. Sizes are those of a card
on the sheet, mm and points.
"""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass
from typing import Any

import svgwrite

from generator.figures.lettering import STACK, text_width
from generator.figures.model import Figure
from generator.figures.paragraph import Runs, lines, plain, text_of
from generator.figures.pens import INK, RULE, SEA, SOFT, WHITE
from generator.figures.svg import identifier

POINT = 25.4 / 72
PAD = 5.0
"""From the frame to the words, mm; a card is as wide as its figure and this on both sides."""
NUMBER_ROOM = 10.5
SIGN_ROOM = 5.4
LONG_VALUE = 0.6
"""Share of a card that a value may take beside its name; longer ones go on below."""
AMBER, SIGNAL = "#FFF3CF", "#FFC72C"
_SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True, slots=True)
class Type:
    """Size of letters and distance from line to line, points."""

    size: float
    lead: float

    @property
    def em(self) -> float:
        """Size in mm."""
        return self.size * POINT

    @property
    def line(self) -> float:
        """Distance of lines in mm."""
        return self.lead * POINT

    @property
    def base(self) -> float:
        """From a line's upper edge to its base line, mm: the engine's own share for this face."""
        return (self.lead - self.size) / 2 * POINT + 0.79 * self.em


NUMBER, TITLE, DO, PROOF = Type(20, 20), Type(14, 16.5), Type(12, 15), Type(10.5, 13)
TAG, VALUE, FOOT = Type(9.5, 13.6), Type(9, 11), Type(8, 10)


@dataclass(frozen=True, slots=True)
class Mark:
    """A tag beside the title; ``look`` is ``adult``, ``no-undo``, ``no-wait`` or ``plain``."""

    text: str
    look: str


@dataclass(frozen=True, slots=True)
class CardText:
    """All that stands on a card beside its figure. What is empty is left out."""

    owner: str
    """Recipe, size and task: the beginning of all ids in the file."""
    number: int
    title: str
    marks: tuple[Mark, ...]
    minutes: str
    cautions: tuple[Runs, ...]
    take: tuple[Runs, ...]
    """What to take, and how two people share the step."""
    instructions: tuple[Runs, ...]
    values: tuple[tuple[str, str], ...]
    """Names and values of what is measured in this step."""
    check: Runs
    mistake: Runs
    pause: str
    gate: bool
    foot: tuple[str, str]
    """Shade and edition."""
    spoken: tuple[str, str, str]
    """What the signs say to those who hear: caution, check, mistake."""
    language: str


def draw_card(card: CardText, figure: Figure) -> str:
    """The card as SVG text. Raises FigureError for a word that is wider than the card."""
    return _Writer(card, figure).written()


class _Parsed:
    """A finished drawing among the elements of another."""

    def __init__(self, element: ElementTree.Element) -> None:
        self._element = element

    def get_xml(self) -> ElementTree.Element:
        """What svgwrite asks of an element."""
        return self._element


class _Writer:
    """Writes from top to bottom; ``y`` is how far it has come, mm."""

    def __init__(self, card: CardText, figure: Figure) -> None:
        self.card, self.figure = card, figure
        self.id = f"card-{identifier(card.owner)}"
        self.width = figure.width + 2 * PAD
        self.room = figure.width
        self.y = 0.0
        self.drawing = svgwrite.Drawing(debug=False, profile="full")
        self.elements: list[Any] = []

    def written(self) -> str:
        """All parts in the order of reading, then the frame of the height that they took."""
        card = self.card
        self._head()
        for number, caution in enumerate(card.cautions, 1):
            self._caution(number, caution)
        self._figure()
        with_space = [("take", runs, PROOF, SOFT, 0.4) for runs in card.take]
        with_space += [("do", runs, DO, INK, 1.1) for runs in card.instructions]
        for number, (part, runs, kind, colour, gap) in enumerate(with_space, 1):
            self._paragraph(f"{part}-{number}", part, runs, kind, PAD, self.room, colour)
            self.y += gap
        self._values()
        self._rule(RULE, 0.25)
        self._signed("check", card.check, card.spoken[1], "M1.6 6.6L4.6 9.8L10.4 2.4", SEA)
        if card.mistake:
            strokes = "M2.4 2.4L9.6 9.6M9.6 2.4L2.4 9.6"
            self._signed("mistake", card.mistake, card.spoken[2], strokes, INK)
        if card.pause:
            self._rule(SEA, 0.35, dash="1.4 0.9")
            self._paragraph("pause", "pause", plain(card.pause, 600), PROOF, PAD, self.room, SEA)
        self._foot()
        return self._page()

    def _page(self) -> str:
        drawing, height = self.drawing, round(self.y, 2)
        drawing.attribs.update(
            {
                "width": f"{self.width:g}mm",
                "height": f"{height:g}mm",
                "viewBox": f"0 0 {self.width:g} {height:g}",
                "id": self.id,
                "xml:lang": self.card.language,
                "font-family": STACK,
                "data-step": str(self.card.number),
                "data-card": self.card.owner,
            }
        )
        drawing.set_desc(title=f"{self.card.number} {self.card.title}")
        wide = 1.0 if self.card.gate else 0.35
        frame = drawing.rect(
            (wide / 2, wide / 2), (self.width - wide, round(height - wide, 2)), fill=WHITE, stroke=INK
        )
        frame["stroke-width"] = f"{wide:g}"
        frame["id"] = f"{self.id}-frame"
        for element in (frame, *self.elements):
            drawing.add(element)
        return str(drawing.tostring())

    def _group(self, name: str, part: str) -> Any:
        group = self.drawing.g(id=f"{self.id}-{name}", **{"data-part": part})
        self.elements.append(group)
        return group

    def _line(self, group: Any, runs: Runs, kind: Type, x: float, base: float, colour: str) -> None:
        text = self.drawing.text("", insert=(f"{x:.2f}", f"{base:.2f}"), fill=colour)
        text["font-size"] = f"{kind.em:.3f}"
        if len(runs) == 1:
            text.text = runs[0].text
            text["font-weight"] = str(runs[0].weight)
        else:
            for run in runs:
                piece = self.drawing.tspan(run.text)
                piece["font-weight"] = str(run.weight)
                text.add(piece)
            text["xml:space"] = "preserve"
        group.add(text)

    def _set(self, group: Any, runs: Runs, kind: Type, x: float, room: float, colour: str) -> None:
        for line in lines(runs, kind.em, room):
            self._line(group, line, kind, x, self.y + kind.base, colour)
            self.y += kind.line

    def _paragraph(
        self, name: str, part: str, runs: Runs, kind: Type, x: float, room: float, colour: str
    ) -> None:
        self._set(self._group(name, part), runs, kind, x, room, colour)

    def _rule(self, colour: str, wide: float, dash: str = "") -> None:
        self.y += 0.8
        line = self.drawing.line((PAD, f"{self.y:.2f}"), (PAD + self.room, f"{self.y:.2f}"), stroke=colour)
        line["stroke-width"] = f"{wide:g}"
        if dash:
            line["stroke-dasharray"] = dash
        self._group(f"rule-{len(self.elements)}", "rule").add(line)
        self.y += 1.0

    def _head(self) -> None:
        """Number, title, marks and minutes; white on ink where the step is a gate."""
        card, left = self.card, PAD + NUMBER_ROOM
        ground = self._group("head", "head")
        number, colour = (WHITE, WHITE) if card.gate else (SEA, INK)
        self.y = 3.4
        group = self._group("title", "title")
        first = self.y + 0.7 * NUMBER.em
        self._line(group, plain(str(card.number), 700), NUMBER, PAD, first, number)
        minutes = plain(card.minutes, 600)
        taken = text_width(card.minutes, TAG.em, 600)
        title = plain(card.title, 700)
        beside = (
            not card.marks and text_width(card.title, TITLE.em, 700) + taken + 3.0 <= self.room - NUMBER_ROOM
        )
        for line in lines(title, TITLE.em, self.room - NUMBER_ROOM):
            self._line(group, line, TITLE, left, first, colour)
            first += TITLE.line
        base = first - TITLE.line
        if not beside:
            base = self._marks(base + 6.0, left, self.width - PAD - taken - 2.0, colour)
        self._line(self._group("minutes", "minutes"), minutes, TAG, self.width - PAD - taken, base, colour)
        self.y = base + 2.6
        if card.gate:
            ground.add(self.drawing.rect((0, 0), (f"{self.width:g}", f"{self.y:.2f}"), fill=INK))
            self.y += 1.4

    def _marks(self, base: float, left: float, right: float, colour: str) -> float:
        """Tags in a row, or in as many as they need; returns the last base line."""
        x = left
        for number, mark in enumerate(self.card.marks, 1):
            framed = mark.look != "plain"
            weight = 600 if mark.look == "no-undo" else 400
            inset = 1.6 if framed else 0.0
            wide = text_width(mark.text, TAG.em, weight) + 2 * inset
            if x + wide > right and x > left:
                x, base = left, base + TAG.line + 0.4
            group = self._group(f"mark-{number}", f"mark-{mark.look}")
            fill, ink = "none", colour
            if mark.look == "no-undo":
                fill, ink = (WHITE, INK) if self.card.gate else (INK, WHITE)
            if framed:
                box = self.drawing.rect(
                    (f"{x:.2f}", f"{base - 3.15:.2f}"),
                    (f"{wide:.2f}", "4.25"),
                    rx=0.8,
                    fill=fill,
                    stroke=colour,
                )
                box["stroke-width"] = "0.35"
                if mark.look == "adult":
                    box["stroke-dasharray"] = "1.1 0.7"
                group.add(box)
            self._line(group, plain(mark.text, weight), TAG, x + inset, base, ink)
            x += wide + 1.8
        return base

    def _caution(self, number: int, caution: Runs) -> None:
        group = self._group(f"caution-{number}", "caution")
        set_ = lines(caution, PROOF.em, self.room - 14.0)
        high = len(set_) * PROOF.line + 2.0
        box = self.drawing.rect(
            (PAD + 0.25, f"{self.y:.2f}"), (self.room - 0.5, f"{high:.2f}"), fill=AMBER, stroke=INK
        )
        box["stroke-width"] = "0.5"
        group.add(box)
        sign = self.drawing.g(
            transform=f"translate({PAD + 2.6:g} {self.y + high / 2 - 2.95:.2f}) scale(0.236)", role="img"
        )
        sign.set_desc(title=self.card.spoken[0])
        triangle = self.drawing.path("M14 2.2L26 23L2 23Z", fill=SIGNAL, stroke=INK)
        triangle["stroke-width"], triangle["stroke-linejoin"] = "2.4", "round"
        bar = self.drawing.path("M14 8.6L14 16", fill="none", stroke=INK)
        bar["stroke-width"], bar["stroke-linecap"] = "2.6", "round"
        for element in (triangle, bar, self.drawing.circle((14, 19.6), 1.5, fill=INK)):
            sign.add(element)
        group.add(sign)
        self.y += 1.0
        for line in set_:
            self._line(group, line, PROOF, PAD + 11.6, self.y + PROOF.base, INK)
            self.y += PROOF.line
        self.y += 2.2

    def _figure(self) -> None:
        """The figure as it is, its ids made the card's own."""
        element = ElementTree.fromstring(self.figure.svg)
        for each in element.iter():
            each.tag = each.tag.removeprefix(_SVG)
            if "id" in each.attrib:
                each.set("id", f"card-{each.get('id')}")
        for name in (
            "width",
            "height",
            "version",
            "baseProfile",
            "{http://www.w3.org/XML/1998/namespace}lang",
        ):
            element.attrib.pop(name, None)
        _, above, _, _ = (float(number) for number in element.attrib.pop("viewBox").split())
        element.tag = "g"
        element.set("transform", f"translate({PAD:g} {self.y - above:.2f})")
        for empty in element.findall("defs"):
            element.remove(empty)
        self.elements.append(_Parsed(element))
        self.y += self.figure.height + 1.4

    def _values(self) -> None:
        if not self.card.values:
            return
        self._rule(RULE, 0.25)
        group = self._group("values", "values")
        for name, value in self.card.values:
            # A list, or a value in two units, may take lines of its own beside its name.
            rows = lines(plain(value, 600), VALUE.em, LONG_VALUE * self.room)
            wide = max(text_width(text_of(row), VALUE.em, 600) for row in rows)
            top = self.y
            self._set(group, plain(name), VALUE, PAD, self.room - wide - 3.0, SOFT)
            for number, row in enumerate(rows):
                x = PAD + self.room - text_width(text_of(row), VALUE.em, 600)
                self._line(group, row, VALUE, x, top + number * VALUE.line + VALUE.base, INK)
            self.y = max(self.y, top + len(rows) * VALUE.line)

    def _signed(self, part: str, runs: Runs, spoken: str, strokes: str, colour: str) -> None:
        group = self._group(part, part)
        sign = self.drawing.g(transform=f"translate({PAD:g} {self.y + 0.5:.2f}) scale(0.3)", role="img")
        sign.set_desc(title=spoken)
        path = self.drawing.path(strokes, fill="none", stroke=colour)
        path["stroke-width"], path["stroke-linecap"], path["stroke-linejoin"] = "1.9", "round", "round"
        sign.add(path)
        group.add(sign)
        self._set(group, runs, PROOF, PAD + SIGN_ROOM, self.room - SIGN_ROOM, INK)
        self.y += 0.4

    def _foot(self) -> None:
        self.y += 1.6
        group = self._group("foot", "foot")
        left, right = self.card.foot
        base = self.y + FOOT.base
        self._line(group, plain(left, 600), FOOT, PAD, base, SOFT)
        wide = text_width(right, FOOT.em)
        # A long name of a shade, and the edition on a line of its own below it.
        if wide + text_width(left, FOOT.em, 600) + 3.0 > self.room:
            self.y += FOOT.line
            base = self.y + FOOT.base
        self._line(group, plain(right), FOOT, self.width - PAD - wide, base, SOFT)
        self.y += FOOT.line + 2.6
