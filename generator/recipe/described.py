"""The texts that stand below the keys of the models, for the schema.

pydantic can take them over by itself, but then reads the source of every model whenever the program starts.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Iterator
from functools import cache

from generator.recipe.section import Section


def describe() -> None:
    """Give every key of every model that there is by now its text as description, unless it has another."""
    models = list(_below(Section))
    changed = False
    for model in models:
        for name, info in model.model_fields.items():
            text = next((_texts(one)[name] for one in model.__mro__ if name in _texts(one)), None)
            if info.description is None and text is not None:
                info.description = text
                changed = True
    if changed:
        # What validators were built from holds descriptions too. A model stands behind those that it holds.
        for model in models:
            model.model_rebuild(force=True)


def _below(model: type[Section]) -> Iterator[type[Section]]:
    for one in model.__subclasses__():
        yield one
        yield from _below(one)


@cache
def _texts(model: type) -> dict[str, str]:
    """The text below each key in the source of one model, by key; nothing for a model that has no source."""
    try:
        source = textwrap.dedent(inspect.getsource(model))
    except (OSError, TypeError):
        return {}
    (found,) = ast.parse(source).body
    if not isinstance(found, ast.ClassDef) or found.name != model.__name__:
        return {}
    texts: dict[str, str] = {}
    for above, below in zip(found.body, found.body[1:], strict=False):
        if (
            isinstance(above, ast.AnnAssign)
            and isinstance(above.target, ast.Name)
            and isinstance(below, ast.Expr)
            and isinstance(below.value, ast.Constant)
            and isinstance(below.value.value, str)
        ):
            texts[above.target.id] = inspect.cleandoc(below.value.value)
    return texts
