"""What a recipe may say, one model a section. JSON Schema is made from these models."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal, Self

from pydantic import ConfigDict, Field, model_validator

from generator.base.edition import (
    NO_WISHES,
    REFERENCE,
    USUAL,
    Edition,
    Form,
    PaperName,
    PrintSize,
    Tone,
    Units,
    Voice,
    Wishes,
)
from generator.base.message import message
from generator.base.spans import Span
from generator.base.units import parse_minutes
from generator.recipe.ends import ENDS
from generator.recipe.ends import End as End
from generator.recipe.ends import Ends as Ends
from generator.recipe.fields import (
    Ages,
    ClothWidth,
    Duration,
    FitterEnd,
    Length,
    LengthOrZero,
    Line,
    LongLine,
    People,
    Shifted,
    Struts,
    Watts,
    YesNo,
)
from generator.recipe.kits import Kits, Limits, Supplied
from generator.recipe.repeat import Repeat as Repeat
from generator.recipe.section import Section as Section
from generator.recipe.taught_class import TaughtClass
from generator.recipe.values import ValueFault


class Covering(Section):
    """The woven fabric."""

    name: Line
    """What the cloth is called on the sheets."""
    width: ClothWidth
    """Usable width, without the selvedges."""
    length: ClothWidth | None = None
    """Length of the piece, if it is a remnant; left out: as long as is needed."""
    direction: Literal["any", "one-way"]
    """one-way: the print has an up, which runs along the cloth; any: the cut piece may be turned."""
    slack_ends: LengthOrZero
    """Spare cloth beyond each end of the panel."""
    slack_edges: LengthOrZero
    """Spare cloth beyond each long edge of the panel."""
    frays: Literal["little", "much"]
    """How readily the cut edge loses threads."""
    repeat: Repeat | None = None
    """The pattern's repeat, if it must match at the seam."""


class Panel(Section):
    """The self-adhesive PVC sheet."""

    thickness: LengthOrZero
    """Thickness of the sheet."""
    margin: LengthOrZero
    """Width of the cloth margin that is turned over each ring; zero: none, the edges are trimmed flush."""
    overlap: Length
    """How far the ends lap over one another at the seam."""
    kiss_cut: YesNo
    """Whether the panel comes scored along its margins."""
    stock_length: Length | None = None
    """Length of the sheets that panels are cut from; left out: as long as one panel needs."""
    stock_width: Length | None = None
    """Width of those sheets; left out: as wide as a panel needs."""
    supplied: Supplied | None = None
    """A panel that comes cut to size: it is checked against the rings, and its numbers count."""


class Ring(Section):
    """The two wire rings; struts, recess and hole belong to the fitter ring."""

    wire: Length
    """Diameter of the wire."""
    struts: Struts
    """Number of struts of the fitter ring."""
    recess: LengthOrZero
    """How far the lamp-holder hole is set back inside the shade."""
    spacing: Literal["arc", "angle"]
    """Whether the struts stand evenly along the wire (arc) or by angle from the centre."""
    first_strut: LengthOrZero | None = None
    """Distance of the first strut from the seam along the wire; left out: half a space."""
    fitter: FitterEnd | None = None
    """The end that carries the fitter ring; left out: top on a pendant, bottom on a table lamp."""
    hole: Length | None = None
    """Diameter of the lamp-holder hole, as measured."""


class Tape(Section):
    """The double-sided tape."""

    width: Length
    """Width of the tape."""
    thickness: LengthOrZero
    """Thickness of the tape without its liner."""


class Lamp(Section):
    """The lamp that the shade is made for."""

    diameter: Length
    """Largest diameter of the lamp."""
    kind: Line
    """What kind of lamp it is, such as LED."""
    length: Length | None = None
    """Length of the lamp from the lamp-holder."""
    watts: Watts | None = None
    """The wattage marked on the lamp."""


