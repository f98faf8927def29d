"""The addresses of the page and who answers them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from generator.base.assets import languages
from generator.base.errors import RimfoldError
from generator.page import bench, edit, start
from generator.page.folder import ChangedMeanwhileError, NotThereError, RecipeFolder
from generator.page.guard import BROKEN, Guard, TooLongError
from generator.page.html import LANGUAGE, page, static_file
from generator.page.pictures import Pictures
from generator.page.printed import routes as print_routes
from generator.page.prints import Prints

YEAR = 365 * 24 * 3600


def application(
    folder: Path, out: Path, port: int, secret: str, report: Callable[[Exception], None] = lambda error: None
) -> ASGIApp:
    """The page over the recipes of ``folder``; what is printed goes to ``out``.

    ``report`` gets faults of our own.
    """
    app = Starlette(
        routes=[
            Route("/", start.cards),
            Route("/shade/{name}/mark", start.mark),
            Route("/new", start.create, methods=["POST"]),
            Route("/sample/{name}", start.take_sample, methods=["POST"]),
            Route("/language", _language, methods=["POST"]),
            Route("/static/{name}", _static),
            *edit.ROUTES,
            *bench.ROUTES,
            *print_routes(),
        ],
        exception_handlers={
            RimfoldError: _told,
            HTTPException: _missing,
            TooLongError: _too_long,
            Exception: _broken,
        },
    )
    app.state.recipes = RecipeFolder(folder)
    app.state.pictures = Pictures()
    app.state.prints = Prints(out)
    return Guard(app, port, secret, report)


async def _language(request: Request) -> Response:
    form = await request.form()
    answer = RedirectResponse(_back(request), status_code=303)
    chosen = str(form.get("language", ""))
    if chosen in languages():
        answer.set_cookie(LANGUAGE, chosen, max_age=YEAR, httponly=True, samesite="strict")
    return answer


def _back(request: Request) -> str:
    """The page that a form was sent from, as a path here."""
    origin = f"http://{request.headers.get('host', '')}"
    path = request.headers.get("referer", "").removeprefix(origin)
    return path if path.startswith("/") and not path.startswith("//") else "/"


async def _static(request: Request) -> Response:
    found = await run_in_threadpool(static_file, request.path_params["name"])
    if found is None:
        raise HTTPException(404)
    data, kind = found
    return Response(data, media_type=kind, headers={"cache-control": "private, max-age=3600"})


async def _told(request: Request, error: Exception) -> Response:
    status = (
        404 if isinstance(error, NotThereError) else 409 if isinstance(error, ChangedMeanwhileError) else 400
    )
    key = {404: "fault.no-recipe", 409: "stale"}.get(status, "")
    return await _fault(
        request, status, key, () if key else error.lines if isinstance(error, RimfoldError) else (str(error),)
    )


async def _missing(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    return await _fault(request, status, "fault.missing" if status == 404 else "")


async def _too_long(request: Request, error: Exception) -> Response:
    return await _fault(request, 413, "fault.too-long")


async def _broken(request: Request, error: Exception) -> Response:
    # A fault of our own; the guard hears of it too.
    try:
        return await _fault(request, 500, "fault.broken")
    except Exception:  # Words and templates may be what is broken.
        return PlainTextResponse(BROKEN, status_code=500)


async def _fault(request: Request, status: int, key: str, told: Sequence[str] = ()) -> Response:
    """A page that says what did not work: in the reader's language by its ``key``, or as it was ``told``."""
    values = {"key": key, "told": told}
    return await run_in_threadpool(lambda: page(request, "fault.html", values, status=status))
