"""The first page: the recipes of the folder as cards, the samples, a new shade."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from generator.base.assets import data_folder
from generator.base.errors import InputError, RimfoldError
from generator.base.message import message
from generator.examine import outlines
from generator.page.folder import NotThereError, RecipeFolder
from generator.page.html import page
from generator.page.shapes import sketches
from generator.page.silhouettes import small_picture
from generator.recipe.draft import Draft
from generator.recipe.read import parse_recipe


@dataclass(frozen=True, slots=True)
class RecipeCard:
    """A recipe among others."""

    name: str
    title: str
    sizes: tuple[str, ...]
    picture: str
    """SVG; empty where the recipe does not read."""
    wrong: str = ""
    """What is wrong with it."""
    line: int = 0
    """In which line; 0: nowhere in particular."""
    taught: bool = False
    """Whether it has a class: whether that ends in time is asked for when the page is shown."""


def recipes_of(request: Request) -> RecipeFolder:
    """The folder that this page is about."""
    found = request.app.state.recipes
    assert isinstance(found, RecipeFolder)
    return found


def card_of(name: str, text: str, folder: RecipeFolder) -> RecipeCard:
    """A recipe's card, whatever its text holds."""
    try:
        recipe = parse_recipe(text, folder.folder / name, outlines())
        sizes, taught = tuple(size.name for size in recipe.sizes), recipe.taught is not None
        return RecipeCard(name, recipe.title, sizes, small_picture(recipe.sizes[0]), taught=taught)
    except InputError as error:
        first = error.faults[0]
        return RecipeCard(name, name.removesuffix(".yaml"), (), "", first.said, first.span.line)
    except RimfoldError as error:
        return RecipeCard(name, name.removesuffix(".yaml"), (), "", error.lines[0])


async def cards(request: Request) -> Response:
    """GET /"""
    return await run_in_threadpool(_cards, request)


def _cards(request: Request) -> Response:
    folder = recipes_of(request)
    samples = RecipeFolder(data_folder("recipes"))
    shown = {
        "own": [_card(folder, name) for name in folder.names()],
        "samples": [card_of(name, samples.read(name).text, samples) for name in samples.names()],
        "outlines": sketches(),
        "folder": str(folder.folder),
        "same": folder.folder == samples.folder,
    }
    return page(request, "start.html", shown)


def _card(folder: RecipeFolder, name: str) -> RecipeCard:
    try:
        return card_of(name, folder.read(name).text, folder)
    except RimfoldError as error:
        return RecipeCard(name, name.removesuffix(".yaml"), (), "", error.lines[0])


async def mark(request: Request) -> Response:
    """GET /shade/NAME/mark: what a card says of a class that ends late or cannot be held; else nothing."""
    return await run_in_threadpool(_mark, request)


def _mark(request: Request) -> Response:
    said = recipes_of(request).of_class(str(request.path_params["name"]))
    return page(request, "mark.html", {"said": said}) if said else Response(status_code=204)


async def create(request: Request) -> Response:
    """POST /new: a shade of the outline that was chosen, of a usual size."""
    form = await request.form()
    outline, title = str(form.get("outline", "circle")), str(form.get("title", "")).strip()[:80]
    return await run_in_threadpool(_create, request, outline, title)


def _create(request: Request, outline: str, title: str) -> Response:
    folder = recipes_of(request)
    draft = new_draft(outline, title)
    name = folder.free(draft.title)
    folder.create(name, draft.text())
    return RedirectResponse(f"/shade/{name}", status_code=303)


def new_draft(outline: str, title: str) -> Draft:
    """A recipe to begin with. Raises NotThereError for an outline that there is not."""
    begin = sketches().get(outline)
    if begin is None:
        raise NotThereError(message("there is no outline {name}", name=outline[:40]))
    return Draft(title or begin.title, outline, begin.name, begin.dimensions, begin.height)


async def take_sample(request: Request) -> Response:
    """POST /sample/NAME: a copy of a sample, to make one's own of it."""
    return await run_in_threadpool(_take_sample, request, request.path_params["name"])


def _take_sample(request: Request, name: str) -> Response:
    folder = recipes_of(request)
    text = RecipeFolder(data_folder("recipes")).read(name).text
    own = folder.free(name.removesuffix(".yaml"))
    folder.create(own, text)
    return RedirectResponse(f"/shade/{own}", status_code=303)
