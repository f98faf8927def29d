"""Printing from the page: documents made in the background, told of while they are, and handed out."""

from __future__ import annotations

import io
import secrets
import zipfile
from collections import OrderedDict
from collections.abc import AsyncIterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Condition, Lock, Thread

from anyio import to_thread
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, RedirectResponse, Response, StreamingResponse
from starlette.routing import Route

from generator import build
from generator.base.assets import languages
from generator.base.edition import PAPERS, PRINT_SIZES, TONES, UNITS, Wishes
from generator.base.errors import HandsError, RimfoldError
from generator.base.message import joined
from generator.examine import examine
from generator.hands import Processes
from generator.jobs import Job, jobs_for, printed_otherwise
from generator.page.folder import NotThereError
from generator.page.html import language_of, page
from generator.page.start import recipes_of
from generator.press.thumbnails import page_picture
from generator.sheets.document import document_kinds

KEPT = 40
"""So many runs are remembered."""
PATIENCE = 20.0
"""Seconds after which a word is sent, though nothing has happened."""
KINDS = {".pdf": "application/pdf", ".txt": "text/plain; charset=utf-8", ".svg": "image/svg+xml"}
"""What a browser shows by itself; all else is kept as a file."""
THUMB = 360
"""Pixels across a page's small picture."""
FIRST = ("step-sheet", "crib-sheet", "handout", "pattern", "pattern-whole", "wall-cards")
"""Documents that people ask for most, in this order before all others."""


@dataclass
class Run:
    """Documents that are being made, or were."""

    id: str
    recipe: str
    total: int = 0
    done: int = 0
    now: str = ""
    """What is being made."""
    lines: list[tuple[str, str]] = field(default_factory=list)
    """What was said meanwhile, and of what."""
    failed: list[str] = field(default_factory=list)
    files: list[tuple[Path, int]] = field(default_factory=list)
    """Each file with its number of pages; 0: it has none."""
    kept: int = 0
    """So many jobs were as they are already."""
    over: bool = False
    changed: Condition = field(default_factory=Condition)

    def tell(self, **changes: object) -> None:
        """Change something and wake those who watch."""
        with self.changed:
            for name, value in changes.items():
                setattr(self, name, value)
            self.changed.notify_all()

    @property
    def state(self) -> tuple[int, str, bool]:
        """What differs when there is something to tell."""
        return self.done, self.now, self.over


class Prints:
    """All runs of this page, and the folder in which their files lie."""

    def __init__(self, out: Path) -> None:
        self.out = out.resolve()
        self._runs: OrderedDict[str, Run] = OrderedDict()
        self._hands: Processes | None = None
        self._choosing = Lock()

    def start(
        self, recipe: str, path: Path, sizes: Sequence[str], kinds: Sequence[str], wishes: Wishes
    ) -> Run:
        """Begin to make documents. Raises RimfoldError where the recipe, or what is asked for, cannot be."""
        examined = examine(path)
        chosen = [work for work in examined.works if not sizes or work.size.name in sizes]
        found = jobs_for(examined.works, chosen, build.document_kinds(kinds), examined.roster)
        run = Run(secrets.token_urlsafe(12), recipe, total=len(found.jobs))
        run.lines += [("", line) for line in (*found.skipped, *printed_otherwise(found.jobs, wishes))]
        run.now = found.jobs[0].name if found.jobs else ""
        self._runs[run.id] = run
        while len(self._runs) > KEPT:
            self._runs.popitem(last=False)
        Thread(target=self._make, args=(run, found.jobs, wishes), daemon=True).start()
        return run

    def run(self, name: str) -> Run:
        """A run by its name. Raises HTTPException where there is none."""
        if name not in self._runs:
            raise HTTPException(404)
        return self._runs[name]

    def _make(self, run: Run, jobs: Sequence[Job], wishes: Wishes) -> None:
        hands = self._workers()
        try:
            for at, (job, made) in enumerate(build.make_all(jobs, self.out, wishes, hands=hands), 1):
                if isinstance(made, RimfoldError):
                    run.failed += [joined([job.name, line], ": ") for line in made.lines]
                else:
                    run.files += [*made.documents, *((path, 0) for path in (*made.texts, *made.drawings))]
                    run.lines += [(job.name, note) for note in made.notes]
                    run.kept += made.anew == 0
                run.tell(done=at, now=jobs[at].name if at < len(jobs) else "")
        except HandsError as error:
            self._let_go(hands)
            run.failed += error.lines
        finally:
            run.tell(over=True)

    def _workers(self) -> Processes:
        """Processes of their own for all runs, which stay warm.

        Nothing is printed in this process, whose threads answer meanwhile: printing bears no second thread.
        """
        with self._choosing:
            self._hands = self._hands or Processes()
            return self._hands

    def _let_go(self, hands: Processes) -> None:
        """One of them was ended from outside: the next run begins with others."""
        with self._choosing:
            if self._hands is hands:
                self._hands = None


