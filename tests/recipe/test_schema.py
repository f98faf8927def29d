"""The JSON Schema agrees with the reader, checked by a small checker of the words that the schema uses."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from generator.recipe.kits import Kits
from generator.recipe.layers import INNER, TOP_ONLY
from generator.recipe.merge import plain
from generator.recipe.models import SECTIONS, TAPER_KEYS
from generator.recipe.nodes import parse_document, read_document
from generator.recipe.schema import json_schema
from generator.recipe.section import Section
from generator.shape.build import outline_keys
from tests.recipe.reading import HEAD, LAMP, PLAIN, SAMPLES, STARTER

SCHEMA = json_schema(outline_keys())
RING = "{outline: circle, diameter: 20 cm}"
TAPER = f"rimfold: 1\ntitle: T\ntop: {RING}\nbottom: {RING}\n"
WORDS = {
    "$defs", "$ref", "$schema", "title", "description", "examples", "type", "properties",
    "additionalProperties", "propertyNames", "required", "enum", "const", "pattern", "minLength", "maxLength",
    "minimum", "maximum", "exclusiveMinimum", "minItems", "maxItems", "items", "minProperties",
    "maxProperties", "anyOf", "oneOf", "allOf", "not", "if", "then",
}  # fmt: skip
TYPES: dict[str, Any] = {"string": str, "object": dict, "array": list, "integer": int, "number": (int, float)}


def valid(value: Any, schema: Any) -> bool:
    """JSON Schema 2020-12, as far as this schema uses it."""
    if isinstance(schema, bool):
        return schema
    if "$ref" in schema and not valid(value, SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]]):
        return False
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    if kinds and not any(isinstance(value, TYPES[kind]) and not isinstance(value, bool) for kind in kinds):
        return False
    if "enum" in schema and not any(value == one and type(value) is type(one) for one in schema["enum"]):
        return False
    if "const" in schema and value != schema["const"]:
        return False
    if isinstance(value, str) and not _valid_text(value, schema):
        return False
    if isinstance(value, int | float) and not isinstance(value, bool) and not _valid_number(value, schema):
        return False
    if isinstance(value, list):
        if not schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value)):
            return False
        if not all(valid(item, schema.get("items", True)) for item in value):
            return False
    if isinstance(value, dict) and not _valid_object(value, schema):
        return False
    if "not" in schema and valid(value, schema["not"]):
        return False
    if "if" in schema and valid(value, schema["if"]) and not valid(value, schema["then"]):
        return False
    return (
        all(valid(value, one) for one in schema.get("allOf", []))
        and ("anyOf" not in schema or any(valid(value, one) for one in schema["anyOf"]))
        and ("oneOf" not in schema or sum(valid(value, one) for one in schema["oneOf"]) == 1)
    )


def _valid_text(value: str, schema: dict[str, Any]) -> bool:
    length = schema.get("minLength", 0) <= len(value) <= schema.get("maxLength", len(value))
    return length and ("pattern" not in schema or re.search(schema["pattern"], value) is not None)


def _valid_number(value: float, schema: dict[str, Any]) -> bool:
    return schema.get("minimum", value) <= value <= schema.get("maximum", value) and (
        "exclusiveMinimum" not in schema or value > schema["exclusiveMinimum"]
    )


def _valid_object(value: dict[str, Any], schema: dict[str, Any]) -> bool:
    properties, rest = schema.get("properties", {}), schema.get("additionalProperties", True)
    return (
        all(key in value for key in schema.get("required", []))
        and schema.get("minProperties", 0) <= len(value) <= schema.get("maxProperties", len(value))
        and all(valid(inner, properties.get(key, rest)) for key, inner in value.items())
        and all(valid(key, schema.get("propertyNames", True)) for key in value)
    )


def _plain(text: str) -> Any:
    root = parse_document(text, "t").root
    assert root is not None
    return plain(root)


def _words(node: Any) -> set[str]:
    if isinstance(node, list):
        return set().union(*(_words(item) for item in node))
    if not isinstance(node, dict):
        return set()
    found = set(node)
    for key, inner in node.items():
        if key in ("properties", "$defs"):
            found |= set().union(*(_words(one) for one in inner.values()))
        elif key not in ("examples", "enum", "const", "required"):
            found |= _words(inner)
    return found


def test_the_checker_knows_every_word_of_the_schema() -> None:
    assert _words(SCHEMA) <= WORDS
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_the_schema_is_json() -> None:
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


@pytest.mark.parametrize("path", [*SAMPLES, STARTER], ids=lambda path: path.stem)
def test_a_sample_is_valid(path: Path) -> None:
    root = read_document(path).root
    assert root is not None
    assert valid(plain(root), SCHEMA)


def test_every_key_of_every_model_stands_at_the_top_and_inside_a_size() -> None:
    size = SCHEMA["$defs"]["SizeLayer"]
    of_documents = {"languages", "units", "tone", "paper"}
    shared = {*SECTIONS, *TAPER_KEYS, *of_documents, "outline", "use", "height"}
    shared |= {key for keys in outline_keys().values() for key in keys.all}
    assert set(size["properties"]) == shared
    assert set(SCHEMA["properties"]) == shared | {*TOP_ONLY}
    dimensions = {key for keys in outline_keys().values() for key in keys.all}
    assert set(SCHEMA["$defs"]["EndLayer"]["properties"]) == {"outline", *dimensions}
    assert set(SCHEMA["$defs"]["Shift"]["properties"]) == {"x", "y"}
    models: dict[str, type[Section]] = {**SECTIONS, **INNER, "kits": Kits}
    for model in models.values():
        properties = SCHEMA["$defs"][model.__name__]["properties"]
        assert set(properties) == set(model.model_fields)


def test_nothing_unknown_is_allowed_anywhere() -> None:
    assert SCHEMA["additionalProperties"] is False
    assert all(definition["additionalProperties"] is False for definition in SCHEMA["$defs"].values())


def test_every_outline_is_offered_with_its_keys() -> None:
    offered = {one["const"]: one["description"] for one in SCHEMA["properties"]["outline"]["oneOf"]}
    assert set(offered) == set(outline_keys())
    for name, keys in outline_keys().items():
        assert all(key in offered[name] for key in keys.all)


def test_every_key_is_described() -> None:
    for definition in (SCHEMA, *SCHEMA["$defs"].values()):
        for key, inner in definition["properties"].items():
            assert inner.get("description"), key


@pytest.mark.parametrize(
    "text",
    [
        PLAIN + LAMP,
        PLAIN + 'kits: {count: {25: 12}, lot: PD-03, edition: "2", format: folded, spares: {seam-tape: 1}, '
        "link: https://my-workroom.example, cautions: [Mind the step.], parts: ./my-kit.yaml, "
        "overlap: {least: 10 mm, most: 1.5 cm}}\n",
        PLAIN + "panel: {supplied: {length: 80 cm, height: 21 cm, margin: 15 mm}}\n",
        PLAIN + "panel: {margin: 11 3/4 in, kiss_cut: no}\n",
        PLAIN + 'class: {people: 8, start: "10:00", length: 4 h, tables: [{length: 180 cm, depth: 75 cm, '
        "count: 4}], tools: {rotary cutter: 2, seam-roller: 2}, skill: practised, cloth: in-class, seed: 7, "
        "ages: [9, 70], blades: adult, adult: Ines, demonstrations: {roll: 8 min}, costs: {room: 60, "
        "tutor: 140.50, fee: 65}, break: {minutes: 20 min, after: trim}, stock: ./my-prices.yaml}\n",
        PLAIN + "class: {people: [{name: Ines, size: 25, cloth: {name: Own, width: 1 m, length: 1.5 m, "
        "direction: one-way, frays: much, repeat: {around: 4 cm}}}, {recipe: ./other.yaml}], "
        'start: "9:30", length: 150 min, tables: [{length: 2 m, depth: 80 cm}]}\n',
        "rimfold: 1\ntitle: T\nsizes: {a: {outline: square, side: 25 cm, height: 20 cm}}\n",
        "rimfold: 1\ntitle: T\noutline: circle\ndiameter: 25 cm\nheight: 20 cm\nsizes: {a: {}}\n",
        f"rimfold: 1\ntitle: T\nsizes: {{a: {{top: {RING}, bottom: {{outline: square, side: 30 cm, "
        "corner_radius: 4 cm}, slant: 23 cm, shift: {x: -10 mm, y: 1/2 in}}}\n",
        f"rimfold: 1\ntitle: T\nslant: 23 cm\ntop: {{outline: circle}}\nbottom: {RING}\n"
        "sizes: {a: {top: {diameter: 20 cm}}, b: {top: {outline: square, side: 20 cm}, height: 22 cm}}\n",
    ],
)
def test_what_the_reader_takes_is_valid(text: str) -> None:
    assert valid(_plain(text), SCHEMA)


def test_what_an_editor_reads_as_numbers_and_truth_values_is_valid_too() -> None:
    value = _plain(PLAIN)
    value |= {"rimfold": 1, "title": 2026, "panel": {"kiss_cut": False}, "ring": {"struts": 4}}
    value |= {"makers": {"ages": [9, 11], "people": 2}, "lamp": {"diameter": "6 cm", "watts": 6.5}}
    assert valid(value, SCHEMA)


@pytest.mark.parametrize(
    "text",
    [
        PLAIN.replace("rimfold: 1", "rimfold: 2"),
        PLAIN.replace("title: Test\n", ""),
        PLAIN.replace("250 mm", "250"),
        PLAIN.replace("250 mm", "25,5"),
        PLAIN.replace("circle", "cirkle"),
        PLAIN.replace("outline: circle\n", ""),
        PLAIN.replace("circle", "rectangle"),
        PLAIN.replace(", height: 180 mm", ""),
        PLAIN.replace("diameter", "diametre"),
        PLAIN.replace("25:", "a b:"),
        PLAIN.replace("25:", "..:"),
        HEAD + "sizes: {}\n",
        PLAIN + "panel: {glue: hot}\n",
        PLAIN + "panel: {kiss_cut: maybe}\n",
        PLAIN + "covering: {repeat: {}}\n",
        PLAIN + "ring: {fitter: both}\n",
        PLAIN + "makers: {ages: [9]}\n",
        PLAIN + "makers: {hand: both}\n",
        PLAIN + "link: ftp://my-workroom.example\n",
        PLAIN + "kits: {lot: PD-03}\n",
        PLAIN + "kits: {count: 12}\n",
        PLAIN + "kits: {count: {25: some}}\n",
        PLAIN + "kits: {count: {a b: 12}}\n",
        PLAIN + "kits: {count: {25: 12}, spares: {Seam tape: 1}}\n",
        PLAIN + "kits: {count: {25: 12}, link: 'http://my-workroom.example'}\n",
        PLAIN + "kits: {count: {25: 12}, format: rolled}\n",
        PLAIN + "kits: {count: {25: 12}, overlap: {least: 10}}\n",
        PLAIN + "panel: {supplied: 80 cm}\n",
        PLAIN + "slant: 20 cm\n",
        PLAIN + "shift: {x: 1 cm}\n",
        HEAD + "sizes: {a: {diameter: 25 cm, height: 20 cm, shift: {x: 1 cm}}}\n",
        HEAD + f"sizes: {{a: {{height: 20 cm, top: {RING}}}}}\n",
        HEAD + f"height: 20 cm\ntop: {RING}\nbottom: {RING}\nsizes: {{a: {{}}}}\n",
        f"{TAPER}sizes: {{a: {{}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, slant: 21 cm}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, diameter: 21 cm}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, outline: circle, top: {RING}}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, top: {{outline: circle, diameter: 20 cm, side: 20 cm}}}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, shift: {{}}}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, shift: {{x: 10}}}}}}\n",
        f"{TAPER}sizes: {{a: {{height: 20 cm, shift: {{z: 10 mm}}}}}}\n",
        f"height: 20 cm\n{TAPER.replace('circle', 'cirkle')}sizes: {{a: {{}}}}\n",
        f"height: 20 cm\n{TAPER.replace('outline: circle, ', '')}sizes: {{a: {{}}}}\n",
        f"height: 20 cm\n{TAPER.replace('diameter', 'side')}sizes: {{a: {{}}}}\n",
        HEAD + "sizes: {a: {outline: square, diameter: 25 cm, height: 20 cm}}\n",
    ],
)
def test_what_the_reader_refuses_for_its_form_is_not_valid(text: str) -> None:
    assert not valid(_plain(text), SCHEMA)
