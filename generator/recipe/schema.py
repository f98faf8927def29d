"""JSON Schema of a recipe, made from the models that read it, so that an editor can complete one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.base.outline_keys import OutlineKeys
from generator.recipe import schema_ends
from generator.recipe.described import describe
from generator.recipe.fields import PART_NAME_PATTERN, SIZE_NAME_PATTERN
from generator.recipe.layers import Layers, layers_for
from generator.recipe.schema_ends import TAPERED, Schema, any_of, each_size, stated

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema(outlines: Mapping[str, OutlineKeys]) -> Schema:
    """JSON Schema (draft 2020-12) of a recipe. ``outlines`` names every outline and its keys.

    Any section may be partial, because sections merge; what must stand somewhere is asked for by conditions.
    """
    layers = layers_for(outlines)
    describe()
    schema: Schema = _tidy(layers.top.model_json_schema())
    definitions: Schema = schema["$defs"]
    for definition in definitions.values():
        definition.pop("required", None)
    size: Schema = definitions["SizeLayer"]
    for layer in (schema, size, definitions["EndLayer"]):
        layer["properties"]["outline"] = _outline(outlines)
    definitions["EndLayer"]["allOf"] = list(schema_ends.own_keys(layers))
    # Kits are said once, so that what they need stands there or nowhere.
    definitions["Kits"]["required"] = ["count"]
    definitions["Kits"]["properties"]["count"] |= {"propertyNames": {"pattern": SIZE_NAME_PATTERN}}
    definitions["Kits"]["properties"]["spares"] |= {"propertyNames": {"pattern": PART_NAME_PATTERN}}
    # So is a class; skill, cloth, seed, break and prices have defaults of the house.
    definitions["TaughtClass"]["required"] = ["people", "start", "length", "tables"]
    definitions["Table"]["required"] = ["length", "depth"]
    for section in ("Repeat", "Shift"):
        definitions[section]["minProperties"] = 1
    schema["properties"]["sizes"] |= {"propertyNames": {"pattern": SIZE_NAME_PATTERN}}
    schema["required"] = ["rimfold", "title", "sizes"]
    schema["allOf"] = [*_needs(layers), *schema_ends.needs(layers)]
    return {"$schema": DIALECT, "title": "Rimfold recipe", **schema}


def _outline(outlines: Mapping[str, OutlineKeys]) -> Schema:
    described = [
        {"const": name, "description": f"with {', '.join(keys.all)}"}
        for name, keys in sorted(outlines.items())
    ]
    return {"description": "The shape of the rings.", "oneOf": described}


def _needs(layers: Layers) -> Iterator[Schema]:
    """What each size needs unless the top of the file says it for all: outline or ends, height or slant,
    the dimensions of the outline."""
    for needed in (any_of(stated("outline"), TAPERED), any_of(stated("height"), stated("slant"))):
        yield {"if": {"not": needed}, "then": each_size(needed)}
    for name, keys in sorted(layers.outlines.items()):
        chosen = {"required": ["outline"], "properties": {"outline": {"const": name}}}
        for key in keys.counts + keys.lengths:
            absent = {"not": stated(key)}
            yield {
                "if": {"allOf": [chosen, absent]},
                "then": each_size(any_of(stated("outline"), TAPERED, stated(key))),
            }
            yield {"if": absent, "then": each_size({"if": chosen, "then": stated(key)})}


def _tidy(node: Any) -> Any:
    """Without the titles, nulls and defaults that pydantic adds and a recipe does not have."""
    if isinstance(node, list):
        return [_tidy(item) for item in node]
    if not isinstance(node, dict):
        return node
    tidied = {}
    for key, value in node.items():
        if key in ("properties", "$defs"):
            tidied[key] = {name: _tidy(inner) for name, inner in value.items()}
        elif key not in ("title", "default"):
            tidied[key] = _tidy(value)
    options = tidied.get("anyOf")
    if isinstance(options, list) and {"type": "null"} in options:
        rest = [option for option in options if option != {"type": "null"}]
        if len(rest) == 1:
            del tidied["anyOf"]
            tidied = rest[0] | tidied
        else:
            tidied["anyOf"] = rest
    return tidied
