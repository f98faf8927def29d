"""What a template may name: the views of one document, the numbers on its pages, its blocks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import segno

from generator.recipe.models import SizeRecipe
from generator.sheets import cards, front, last, narrow, origin, pattern, work_plan
from generator.sheets.document import Kind, Subject
from generator.sheets.formatting import direction, duration, quantity, tolerances
from generator.sheets.own import own_views
from generator.sheets.packing import Block, Layout
from generator.sheets.wording import Catalogue, Sentence

FRONT = (
    Block("overview"),
    Block("lists"),
    Block("work"),
    Block("room"),
    Block("contents", spare=True),
    Block("reading", optional=True),
    Block("measures", wish=True),
    Block("measures-more", wish=True),
    Block("terms"),
)
"""The first pages, in order."""
TAIL = (Block("checks"), Block("faults", wish=True, spare=True), Block("closing"), Block("care"))
"""What follows the last card."""


@dataclass(frozen=True, slots=True)
class Link:
    """An address as a square code."""

    data: str
    """Data URI of the drawing."""
    alt: str


@dataclass(frozen=True, slots=True)
class PageWords:
    """What stands in the head of the file and in the running lines."""

    language: str
    direction: str
    """``ltr``, or ``rtl`` for a language that is written from right to left."""
    title: str
    maker: str
    generator: str
    running: str
    edition: str
    two_units: bool
    """Whether lengths are told in two units."""
    folio: tuple[str, str, str]
    """Before the page's number, between it and the count of pages, after that."""


def wording(subject: Subject) -> Catalogue:
    """The subject's words, bound to its plan and with its own names at hand."""
    size = subject.size
    given = {
        "title": size.title,
        "size": size.name,
        "recipe": size.recipe,
        "version": subject.version,
        "digest": subject.edition,
    }
    return subject.words.bound(subject.plan, subject.measures, **given)


def context(kind: Kind, subject: Subject, words: Catalogue, layout: Layout) -> Mapping[str, Any]:
    """Everything that a template may name."""
    views = dict(_shared(kind, subject, words, layout))
    if kind.full_scale:
        views |= pattern.views(subject, words)
    elif kind.steps and not kind.glance and not subject.batch:
        views |= _of_steps(subject, words)
    return {**views, **own_views(kind, subject, words)}


def _shared(kind: Kind, subject: Subject, words: Catalogue, layout: Layout) -> Mapping[str, Any]:
    """What every document has."""
    size = subject.size
    return {
        "page": page_words(kind, subject, words),
        "form": subject.form,
        "layout": layout,
        "say": words.say,
        "line": words.rich,
        "maker": size.maker.name if size.maker else None,
        "contact": size.maker.contact if size.maker else None,
        "subline": () if subject.batch else subline(size, words),
        "silhouette": subject.silhouette,
        "link": link(kit_link(size) if kind.of_kits else size.link, words),
    }


def subline(size: SizeRecipe, words: Catalogue, use: str | None = None) -> Sentence:
    """Use, outline and outer sizes, below a title; ``use`` in the place of the common words for it."""
    use = use or words.say(f"use.{size.use}")
    return words.rich("sub-line", use=use, outline=words.say(f"outline.{size.outline}"))


def kit_link(size: SizeRecipe) -> str | None:
    """The address printed for a box: that of the kits, else the recipe's."""
    return (size.kits.link if size.kits else None) or size.link


