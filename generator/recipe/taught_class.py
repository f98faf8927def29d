"""What a recipe says of a class: who comes, when, to which tables, with how many of each tool."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag, WithJsonSchema, create_model

from generator.base.message import message
from generator.recipe import beside, lengths, values
from generator.recipe.fields import (
    LENGTH_PATTERN,
    Ages,
    ClothWidth,
    Length,
    Line,
    PartName,
    SizeName,
    YesNo,
    count_schema,
)
from generator.recipe.repeat import Repeat
from generator.recipe.section import Section
from generator.recipe.values import ValueFault

MOST_PEOPLE = 40
MOST_TABLES = 40
"""Tables of one kind, and pieces of one tool."""
MOST_KINDS = 12
"""Kinds of tables."""
MOST_TOOLS = 30
LONGEST = 12 * 60.0
"""Minutes: a class is over within one day."""
LONGEST_GATE = 120.0
"""Minutes that one demonstration or break takes at most."""
MOST_SEED = 999_999
COUNTED, LISTED = "people-counted", "people-listed"
"""Which of its two forms ``people`` has: marks for the models, never written by anybody."""

_DURATION = {"type": "string", "pattern": "^[0-9]", "examples": ["4 h", "15 min"]}
_AMOUNT = WithJsonSchema(
    {"anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "pattern": "^[0-9]+(\\.[0-9]{1,2})?$"}]}
)

Count = Annotated[int, BeforeValidator(values.count(1, MOST_TABLES)), count_schema(1, MOST_TABLES)]
Headcount = Annotated[int, BeforeValidator(values.count(1, MOST_PEOPLE)), count_schema(1, MOST_PEOPLE)]
Seed = Annotated[int, BeforeValidator(values.count(0, MOST_SEED)), count_schema(0, MOST_SEED)]
Clock = Annotated[
    float,
    BeforeValidator(values.clock),
    WithJsonSchema({"type": "string", "pattern": "^([01]?[0-9]|2[0-3]):[0-5][0-9]$", "examples": ["10:00"]}),
]
"""A time of day, minutes after midnight."""
Minutes = Annotated[float, BeforeValidator(values.minutes(LONGEST)), WithJsonSchema(_DURATION)]
GateMinutes = Annotated[
    float, BeforeValidator(values.minutes(LONGEST_GATE, zero=True)), WithJsonSchema(_DURATION)
]
Money = Annotated[float, BeforeValidator(values.money), _AMOUNT]
"""An amount of money; the list of prices says in which currency."""
ToolName = Annotated[str, BeforeValidator(values.tool_name)]
ClothLength = Annotated[
    float,
    BeforeValidator(lengths.length(most=lengths.LARGEST_CLOTH)),
    WithJsonSchema({"type": "string", "pattern": LENGTH_PATTERN, "examples": ["1.5 m"]}),
]
OtherRecipe = Annotated[
    str,
    BeforeValidator(beside.only_beside(message("a recipe"), "./my-shade.yaml")),
    WithJsonSchema({"type": "string", "pattern": f"^({beside.BESIDE})$", "examples": ["./pier-drum.yaml"]}),
]
PriceList = Annotated[
    str,
    BeforeValidator(beside.named_or_beside(message("a list of prices"), "class")),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": f"^({beside.NAMED}|{beside.BESIDE})$",
            "examples": ["class", "./my-prices.yaml"],
        }
    ),
]


class OwnCloth(Section):
    """A cloth that somebody brings; what is left out is as the recipe's covering says."""

    name: Line | None = None
    """What it is called."""
    width: ClothWidth | None = None
    """Usable width, without the selvedges."""
    length: ClothLength | None = None
    """How long the piece is; left out: long enough."""
    direction: Literal["any", "one-way"] | None = None
    """one-way: the print has an up, which runs along the cloth; any: the cut piece may be turned."""
    frays: Literal["little", "much"] | None = None
    """How readily the cut edge loses threads."""
    repeat: Repeat | None = None
    """The pattern's repeat, if it must match at the seam."""


class Attendee(Section):
    """Somebody in the class, and what they make."""

    name: Line | None = None
    """Their name; left out: a line to write it on."""
    recipe: OtherRecipe | None = None
    """The recipe of their shade, beside this one; left out: this one."""
    size: SizeName | None = None
    """Which size they make; left out: the only one."""
    cloth: OwnCloth | None = None
    """The cloth that they bring; left out: the workroom's."""


class Table(Section):
    """Tables of one kind."""

    length: Length
    """Length of one table."""
    depth: Length
    """Depth of one table."""
    count: Count = 1
    """How many there are."""


class Rest(Section):
    """The break in the middle of a class."""

    minutes: GateMinutes
    """How long it is; zero: there is none."""
    after: PartName
    """The stage of the work after which it stands."""


