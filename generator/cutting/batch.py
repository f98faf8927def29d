"""All that is cut for the kits of a recipe: cloth, panels, tape, and what the rest of them still makes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.base.errors import CuttingError, Fault, KitError
from generator.base.message import Message, message
from generator.cutting.guillotine import cut_cloth, pitch
from generator.cutting.model import Layout, Piece, Rolls, Strip
from generator.cutting.offcuts import Use, uses
from generator.cutting.panels import PanelPlan, Sheet, cut_panels
from generator.cutting.reels import Reel, cut_reels
from generator.measures.cloth import SWATCH
from generator.measures.full_scale import FRAME
from generator.measures.inches import inches_of
from generator.plan import stock
from generator.plan.work import Work
from generator.recipe.models import Covering, SizeRecipe

TAPES = ("ring-tape", "seam-tape")
"""Parts of a kit that are cut from a reel."""
MANY = 200
"""More of one thing than this nobody asks of one offcut."""
SWATCH_NAME, VIEWFINDER = "swatch", "viewfinder"


@dataclass(frozen=True)
class ClothPlan:
    """Pieces of one cloth."""

    name: str
    """What the cloth is called."""
    width: float
    turn: bool
    """Its pieces may lie either way."""
    one_way: bool
    """Its print has an up, which runs along the cloth."""
    pieces: tuple[Piece, ...]
    layout: Layout
    uses: tuple[Use, ...]
    """What its offcuts still make."""


@dataclass(frozen=True)
class TapePlan:
    """Tape of one kind."""

    reel: Reel
    strips: tuple[Strip, ...]
    plan: Rolls

    @property
    def used(self) -> float:
        """All pieces together, mm."""
        return self.plan.used


@dataclass(frozen=True)
class PanelRolls:
    """Panels of one kind of roll, with what the rest of the rolls makes."""

    plan: PanelPlan
    uses: tuple[Use, ...]
    scored: bool
    """Their margins are scored: where a roll is wider than a panel, that is done after cutting."""


@dataclass(frozen=True)
class Batch:
    """All kits of a recipe."""

    works: tuple[Work, ...]
    """Sizes of which boxes are counted."""
    cloths: tuple[ClothPlan, ...]
    panels: tuple[PanelRolls, ...]
    tapes: tuple[TapePlan, ...]
    without_roll: tuple[str, ...]
    """Sizes whose panels come cut, or from a roll that nobody states."""


def cut_batch(works: Sequence[Work]) -> Batch:
    """Cut all that the boxes of a recipe take; offcuts may also make sizes of which no boxes are counted.

    Raises KitError, at the place in the recipe, for a panel, a cloth or a tape that does not come out of what
    the list of parts or the recipe states.
    """
    packed = tuple(work for work in works if work.size.boxes)
    rolls = dict(_by_roll(packed))
    return Batch(
        packed,
        tuple(_cloth(covering, group, works) for covering, group in _by_cloth(packed)),
        tuple(plan for key, group in rolls.items() for plan in _panels(key, group, works)),
        tuple(_tapes(packed)),
        tuple(work.size.name for work in packed if roll_of(work) is None),
    )


def cloth_piece(work: Work, count: int) -> Piece:
    """The cloth of so many shades of a size, as its sheet says it is cut."""
    measures = work.measures
    length, width = measures.shown("cloth_length"), measures.shown("cloth_width")
    pieces = round(measures.shown("cloth_pieces")) if "cloth_pieces" in measures else 1
    repeat = work.size.covering.repeat
    held = repeat.up if repeat and repeat.up and work.size.covering.direction == "one-way" else None
    return Piece(work.size.name, length, width, count * pieces, pitch(width, held) if held else 0.0)


def may_turn(size: SizeRecipe) -> bool:
    """Whether a piece of this cloth may lie either way: no up, and no repeat that must run round."""
    return size.covering.direction == "any" and size.covering.repeat is None


def _by_cloth(works: Sequence[Work]) -> Iterator[tuple[Covering, list[Work]]]:
    groups: dict[tuple[object, ...], list[Work]] = {}
    for work in works:
        cloth = work.size.covering
        groups.setdefault((cloth.name, cloth.width, cloth.direction, cloth.repeat), []).append(work)
    for group in groups.values():
        yield group[0].size.covering, group


def _cloth(covering: Covering, works: Sequence[Work], known: Sequence[Work]) -> ClothPlan:
    size = works[0].size
    pieces = tuple(cloth_piece(work, work.size.boxes) for work in works)
    turn = may_turn(size)
    try:
        layout = cut_cloth(pieces, covering.width, turn)
    except CuttingError as error:
        fix = message("state a wider cloth, or make the shade smaller")
        raise _refused(error, size, "covering.width", fix) from error
    wishes = [cloth_piece(work, 1) for work in known if work.size.covering == covering]
    return ClothPlan(
        covering.name,
        covering.width,
        turn,
        covering.direction == "one-way",
        pieces,
        layout,
        uses(layout.offcuts, [*_many(wishes), Piece(SWATCH_NAME, SWATCH, SWATCH, MANY)], turn),
    )


def _by_roll(works: Sequence[Work]) -> Iterator[tuple[tuple[Sheet, float, bool], list[Work]]]:
    """Sizes whose panels come out of the same roll: of one size, one thickness, scored or not."""
    groups: dict[tuple[Sheet, float, bool], list[Work]] = {}
    for work in works:
        sheet = roll_of(work)
        if sheet is not None:
            panel = work.size.panel
            groups.setdefault((sheet, panel.thickness, panel.kiss_cut), []).append(work)
    yield from groups.items()


def roll_of(work: Work) -> Sheet | None:
    """What panels are cut from: as the recipe says, else as the list of parts; None: they come cut."""
    panel = work.size.panel
    if panel.supplied:
        return None
    form = work.kit.stock.get("panel") if work.kit else None
    listed = form if isinstance(form, stock.Roll | stock.Sheet) else None
    length = panel.stock_length or (listed.length if listed else None)
    width = panel.stock_width or (listed.width if listed else None)
    single = panel.stock_length is not None or isinstance(form, stock.Sheet)
    return Sheet(length, width, single) if length and width else None


def panel_piece(work: Work, count: int) -> Piece:
    """The panels of so many shades of a size; of a curved one the rectangle that holds it."""
    measures = work.measures
    sides = ("blank_length", "blank_width") if work.shade.tapered else ("panel_length", "panel_height")
    length, width = (measures.shown(side) for side in sides)
    long, wide = (inches_of(measures[side]) for side in sides)
    inches = (long[0], wide[0]) if long and wide else None
    return Piece(work.size.name, length, width, count * round(measures.shown("panels")), inches=inches)


def _panels(
    key: tuple[Sheet, float, bool], works: Sequence[Work], known: Sequence[Work]
) -> Iterator[PanelRolls]:
    sheet, _, scored = key
    size = works[0].size
    try:
        plans = cut_panels([_boxed_panels(work) for work in works], sheet)
    except CuttingError as error:
        stated = "panel.stock_width" if size.panel.stock_width else "kits.parts"
        fix = message("state a larger one in the list of parts, under stock")
        if size.panel.stock_width:
            fix = message("state a larger one in the recipe")
        raise _refused(error, size, stated, fix) from error
    wishes = [panel_piece(work, 1) for work in known if roll_of(work) == sheet]
    windows = [_viewfinder(work) for work in works if not work.shade.tapered]
    for plan in plans:
        rest = [area for times, layout in plan.layouts for area in layout.offcuts for _ in range(times)]
        yield PanelRolls(plan, uses(rest, [*_many(wishes), *windows], turn=True), scored)


def _viewfinder(work: Work) -> Piece:
    """A window as large as the third of the shade that faces who looks at it, with its frame: one a box."""
    third = work.measures.shown("wrapped_length") / 3
    height = work.measures.shown("finished_height")
    name = f"{VIEWFINDER} {work.size.name}"
    return Piece(name, third + 2 * FRAME, height + 2 * FRAME, work.size.boxes)


def _many(wishes: Sequence[Piece]) -> list[Piece]:
    """The largest first, as many of each as come out."""
    wide = sorted(wishes, key=lambda piece: (-piece.length * piece.width, piece.name))
    return [replace(piece, count=MANY) for piece in wide]


def _tapes(works: Sequence[Work]) -> Iterator[TapePlan]:
    """Tape by reel: pieces of ring tape and seam tape share one where both are bought alike."""
    groups: dict[tuple[Reel, float], list[Strip]] = {}
    for work in works:
        for name in TAPES:
            part = work.kit.part(name) if work.kit else None
            form = work.kit.stock.get(name) if work.kit else None
            if part is None or part.length is None or not isinstance(form, stock.Reel):
                continue
            reel = Reel(form.length, form.core, form.outer)
            inches = inches_of(part.length)
            strip = Strip(
                f"{name} {work.size.name}",
                part.length.value,
                part.pieces * work.size.boxes,
                inches[0] if inches else None,
            )
            groups.setdefault((reel, work.size.tape.width), []).append(strip)
    for (reel, _), strips in groups.items():
        try:
            plan = cut_reels(strips, reel.length)
        except CuttingError as error:
            size = works[0].size
            fix = message("state a longer reel in the list of parts, under stock")
            raise _refused(error, size, "kits.parts", fix) from error
        yield TapePlan(reel, tuple(strips), plan)


def _boxed_panels(work: Work) -> Piece:
    """The panels of all boxes of a size, with those to spare."""
    part = work.kit.part("panel") if work.kit else None
    one = panel_piece(work, 1)
    return replace(one, count=work.size.boxes * (part.pieces if part else one.count))


def _refused(error: CuttingError, size: SizeRecipe, key: str, fix: Message) -> KitError:
    return KitError([Fault(size.span(key), error.wrong, error.expected, fix)])