def prints_of(request: Request) -> Prints:
    """The runs of this page."""
    found = request.app.state.prints
    assert isinstance(found, Prints)
    return found


async def choose(request: Request) -> Response:
    """GET /shade/NAME/print"""
    return await run_in_threadpool(_choose, request)


def _choose(
    request: Request, told: Sequence[str] = (), status: int = 200, *, nothing: bool = False
) -> Response:
    name = str(request.path_params["name"])
    values: dict[str, object] = {"title": name, "sizes": [], "told": tuple(told), "groups": []}
    values |= {"nothing": nothing, "asked": (language_of(request),)}
    try:
        recipe = recipes_of(request).examined(name, alone=True).recipe
        values |= {"title": recipe.title, "sizes": [size.name for size in recipe.sizes]}
        values["groups"] = _groups(has_kits=bool(recipe.kits), has_class=bool(recipe.taught))
        if "languages" in recipe.sizes[0].spans:
            values["asked"] = recipe.sizes[0].languages
    except NotThereError:
        raise
    except RimfoldError as error:
        values["told"] = (*told, *error.lines)
    values |= {"base": recipes_of(request).read(name).digest}
    values |= {"tab": "print", "name": name, "spoken": languages(), "papers": list(PAPERS)}
    values |= {"print_sizes": PRINT_SIZES, "units": UNITS, "tones": TONES}
    return page(request, "print.html", values, status=status)


@dataclass(frozen=True, slots=True)
class Group:
    """Documents for one purpose: ``shade``, ``kits`` or ``class``."""

    purpose: str
    kinds: tuple[str, ...]
    made: bool
    """Whether this recipe has what they tell of."""


def _groups(*, has_kits: bool, has_class: bool) -> list[Group]:
    kinds = sorted(
        document_kinds().values(),
        key=lambda kind: FIRST.index(kind.name) if kind.name in FIRST else len(FIRST),
    )
    return [
        Group("shade", tuple(kind.name for kind in kinds if not kind.of_kits and not kind.of_class), True),
        Group("kits", tuple(kind.name for kind in kinds if kind.of_kits), has_kits),
        Group("class", tuple(kind.name for kind in kinds if kind.of_class), has_class),
    ]


async def begin(request: Request) -> Response:
    """POST /shade/NAME/print"""
    async with request.form(max_files=0, max_fields=400) as sent:
        form = sent
    return await run_in_threadpool(_begin, request, form)


def _begin(request: Request, form: FormData) -> Response:
    name = str(request.path_params["name"])

    def several(key: str) -> list[str]:
        return [value for value in form.getlist(key) if isinstance(value, str)]

    def one(key: str, known: Sequence[str]) -> str | None:
        value = str(form.get(key, ""))
        return value if value in known else None

    wishes = Wishes(
        tuple(code for code in several("lang") if code in languages()),
        one("units", UNITS),  # type: ignore[arg-type]
        one("tone", TONES),  # type: ignore[arg-type]
        one("paper", list(PAPERS)),  # type: ignore[arg-type]
        one("print-size", PRINT_SIZES),  # type: ignore[arg-type]
        True if form.get("grey") else None,
        True if form.get("duplex") else None,
    )
    kinds = [kind for kind in several("kind") if kind in document_kinds()]
    if not kinds:
        return _choose(request, (), 422, nothing=True)
    try:
        run = prints_of(request).start(name, recipes_of(request).path(name), several("size"), kinds, wishes)
    except RimfoldError as error:
        return _choose(request, error.lines, 422)
    return RedirectResponse(f"/print/{run.id}", status_code=303)


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
    """All addresses of this room."""
    return [
        Route("/shade/{name}/print", choose),
        Route("/shade/{name}/print", begin, methods=["POST"]),
        Route("/print/{id}", show),
        Route("/print/{id}/events", events),
        Route("/print/{id}/all.zip", fetch_all),
        Route("/print/{id}/{file:int}", fetch),
        Route("/print/{id}/{file:int}/{page:int}.png", thumb),
    ]
