"""Documents that are being made, or were: how far they are, their pages as pictures, the files themselves."""

from __future__ import annotations

import io
import zipfile
from collections.abc import AsyncIterator, Mapping
from pathlib import Path

from anyio import to_thread
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, Response, StreamingResponse
from starlette.routing import Route

from generator.base.assets import languages
from generator.page.html import page
from generator.page.prints import Run, begin, choose, prints_of
from generator.press.thumbnails import page_picture
from generator.sheets.document import document_kinds

PATIENCE = 20.0
"""Seconds after which a word is sent, though nothing has happened."""
KINDS = {".pdf": "application/pdf", ".txt": "text/plain; charset=utf-8", ".svg": "image/svg+xml"}
"""What a browser shows by itself; all else is kept as a file."""
THUMB = 360
"""Pixels across a page's small picture."""


async def show(request: Request) -> Response:
    """GET /print/ID"""
    run = _run(request)
    return await run_in_threadpool(lambda: page(request, "run.html", _shown(run)))


async def events(request: Request) -> Response:
    """GET /print/ID/events: what happens while it is made, as server-sent events (WHATWG HTML, 9.2)."""
    return StreamingResponse(_events(request, _run(request)), media_type="text/event-stream")


async def _events(request: Request, run: Run) -> AsyncIterator[str]:
    told: tuple[int, str, bool] | None = None
    while not await request.is_disconnected():
        if run.state != told:
            told = run.state
            body = bytes(page(request, "progress.html", _shown(run)).body).decode()
            data = "".join(f"data: {line}\n" for line in body.splitlines())
            yield f"event: {'over' if run.over else 'progress'}\n{data}\n"
            if told[2]:
                return
        else:
            yield ": still at it\n\n"
        await to_thread.run_sync(_wait, run, told, abandon_on_cancel=True)


def _wait(run: Run, told: tuple[int, str, bool]) -> None:
    with run.changed:
        run.changed.wait_for(lambda: run.state != told, timeout=PATIENCE)


async def thumb(request: Request) -> Response:
    """GET /print/ID/FILE/PAGE.png"""
    path = _file(request)
    number = int(request.path_params["page"])
    picture = await run_in_threadpool(page_picture, path, number, THUMB)
    return Response(picture, media_type="image/png")


async def fetch(request: Request) -> Response:
    """GET /print/ID/FILE: the file itself, to open, or with ``?save`` to keep."""
    path = _file(request)
    kind = KINDS.get(path.suffix)
    way = "attachment" if "save" in request.query_params or kind is None else "inline"
    return FileResponse(
        path,
        media_type=kind or "application/octet-stream",
        filename=_stem(path),
        content_disposition_type=way,
    )


async def fetch_all(request: Request) -> Response:
    """GET /print/ID/all.zip"""
    run = _run(request)

    def packed() -> bytes:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for path, _ in run.files:
                archive.write(path, str(path.relative_to(prints_of(request).out)))
        return out.getvalue()

    data = await run_in_threadpool(packed)
    name = f"{run.recipe.removesuffix('.yaml')}.zip"
    return Response(
        data, media_type="application/zip", headers={"content-disposition": f'attachment; filename="{name}"'}
    )


def _run(request: Request) -> Run:
    return prints_of(request).run(str(request.path_params["id"]))


def _file(request: Request) -> Path:
    files = _run(request).files
    at = int(request.path_params["file"])
    if not 0 <= at < len(files) or not files[at][0].is_file():
        raise HTTPException(404)
    return files[at][0]


def _stem(path: Path) -> str:
    return f"{path.parent.parent.name}-{path.parent.name}-{path.name}"


def _shown(run: Run) -> Mapping[str, object]:
    return {
        "run": run,
        "files": [_listed(run, at, path, pages) for at, (path, pages) in enumerate(run.files)],
    }


def _listed(run: Run, at: int, path: Path, pages: int) -> Mapping[str, object]:
    """A finished file: what kind of document it is, in which language, of which size."""
    kind, _, rest = path.name.partition(".")
    language = rest.partition(".")[0]
    return {
        "at": at,
        "name": path.name,
        "kind": kind if kind in document_kinds() else "",
        "language": language if language in languages() else "",
        # A document of the whole recipe lies in the recipe's own folder.
        "size": "" if path.parent.name == run.recipe.removesuffix(".yaml") else path.parent.name,
        "folder": str(path.parent),
        "pages": pages,
    }


def routes() -> list[Route]:
    """All addresses of printing."""
    return [
        Route("/shade/{name}/print", choose),
        Route("/shade/{name}/print", begin, methods=["POST"]),
        Route("/print/{id}", show),
        Route("/print/{id}/events", events),
        Route("/print/{id}/all.zip", fetch_all),
        Route("/print/{id}/{file:int}", fetch),
        Route("/print/{id}/{file:int}/{page:int}.png", thumb),
    ]