class Makers(Section):
    """Who makes the shade."""

    people: People
    """How many people make it together."""
    hand: Literal["right", "left"]
    """The hand that holds the tool."""
    ages: Ages | None = None
    """Ages of the youngest and the oldest maker."""
    blades: Literal["adult", "learner"]
    """Who uses blades and the iron where learners make the shade."""
    own_cloth: YesNo
    """Whether the makers bring cloth of their own."""


class Seam(Section):
    """How the outside end is finished."""

    finish: Literal["raw", "hem"]
    """raw: cut flush with the panel; hem: a tab of cloth folded over it."""
    hem: Length
    """Width of the tab of a hem."""


class Braid(Section):
    """A trim glued on at the end: along a tucked rim, or folded over a trimmed edge to bind it."""

    width: Length
    """Width of the braid."""
    cures: Duration
    """How long its glue cures, as its maker says."""

    @property
    def cure_minutes(self) -> float:
        """The same in minutes."""
        return parse_minutes(self.cures)


class Maker(Section):
    """Name and contact printed on the sheets."""

    name: Line
    """The workshop's name."""
    contact: LongLine | None = None
    """How to reach it."""
    address: LongLine | None = None
    """Where it is."""
    phone: Line | None = None
    """Its telephone number."""
    email: Line | None = None
    """Its address for mail."""
    web: Line | None = None
    """Its page on the web, as printed."""


class Printing(Section):
    """How the pages look."""

    size: PrintSize
    """Lettering: normal; large: eighteen points; larger: twenty-four points."""
    grey: YesNo
    """Printed in greys alone."""
    duplex: YesNo
    """Printed on both sides of the paper: the edge for filing changes sides."""