class Costs(Section):
    """What the class costs and takes in, besides what is bought."""

    room: Money = 0.0
    """The hire of the room."""
    tutor: Money = 0.0
    """The tutor's pay."""
    fee: Money | None = None
    """What one person pays; left out: no break-even number."""


def _form(value: Any) -> str:
    return LISTED if isinstance(value, list | tuple) else COUNTED


def _listed(value: Any) -> Any:
    if isinstance(value, list | tuple):
        if not value:
            raise ValueFault(
                message("nobody stands in the list"),
                message("a number of people, or a list"),
                message("write such as 8"),
            )
        if len(value) > MOST_PEOPLE:
            raise ValueFault(
                message("{count} people stand here", count=len(value)),
                message("at most {most}", most=MOST_PEOPLE),
                message("make two classes"),
            )
    return value


def _few_tables(value: Any) -> Any:
    if not isinstance(value, list | tuple):
        fix = message("write such as {text}", text="[{length: 180 cm, depth: 75 cm, count: 4}]")
        raise ValueFault(
            message("one text stands where a list of tables should be")
            if isinstance(value, str)
            else message("a section stands where a list of tables should be"),
            message("a list in brackets"),
            fix,
        )
    if not 1 <= len(value) <= MOST_KINDS:
        wrong = (
            message("{count} kinds of tables stand here", count=len(value))
            if value
            else message("there is no table")
        )
        raise ValueFault(
            wrong,
            message("from 1 to {most} kinds of tables", most=MOST_KINDS),
            message("write alike tables once, with count"),
        )
    return value


def _few_tools(value: Any) -> Any:
    if isinstance(value, dict) and len(value) > MOST_TOOLS:
        raise ValueFault(
            message("{count} tools stand here", count=len(value)),
            message("at most {most}", most=MOST_TOOLS),
            message("leave out what all have"),
        )
    return value


class _Class(Section):
    """A class: people who make their shades together, in one room, with shared tools."""

    people: Annotated[
        Annotated[Headcount, Tag(COUNTED)] | Annotated[tuple[Attendee, ...], Tag(LISTED)],
        Discriminator(_form),
        BeforeValidator(_listed),
    ]
    """How many people come, or a list of who makes what."""
    start: Clock
    """When it begins."""
    length: Minutes
    """How long it is."""
    tables: Annotated[tuple[Table, ...], BeforeValidator(_few_tables)]
    """The tables in the room."""
    tools: Annotated[dict[ToolName, Count], BeforeValidator(_few_tools)] = Field(default_factory=dict)
    """Shared tools and how many there are; everybody has every other tool."""
    skill: Literal["first-time", "practised"]
    """Whether people make their first shade."""
    cloth: Literal["pre-cut", "in-class"]
    """pre-cut: the tutor presses and cuts the cloth before the class; in-class: everybody their own."""
    swap: YesNo = False
    """The class is halved: one half tapes rings while the other laminates."""
    seed: Seed
    """A number from which slow and quick people are drawn; the same number gives the same class."""
    ages: Ages | None = None
    """Ages of the youngest and the oldest; left out: as the makers of the recipe."""
    blades: Literal["adult", "learner"] | None = None
    """Who uses blades and the iron where learners make shades."""
    adult: Line | None = None
    """The adult who does that; left out: the tutor."""
    adults: Count = 1
    """How many adults do that at once; people wait for them as for a tool."""
    demonstrations: dict[PartName, GateMinutes] = Field(default_factory=dict)
    """Minutes of a demonstration, by its name, and of the welcome; left out: as the technique says."""
    costs: Costs = Field(default_factory=Costs)
    """Room, tutor and fee, in the currency of the list of prices."""
    stock: PriceList
    """Pack sizes and prices: a name in recipes/stock, or a path beside the recipe."""

    @property
    def rest(self) -> Rest:
        """The break: its key is a word that Python keeps for itself."""
        found = getattr(self, "break")
        assert isinstance(found, Rest)
        return found

    @property
    def attendees(self) -> tuple[Attendee, ...]:
        """One for each person, in order."""
        return self.people if isinstance(self.people, tuple) else (Attendee(),) * self.people


def _with_break() -> type[_Class]:
    """The same with the key ``break``, which no attribute in a class can be called."""
    fields: dict[str, Any] = {
        "break": (Rest, Field(description="The break: how long, and after which stage."))
    }
    return create_model("_ClassWithBreak", __base__=_Class, __module__=__name__, **fields)


if TYPE_CHECKING:
    _ClassWithBreak = _Class
else:
    _ClassWithBreak = _with_break()


class TaughtClass(_ClassWithBreak):
    """A class: people who make their shades together, in one room, with shared tools."""
