"""What a kind of document brings itself: the file in ``kinds`` that is called like it, if there is one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from generator.base.registry import kinds, load_kind
from generator.sheets.document import Kind, Subject
from generator.sheets.packing import Block, Layout, Measured
from generator.sheets.wording import Catalogue

PACKAGE = "generator.sheets.kinds"


def own_views(kind: Kind, subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What only this kind's template may name. Raises WordingError, FigureError."""
    module = _module(kind)
    found: Mapping[str, Any] = module.views(subject, words) if module else {}
    return found


def own_blocks(kind: Kind, subject: Subject) -> tuple[Block, ...] | None:
    """What stands whole on this kind's pages in its form; None: it has no blocks of its own."""
    module = _module(kind)
    if not hasattr(module, "blocks"):
        return None
    found: tuple[Block, ...] | None = module.blocks(subject)
    return found


def own_numbers(kind: Kind, subject: Subject, words: Catalogue) -> Iterable[str]:
    """Texts whose numbers may stand on this kind's pages besides those of every document."""
    module = _module(kind)
    found: Iterable[str] = module.numbers(subject, words) if hasattr(module, "numbers") else ()
    return found


def own_arrangement(kind: Kind, subject: Subject) -> Callable[[Iterable[Measured]], Layout] | None:
    """How this kind breaks its pages in its form; None: as a step sheet does."""
    module = _module(kind)
    if not hasattr(module, "arrangement"):
        return None
    found: Callable[[Iterable[Measured]], Layout] | None = module.arrangement(kind, subject)
    return found


def _module(kind: Kind) -> Any:
    return load_kind(PACKAGE, kind.name) if kind.name in kinds(PACKAGE) else None
