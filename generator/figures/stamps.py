"""What must keep its size when a picture is laid out anew in a small place: hands, arrows, values, hatching.

A drawn line can be carried to another size point by point. An arrow cannot: its head would shrink. So whoever
draws such a thing leaves a stamp on what it drew, which says how to draw it again elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from inspect import signature
from typing import Concatenate, ParamSpec, TypeVar, cast

from generator.figures.canvas import Canvas, Stamp

P = ParamSpec("P")
R = TypeVar("R")


def stamped(draw: Callable[Concatenate[Canvas, P], R]) -> Callable[Concatenate[Canvas, P], R]:
    """Let all that a function draws carry its name and what it was given.

    Of stamped functions that call one another, the outermost leaves its stamp.
    """
    form = signature(draw)

    @wraps(draw)
    def drawn(canvas: Canvas, *args: P.args, **kwargs: P.kwargs) -> R:
        given = form.bind(canvas, *args, **kwargs)
        given.apply_defaults()
        values = dict(given.arguments)
        del values[next(iter(form.parameters))]
        with canvas.stamped(Stamp(draw.__name__, draw, values, canvas.clipped)):
            return draw(canvas, *args, **kwargs)

    return cast(Callable[Concatenate[Canvas, P], R], drawn)
