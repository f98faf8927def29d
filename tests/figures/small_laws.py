"""What holds for every figure in a small place, beside the laws of figures: its size, how much it says."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from shapely import unary_union

from generator.figures.model import Figure, Job, Slot
from generator.figures.small.carry import LIGHTER_WIRE
from tests.figures import laws
from tests.figures.drawings import parts, root, words
from tests.figures.laws import CASED, shapes

CASED_SMALL = frozenset({*CASED, *(round(LIGHTER_WIRE * width, 2) for width in (*CASED, 0.7))})
"""Wires are drawn lighter where the scene is small, their cores with them."""
REACH = 3.0
"""So near is what is new to what is there: hands and dimensions that told of it may be gone, mm."""
UNNAMED = ("number-", "order-", "letter-", "hold")
"""Signs that count, not names."""


def check_small(job: Job, figure: Figure, slot: Slot) -> None:
    """Every law of a figure in a small place."""
    work = replace(job, slot=slot)
    laws.check_names(work, figure)
    laws.check_new(figure, REACH)
    laws.check_action(work, figure)
    laws.check_dimensions(work, figure)
    if root(figure).get("data-scale"):
        laws.check_scale(figure)
    laws.check_conventions(figure, CASED_SMALL)
    laws.check_paper(figure)
    check_place(figure, slot)
    check_labels(figure, slot)
    check_tied(figure)
    check_free(figure)


def check_place(figure: Figure, slot: Slot) -> None:
    """The place is a hard limit: just as wide, no higher."""
    assert (figure.width, root(figure).get("width")) == (slot.width, f"{slot.width:g}mm")
    assert 0 < figure.height <= slot.max_height


def names(figure: Figure) -> list[str]:
    """Its labels."""
    labels = [part for part in parts(figure) if part.role == "label" and not part.name.startswith(UNNAMED)]
    return [text for part in labels for text in part.texts]


def check_labels(figure: Figure, slot: Slot) -> None:
    """No more labels and values than the place may hold, each a few words, each once."""
    assert len(names(figure)) <= (slot.most_labels or 0)
    assert len(set(names(figure))) == len(names(figure))
    values = [part for part in parts(figure) if part.role == "dimension" and part.texts]
    assert len(values) <= slot.most_values
    assert all(len(text.split()) <= 4 for text in names(figure))


def check_tied(figure: Figure) -> None:
    """The place of an enlarged detail is marked in the scene beside it: lines lead there, or a letter."""
    drawn = shapes(figure)
    scene = [s for s in drawn if not s.enlarged and s.role in ("context", "new", "removed")]
    if not scene or not any(s.part == "detail-rim" for s in drawn):
        return
    letters = sum(len(part.texts) for part in parts(figure) if part.name.startswith("letter-"))
    assert any(part.name == "detail-link" for part in parts(figure)) or letters == 2 or _apart(figure)


def _apart(figure: Figure) -> bool:
    """A view from another side is no detail of a place."""
    return root(figure).get("data-figure") == "notch"


def check_free(figure: Figure) -> None:
    """No name stands on an arrow or a hand, no two names cross each other's leaders."""
    acting = unary_union([s.ink for s in shapes(figure) if s.role == "action" and s.fill != "none"])
    texts = [word.box for word in words(figure) if word.text in names(figure)]
    assert all(text.buffer(-0.1).intersection(acting).area < 0.05 for text in texts)
    leaders = [s.ink for s in shapes(figure) if s.part.startswith("label-") and s.fill == "none"]
    assert not any(a.crosses(b) for a, b in combinations(leaders, 2))
    for leader in leaders:
        crossed = [text for text in texts if text.buffer(-0.2).intersects(leader)]
        assert not crossed