class Shift(Section):
    """How far the top ring stands away from straight above the bottom ring."""

    x: Shifted = 0.0
    """To the right, for one who looks at the seam from outside; below zero: to the left."""
    y: Shifted = 0.0
    """Away from the seam; below zero: towards it."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.model_fields_set:
            raise ValueFault(
                message("the shift says nothing"), message("x, y or both"), message("write such as x: 10 mm")
            )
        return self


SECTIONS: Mapping[str, type[Section]] = {
    "covering": Covering,
    "panel": Panel,
    "ring": Ring,
    "tape": Tape,
    "lamp": Lamp,
    "makers": Makers,
    "seam": Seam,
    "braid": Braid,
    "maker": Maker,
    "print": Printing,
}
"""Sections by key. Any of them may stand again inside a size."""

OPTIONAL_SECTIONS = ("lamp", "braid", "maker")
"""Sections that a shade has only if its recipe states them; house defaults fill in their keys then."""

TAPER_KEYS = (*ENDS, "slant", "shift")
"""Keys that a straight shade does not have."""

YOUNG = 14
"""A maker below this age is a young learner (a threshold of the house)."""


class SizeRecipe(Section):
    """One size of a recipe: sections merged, house defaults filled in, lengths in mm."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    name: str
    """The size's name as written."""
    recipe: str
    """File name without its ending: the folder in ``out/``."""
    title: str
    technique: str
    """A name in ``recipes/techniques``, or a path beside the recipe."""
    times: str = ""
    """A name in ``recipes/times``, a path beside the recipe, ``none``, or nothing."""
    use: Literal["table", "pendant"]
    languages: tuple[str, ...] = (REFERENCE,)
    """Languages of its documents, by code."""
    units: Units = "metric"
    tone: Tone = "plain"
    paper: PaperName = "A4"
    """What its documents are printed on."""
    outline: str
    """The rings' outline; of a taper that of the end with corners, bottom first, else the bottom's."""
    dimensions: Mapping[str, float]
    """The outline's own keys: lengths in mm, counts as whole numbers."""
    height: float
    """Finished height, straight up, mm; 0 if the recipe gives the slant."""
    ends: Ends | None = None
    """Both ends of a tapered shade; None: straight."""
    covering: Covering
    panel: Panel
    ring: Ring
    tape: Tape
    lamp: Lamp | None
    makers: Makers
    seam: Seam
    braid: Braid | None
    maker: Maker | None
    # Made when it is asked for: an instance here would have its validator built with the class.
    print: Printing = Field(default_factory=lambda: Printing(size="normal", grey=False, duplex=False))
    kits: Kits | None = None
    """What the recipe says of kits, alike for all its sizes."""
    taught: TaughtClass | None = None
    """The class in which its shades are made, alike for all its sizes."""
    limits: Limits | None = None
    """How far the ends of a supplied panel may lap; None: as far as the tape allows."""
    link: str | None
    digest: str
    """SHA-256 of the recipe file and the house defaults, hex."""
    spans: Mapping[str, Span] = Field(repr=False)
    """Place of each value by dotted key (``panel.margin``); the size's own place under ``""``.
    A value that comes from the house defaults has the place of its section, or of the size."""
    stated: frozenset[str] = Field(repr=False)
    """Dotted keys that the recipe itself states, not the house defaults."""

    @property
    def called(self) -> str:
        """The shade with its size: ``Pier drum 35``."""
        return f"{self.title} {self.name}"

    @property
    def fitter_end(self) -> Literal["top", "bottom"]:
        """The end that carries the fitter ring: top on a pendant, bottom on a table lamp, or as stated."""
        return self.ring.fitter or ("top" if self.use == "pendant" else "bottom")

    @property
    def boxes(self) -> int:
        """How many kits of this size are to be packed."""
        return self.kits.count.get(self.name, 0) if self.kits else 0

    @property
    def tapered(self) -> bool:
        """Whether each end has an outline and dimensions of its own."""
        return self.ends is not None

    @property
    def young_learners(self) -> bool:
        """Whether somebody under 14 makes the shade (a threshold of the house)."""
        return self.makers.ages is not None and min(self.makers.ages) < YOUNG

    @property
    def margin_key(self) -> str:
        """Dotted key of the value that says how wide the cloth margin is."""
        supplied = self.panel.supplied
        of_panel = supplied is not None and supplied.margin is not None and self.panel.kiss_cut
        return "panel.supplied.margin" if of_panel else "panel.margin"

    @property
    def overlap_key(self) -> str:
        """Dotted key of the value that the overlap follows from."""
        return "panel.supplied.length" if self.panel.supplied else "panel.overlap"

    def span(self, key: str) -> Span:
        """Place of a dotted key, or of the nearest enclosing thing that the file states."""
        while key:
            if key in self.spans:
                return self.spans[key]
            key = key.rpartition(".")[0]
        return self.spans[""]

    def editions(self, wishes: Wishes = NO_WISHES) -> tuple[Edition, ...]:
        """Every way in which its documents are printed: one a language, as the recipe or the wishes say."""
        form = Form(
            wishes.paper or self.paper,
            wishes.print_size or self.print.size,
            self.print.grey if wishes.grey is None else wishes.grey,
            self.print.duplex if wishes.duplex is None else wishes.duplex,
            stated=wishes.paper is not None or "paper" in self.stated or self.paper != USUAL.paper,
        )
        spoken = dict.fromkeys(wishes.languages or self.languages)
        units, tone = wishes.units or self.units, wishes.tone or self.tone
        return tuple(Edition(Voice(language, units, tone), form) for language in spoken)

    def conditions(self) -> dict[str, Any]:
        """Plain values that a technique's conditions may ask for."""
        return {
            "use": self.use,
            "outline": self.outline,
            "taper": self.tapered,
            "kiss_cut": self.panel.kiss_cut,
            "margins": self.panel.margin > 0,
            "hem": self.seam.finish == "hem",
            "braid": self.braid is not None,
            "frays": self.covering.frays,
            "direction": self.covering.direction,
            "repeat": self.covering.repeat is not None,
            "people": self.makers.people,
            "hand": self.makers.hand,
            "young": self.young_learners,
            "own_cloth": self.makers.own_cloth,
        }
