"""The kinds of values that the models are made of: how each is read, and what an editor is told about it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, WithJsonSchema

from generator.base.message import message
from generator.recipe import beside, lengths, values

_MAGNITUDE = r"(([0-9]{1,9}\s+)?[0-9]{1,9}\s*/\s*[0-9]{1,9}|[0-9]{1,9}(\.[0-9]{1,9})?)\s*(mm|cm|m|in)\s*$"
LENGTH_PATTERN = rf"^\s*{_MAGNITUDE}"
SHIFTED_PATTERN = rf"^\s*(-\s*)?{_MAGNITUDE}"


def _length_schema(*examples: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": LENGTH_PATTERN, "examples": list(examples)})


def count_schema(least: int, most: int) -> WithJsonSchema:
    """What an editor is told about a whole number within bounds."""
    whole = {"type": "integer", "minimum": least, "maximum": most}
    return WithJsonSchema({"anyOf": [whole, {"type": "string", "pattern": "^[0-9]{1,6}$"}]})


def _text_schema(most: int) -> WithJsonSchema:
    # An editor reads a title such as 2026 as a number; Rimfold takes it as text.
    return WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": most})


def file_schema(*examples: str) -> WithJsonSchema:
    """What an editor is told about a name in a data folder or a path beside the recipe."""
    pattern = f"^({beside.NAMED}|{beside.BESIDE})$"
    return WithJsonSchema({"type": "string", "pattern": pattern, "examples": list(examples)})


Length = Annotated[float, BeforeValidator(lengths.length()), _length_schema("250 mm", "35 cm", "11 3/4 in")]
"""Millimetres, written with a unit; above 0, at most 3 m."""

LengthOrZero = Annotated[float, BeforeValidator(lengths.length(zero=True)), _length_schema("0 mm", "15 mm")]
"""Millimetres, written with a unit; 0 is allowed."""

Shifted = Annotated[
    float,
    BeforeValidator(lengths.shifted),
    WithJsonSchema({"type": "string", "pattern": SHIFTED_PATTERN, "examples": ["10 mm", "-20 mm"]}),
]
"""Millimetres, written with a unit; may be below zero."""

Size = Annotated[
    float,
    BeforeValidator(lengths.length(lengths.SMALLEST_SIZE)),
    _length_schema("250 mm", "35 cm", "11 3/4 in"),
]
"""An outline's dimension or a height: millimetres, from 40 mm to 3 m."""

ClothWidth = Annotated[
    float, BeforeValidator(lengths.length(most=lengths.LARGEST_CLOTH)), _length_schema("140 cm")
]
"""Usable width of a cloth, or length of a remnant, millimetres."""

Sides = Annotated[int, BeforeValidator(values.count(3, 36)), count_schema(3, 36)]
"""An outline's count."""

YesNo = Annotated[
    bool,
    BeforeValidator(values.yes_no),
    WithJsonSchema({"enum": [True, False, "true", "false", "yes", "no"]}),
]

Line = Annotated[str, BeforeValidator(values.line(80)), _text_schema(80)]
"""A name or title: one line, at most 80 characters."""

LongLine = Annotated[str, BeforeValidator(values.line(200)), _text_schema(200)]
"""One line, at most 200 characters."""

Struts = Annotated[int, BeforeValidator(values.count(2, 12)), count_schema(2, 12)]
"""Number of struts."""

People = Annotated[int, BeforeValidator(values.count(1, 40)), count_schema(1, 40)]
"""Number of makers."""

FitterEnd = Annotated[Literal["top", "bottom"], BeforeValidator(values.fitter)]
"""The end with the fitter ring."""

Watts = Annotated[
    float,
    BeforeValidator(values.watts),
    WithJsonSchema(
        {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string", "pattern": "^[0-9]"}]}
    ),
]
"""Positive watts."""

Languages = Annotated[
    tuple[str, ...],
    BeforeValidator(values.languages),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "pattern": "^[a-z]{2,3}$"},
                {"type": "array", "minItems": 1, "items": {"type": "string", "pattern": "^[a-z]{2,3}$"}},
            ],
            "examples": [["en", "de"]],
        }
    ),
]
"""Codes of languages that have wording."""

Ages = Annotated[
    tuple[int, int],
    BeforeValidator(values.ages),
    WithJsonSchema(
        {
            "type": "array",
            "minItems": 2,
            "maxItems": 2,
            "items": {"type": ["integer", "string"], "pattern": "^[0-9]{1,3}$"},
        }
    ),
]
"""Youngest and oldest."""

Duration = Annotated[
    str,
    BeforeValidator(values.duration),
    WithJsonSchema({"type": "string", "pattern": "^[0-9]", "examples": ["2 h", "45 min", "1 day"]}),
]
"""A time as written."""

Link = Annotated[
    str,
    BeforeValidator(values.link),
    WithJsonSchema({"type": "string", "pattern": "^(https?://|mailto:)[^\\s]+$", "maxLength": 300}),
]
"""An address that a reader can open."""

Technique = Annotated[
    str,
    BeforeValidator(beside.named_or_beside(message("a technique"), "rolled-edge")),
    file_schema("rolled-edge", "./my-way.yaml"),
]
"""Name of a technique, or a path beside the recipe."""

Times = Annotated[
    str,
    BeforeValidator(beside.named_or_beside(message("a form of times"), "gannetry-steps")),
    file_schema("gannetry-steps", "./our-times.yaml", "none"),
]
"""Name of a form of actual times, a path beside the recipe, or ``none``."""

Version = Annotated[int, BeforeValidator(values.version), WithJsonSchema({"enum": [1, "1"]})]
"""The format version."""

SizeName = Annotated[str, BeforeValidator(values.size_name)]
"""A size's name; it becomes a folder's name."""

PartName = Annotated[str, BeforeValidator(values.part_name)]
"""Name of a part of a kit, such as ``seam-tape``."""

SIZE_NAME_PATTERN = r"^(?!\.+$)[A-Za-z0-9._-]{1,40}$"

PART_NAME_PATTERN = r"^[a-z][a-z0-9-]{0,59}$"
