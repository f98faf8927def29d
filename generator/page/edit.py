"""One shade: its form, what it looks like while somebody types, and its file, saved as soon as it holds."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypedDict

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from generator.base.edition import Voice
from generator.page import form, shaping
from generator.page.fields import UNITS
from generator.page.folder import ChangedMeanwhileError, State, changed_on_disk
from generator.page.html import language_of, page
from generator.page.look import Look, Said, place_of_said, values
from generator.page.pictures import Pictures
from generator.page.shapes import sketches, taper
from generator.page.start import recipes_of

PAUSE = 500
"""Milliseconds that nobody types before the picture with labels is asked for: to draw it takes a while."""
TELLING = "\t"
"""Between the names of the fields beside which something is told: no key of a recipe has a tabulator."""


class _Told(TypedDict):
    """What is said, for the templates."""

    beside: Mapping[str, Sequence[Said]]
    above: Sequence[Said]
    faulty: Sequence[str]
    told: str


@dataclass(frozen=True, slots=True)
class Typed:
    """What was sent: the fields, the text that they were shown for, and what they make of it."""

    fields: Mapping[str, str]
    base: str
    state: State
    text: str

    @property
    def stale(self) -> bool:
        """Whether the file is no longer what the form was made from."""
        return self.base != self.state.digest


async def shade(request: Request) -> Response:
    """GET /shade/NAME"""
    return await run_in_threadpool(_shade, request)


def _shade(request: Request) -> Response:
    state = recipes_of(request).read(_name(request))
    return _whole(request, state.digest, state.text)


async def attempt(request: Request) -> Response:
    """POST /shade/NAME/try: what the form makes of the shade; nothing is written."""
    fields = await _fields(request)
    return await run_in_threadpool(_attempt, request, fields)


def _attempt(request: Request, fields: Mapping[str, str]) -> Response:
    typed = _typed(request, fields)
    seen = _look(request, typed.text, fields.get("size"))
    if typed.stale:
        return _parts(request, typed, seen, saved="stale")
    known = recipes_of(request).refused(_name(request), typed.text)
    if known and seen.good:
        # A choice is tried and saved at once: whichever comes last must not take back what the other found.
        return _parts(request, typed, replace(seen, said=(*seen.said, *known)), saved="held")
    return _parts(request, typed, seen, saved="")


async def change(request: Request) -> Response:
    """POST /shade/NAME/change: the same, and saved if ``rimfold check`` would accept it."""
    fields = await _fields(request)
    return await run_in_threadpool(_change, request, fields)


def _change(request: Request, fields: Mapping[str, str]) -> Response:
    typed = _typed(request, fields)
    seen = _look(request, typed.text, fields.get("size"))
    if typed.stale:
        return _parts(request, typed, seen, saved="stale")
    if typed.text == typed.state.text:
        return _parts(request, typed, seen, saved="")
    seen, saved, state = _saved(request, typed.state.digest, typed.text, seen)
    named = form.size_names(typed.state.text)
    typed = Typed(fields, state.digest if state else typed.base, state or typed.state, typed.text)
    answer = _parts(request, typed, seen, saved=saved)
    if state is not None and named != form.size_names(state.text):
        # The fields of a size are called after it.
        answer.headers["hx-refresh"] = "true"
    return answer


async def still(request: Request) -> Response:
    """GET /shade/NAME/still: whether the file is still what the page was made from; nothing to say if so."""
    return await run_in_threadpool(_still, request)


def _still(request: Request) -> Response:
    state = recipes_of(request).read(_name(request))
    if request.query_params.get("base", state.digest) == state.digest:
        return Response(status_code=204)
    return page(request, "seen.html", {"name": _name(request)})


async def check(request: Request) -> Response:
    """GET /shade/NAME/check: what is wrong with the kits or the class of the recipe, which takes a while."""
    return await run_in_threadpool(_check, request)


def _check(request: Request) -> Response:
    name, folder = _name(request), recipes_of(request)
    state = folder.read(name)
    said = folder.accept(name, state.text)
    names = set(form.form_values(state.text))
    faulty = {at for each in said if (at := place_of_said(each, names))}
    return page(request, "check.html", {"said": said, "faulty": sorted(faulty)})


async def picture(request: Request) -> Response:
    """GET /shade/NAME/picture?of=KEY: the picture with labels of what was shown, as long as it is kept."""
    pictures = _pictures(request)
    async with pictures.turn:
        # Whoever has typed on since does not wait for it any more.
        if await request.is_disconnected():
            return Response(status_code=204)
        asked = _name(request), request.query_params.get("of", "")
        svg = await run_in_threadpool(pictures.later, *asked)
    return page(request, "picture.html", {"svg": svg}) if svg else Response(status_code=204)


async def act(request: Request) -> Response:
    """POST /shade/NAME/do: a button of the form; the page is shown anew."""
    fields = await _fields(request)
    return await run_in_threadpool(_act, request, fields)


def _act(request: Request, fields: Mapping[str, str]) -> Response:
    name, folder = _name(request), recipes_of(request)
    typed = _typed(request, fields)
    action, _, about = fields.get("do", "").partition(":")
    if action in ("undo", "redo"):
        step = folder.undo if action == "undo" else folder.redo
        step(name, typed.base)
        return _back(request)
    if action == "keep":
        # The reader has seen that the file is another one by now, and wants what stands in the form.
        typed = Typed(fields, typed.state.digest, typed.state, typed.text)
    if typed.stale:
        raise ChangedMeanwhileError(changed_on_disk(name))
    text = typed.text
    if action == "text":
        text = fields.get("text", "").replace("\r\n", "\n")
    elif action in shaping.ACTIONS:
        text = shaping.ACTIONS[action](text, about)
    seen = _look(request, text, fields.get("size"))
    seen, saved, state = _saved(request, typed.state.digest, text, seen)
    if state is not None:
        return _back(request)
    return _whole(request, typed.base, text, seen, saved)


def _saved(request: Request, base: str, text: str, seen: Look) -> tuple[Look, str, State | None]:
    """Write a text if the whole recipe is good: what is seen then, what to say of it, what is on the disk."""
    if not seen.good:
        return seen, "held", None
    name, folder = _name(request), recipes_of(request)
    said = folder.accept(name, text)
    if said:
        return replace(seen, said=(*seen.said, *said)), "held", None
    return seen, "saved", folder.save(name, base, text)


def _whole(request: Request, base: str, text: str, seen: Look | None = None, saved: str = "") -> Response:
    name, folder = _name(request), recipes_of(request)
    seen = seen or _look(request, text, request.query_params.get("size"))
    sizes, listed = form.sizes(text), _Lists(text)
    shown = {
        "tab": "shade",
        "name": name,
        "text": text,
        "base": base,
        "look": seen,
        "picture": _pictures(request).whole(name, seen.work, _voice(request)) if seen.work else None,
        "pause": PAUSE,
        "saved": saved,
        "sections": form.shown(text),
        "sizes": sizes,
        "size": seen.work.size.name if seen.work else "",
        "outlines": sketches(),
        "outline": _outline(sizes),
        "unshown": form.unshown(text),
        "listed": listed,
        "units": UNITS,
        "can": folder.can(name),
        "better": shaping.better_name(text, seen.work.size.name) if seen.work else "",
        "spoken": form.languages_of(text),
        "size_names": form.size_names(text),
        "taper": taper(),
        "tapers": any(size.tapered for size in sizes),
        "folder": str(folder.folder),
        "checking": seen.good and not saved and (listed.has_class or listed.has_kits),
    }
    told = _told(seen, set(form.form_values(text)))
    return page(request, "shade.html", shown | told, status=422 if saved == "held" else 200)


def _parts(request: Request, typed: Typed, seen: Look, saved: str) -> Response:
    name, folder = _name(request), recipes_of(request)
    # What was sent are the fields that the page has.
    names = {each for each in typed.fields if each.startswith(f"{form.VALUE}{form.SEPARATOR}")}
    names.add(form.named(form.VALUE, ("outline",)))
    left = request.url.path.endswith("/change")
    if not saved and seen.good and typed.text == typed.state.text:
        saved = "same"
    elif not saved and not seen.good:
        saved = "held"
    shown = {
        "name": name,
        "base": typed.base if saved != "saved" else typed.state.digest,
        "look": seen,
        "picture": _pictures(request).at_once(name, seen.work, _voice(request)) if seen.work else None,
        "pause": PAUSE,
        "saved": saved,
        "can": folder.can(name),
        "better": shaping.better_name(typed.text, seen.work.size.name) if seen.work else "",
        "text": typed.text,
        "sent": typed.fields,
        "left": left,
    }
    had = form.form_values(typed.state.text)
    emptied = [name for name in names if had.get(name) and not typed.fields.get(name, had[name]).strip()]
    told = _told(seen, names, emptied)
    # Most fields have nothing to say, and had nothing since one was left: only the others are sent.
    before = set(typed.fields.get("told", "").split(TELLING)) & names
    concerned = sorted(before.union(told["beside"]))
    if not left:
        told["told"] = TELLING.join(concerned)
    return page(request, "parts.html", shown | told | {"names": concerned})


def _told(seen: Look, names: Collection[str], emptied: Sequence[str] = ()) -> _Told:
    """What is said, at the field of those ``names`` that it is about, and what no field is about.

    What is missing has no place in a recipe: where one field alone was emptied, it is told there.
    """
    beside: dict[str, list[Said]] = {}
    above: list[Said] = []
    for said in seen.said:
        name = place_of_said(said, names)
        if not name and said.wrong and len(emptied) == 1:
            name = emptied[0]
        (beside.setdefault(name, []) if name else above).append(said)
    faulty = [name for name, each in beside.items() if any(said.wrong for said in each)]
    return {"beside": beside, "above": above, "faulty": faulty, "told": TELLING.join(sorted(beside))}


@dataclass(frozen=True)
class _Lists:
    """The lists of a recipe that a form shows row by row."""

    text: str

    def rows(self, *place: str) -> tuple[Mapping[str, str], ...]:
        """The plain values of each entry of a list, by their dotted names within it."""
        return form.entries(self.text, place)

    def pairs(self, *place: str) -> dict[str, str]:
        """The plain values of a mapping."""
        return {at[-1]: value for at, value in values(self.text).items() if at[:-1] == place}

    def value(self, *place: str) -> str:
        """One value, or nothing."""
        return values(self.text).get(place, "")

    @property
    def has_class(self) -> bool:
        """Whether the recipe has one."""
        return any(at[0] == "class" for at in values(self.text))

    @property
    def has_kits(self) -> bool:
        """Whether the recipe counts boxes."""
        return any(at[0] == "kits" for at in values(self.text))


def _outline(sizes: Iterable[form.ShownSize]) -> str:
    found = {size.outline for size in sizes if not size.tapered}
    return found.pop() if len(found) == 1 else ""


def _look(request: Request, text: str, size: str | None) -> Look:
    return recipes_of(request).look(_name(request), text, size, _voice(request))


def _voice(request: Request) -> Voice:
    return Voice(language_of(request))


def _pictures(request: Request) -> Pictures:
    found = request.app.state.pictures
    assert isinstance(found, Pictures)
    return found


def _typed(request: Request, fields: Mapping[str, str]) -> Typed:
    state = recipes_of(request).read(_name(request))
    return Typed(fields, fields.get("base", ""), state, form.filled(state.text, fields))


async def _fields(request: Request) -> Mapping[str, str]:
    async with request.form(max_files=0, max_fields=5000) as sent:
        return {name: value for name, value in sent.items() if isinstance(value, str)}


def _back(request: Request) -> Response:
    return RedirectResponse(f"/shade/{_name(request)}", status_code=303)


def _name(request: Request) -> str:
    return str(request.path_params["name"])


ROUTES = [
    Route("/shade/{name}", shade),
    Route("/shade/{name}/try", attempt, methods=["POST"]),
    Route("/shade/{name}/picture", picture),
    Route("/shade/{name}/still", still),
    Route("/shade/{name}/check", check),
    Route("/shade/{name}/change", change, methods=["POST"]),
    Route("/shade/{name}/do", act, methods=["POST"]),
]