def _of_steps(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What documents have that tell of the work."""
    plan = subject.plan
    stages = cards.stages(subject, words)
    groups, contents = front.measure_groups(subject.measures, words), front.contents(subject, words)
    return {
        "five": front.five_numbers(subject.measures, words),
        "strip": tuple(front.strip(subject, words)),
        "consumables": front.lay_out(plan.consumables, words),
        "tools": front.lay_out(plan.tools, words),
        "work": front.work(plan, words),
        "times_note": origin.times_note(plan, words),
        "order_note": origin.order_note(plan, words),
        "measures": front.pages(groups),
        "narrow": narrow.view(contents, groups, subject.form),
        "terms": front.terms(words, sentences(stages)),
        "contents": contents,
        "room": tuple(last.numbered(words, "room")),
        "tags": {tag.look: tag.text for stage in stages for card in stage.cards for tag in card.tags},
        "stages": stages,
        "checks": last.checks(words),
        "lamp_checks": last.lamp_checks(subject.measures, words),
        "faults": last.faults(plan, words),
        "closing": tuple(last.closing(subject, words)),
        "care": tuple(last.numbered(words, "care")),
        "plan": work_plan.view(subject, subject.outlook, words) if subject.outlook else None,
    }


def page_words(kind: Kind, subject: Subject, words: Catalogue) -> PageWords:
    """Head of the file and running lines. The page's number stands before the count of pages."""
    whole = ".batch" if subject.batch else ""
    running = words.say(f"title{whole}")
    before, between, after = _folio(words)
    return PageWords(
        language=words.language,
        direction=direction(words.language),
        title=words.say("page.title", title=running, kind=words.say(kind.title)),
        maker=subject.size.maker.name if subject.size.maker else "",
        generator=f"Rimfold {subject.version}",
        running=running,
        edition=words.say(f"running.edition{whole}"),
        two_units=words.voice.units != "metric",
        folio=(before, between, after),
    )


def _folio(words: Catalogue) -> tuple[str, str, str]:
    parts = ["", "", ""]
    place = 0
    for segment in words.rich("running.page", page="", pages=""):
        if segment.name is None:
            parts[place] += segment.text
        else:
            place += 1
    return parts[0], parts[1], parts[2]


def link(address: str | None, words: Catalogue) -> Link | None:
    """An address as a square code, drawn in vectors."""
    if not address:
        return None
    code = segno.make(address, error="m", micro=False)
    data: str = code.svg_data_uri(border=0, omitsize=True, dark="#1B1B1B")
    return Link(data, words.say("page.link", link=address))


def sentences(stages: Iterable[cards.StageView]) -> Iterator[Sentence]:
    """Every sentence on the cards."""
    for stage in stages:
        for card in stage.cards:
            yield card.title
            yield from card.instructions
            yield from (card.check, card.mistake, card.rescue)


def blocks(subject: Subject) -> tuple[Block, ...]:
    """What stands whole on a page, in order."""
    whole = work_plan.rules(subject.plan, subject.form) if subject.outlook else ()
    if subject.form.narrow:
        return (*narrow.front(), *cards.rules(subject.plan, turned=True), *whole, *narrow.tail())
    table = front.pages(front.measure_groups(subject.measures, wording(subject)))
    absent = {*(() if subject.small else ("contents",)), *(() if table[1:] else ("measures-more",))}
    first = tuple(block for block in FRONT if block.id not in absent)
    return (*first, *cards.rules(subject.plan), *whole, *TAIL)


def numbers(subject: Subject, words: Catalogue, pages: int = 0) -> frozenset[str]:
    """Texts whose numbers may stand on the pages: measures, step numbers, minutes, and names with digits.

    Where the contents name them, also the numbers of as many ``pages`` as the document should have.
    """
    size, plan, measures = subject.size, subject.plan, subject.measures
    voice = words.voice
    found = {quantity(measure, voice) for measure in measures.values()}
    found |= {off for measure in measures.values() if measure.tolerance for off in tolerances(measure, voice)}
    found |= {str(step.number) for step in plan.steps}
    found |= {str(page) for page in range(1, pages + 1)} if subject.small else set()
    spans = [plan.steps, *(stage.steps for stage in plan.stages)]
    spans += [tuple(step for step in plan.steps if step.number in chain) for chain in _chains(subject)]
    for practised in (False, True):
        found |= {duration(cards.step_minutes(step, practised=practised)) for step in plan.steps}
        found |= {
            duration(sum(cards.step_minutes(step, practised=practised) for step in span)) for span in spans
        }
    found |= origin.numbers(plan, words)
    if subject.outlook:
        found |= work_plan.numbers(subject, subject.outlook, words)
    if subject.pattern:
        found |= pattern.numbers(subject.pattern)
    names: list[str | None] = [
        size.title,
        size.name,
        size.recipe,
        subject.version,
        subject.edition,
        size.covering.name,
    ]
    names += [size.link, *_of_maker(size), *_of_kits(size)]
    return frozenset(found | {name for name in names if name})


def _of_maker(size: SizeRecipe) -> list[str | None]:
    maker = size.maker
    if maker is None:
        return []
    return [maker.name, maker.contact, maker.address, maker.phone, maker.email, maker.web]


def _of_kits(size: SizeRecipe) -> list[str | None]:
    kits = size.kits
    return [kits.lot, kits.edition, kits.link, *kits.cautions] if kits else []


def _chains(subject: Subject) -> list[set[int]]:
    chains = cards.chains_of(subject.plan)
    return [{step for step, chain in chains.items() if chain == name} for name in set(chains.values())]
