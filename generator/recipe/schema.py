"""JSON Schema of a recipe, made from the models that read it, so that an editor can complete one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.base.outline_keys import OutlineKeys
from generator.recipe.fields import SIZE_NAME_PATTERN
from generator.recipe.layers import Layers, layers_for
from generator.recipe.models import LATER_KEYS

DIALECT = "https://json-schema.org/draft/2020-12/schema"

Schema = dict[str, Any]


def json_schema(outlines: Mapping[str, OutlineKeys]) -> Schema:
    """JSON Schema (draft 2020-12) of a recipe. ``outlines`` names every outline and its keys.

    Any section may be partial, because sections merge; what must stand somewhere is asked for by conditions.
    """
    layers = layers_for(outlines)
    schema: Schema = _tidy(layers.top.model_json_schema())
    definitions: Schema = schema["$defs"]
    for definition in definitions.values():
        definition.pop("required", None)
    size: Schema = definitions["SizeLayer"]
    for layer in (schema, size):
        layer["properties"]["outline"] = _outline(outlines)
        layer["properties"] |= {key: _later() for key in LATER_KEYS[""]}
    definitions["Panel"]["properties"] |= {key: _later() for key in LATER_KEYS["panel"]}
    schema["properties"]["sizes"] |= {"propertyNames": {"pattern": SIZE_NAME_PATTERN}}
    schema["required"] = ["rimfold", "title", "sizes"]
    schema["allOf"] = list(_needs(layers))
    return {"$schema": DIALECT, "title": "Rimfold recipe", **schema}


def _outline(outlines: Mapping[str, OutlineKeys]) -> Schema:
    described = [
        {"const": name, "description": f"with {', '.join(keys.all)}"}
        for name, keys in sorted(outlines.items())
    ]
    return {"description": "The shape of the rings.", "oneOf": described}


def _later() -> Schema:
    return {"description": "Accepted, and not used yet."}


def _needs(layers: Layers) -> Iterator[Schema]:
    """What each size needs unless the top of the file says it for all: outline, height, dimensions."""
    for key in ("outline", "height"):
        yield {"if": {"not": {"required": [key]}}, "then": _each_size({"required": [key]})}
    for name, keys in sorted(layers.outlines.items()):
        chosen = {"required": ["outline"], "properties": {"outline": {"const": name}}}
        for key in keys.counts + keys.lengths:
            absent = {"not": {"required": [key]}}
            yield {
                "if": {"allOf": [chosen, absent]},
                "then": _each_size({"anyOf": [{"required": ["outline"]}, {"required": [key]}]}),
            }
            yield {"if": absent, "then": _each_size({"if": chosen, "then": {"required": [key]}})}


def _each_size(schema: Schema) -> Schema:
    return {"properties": {"sizes": {"additionalProperties": schema}}}


def _tidy(node: Any) -> Any:
    """Without the titles, nulls and null defaults that pydantic adds and a recipe does not have."""
    if isinstance(node, list):
        return [_tidy(item) for item in node]
    if not isinstance(node, dict):
        return node
    tidied = {}
    for key, value in node.items():
        if key in ("properties", "$defs"):
            tidied[key] = {name: _tidy(inner) for name, inner in value.items()}
        elif not (key == "title" or (key == "default" and value is None)):
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
