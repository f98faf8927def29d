"""Printing from the page: documents are chosen, and made in the background."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Condition, Lock, Thread

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from generator import build
from generator.base.assets import languages
from generator.base.edition import PAPERS, PRINT_SIZES, TONES, UNITS, Wishes
from generator.base.errors import HandsError, RimfoldError
from generator.base.message import under
from generator.examine import examine
from generator.hands import Processes
from generator.jobs import Job, jobs_for, printed_otherwise
from generator.page.folder import NotThereError
from generator.page.html import language_of, page
from generator.page.start import recipes_of
from generator.sheets.document import document_kinds

KEPT = 40
"""So many runs are remembered."""
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
    lines: list[str] = field(default_factory=list)
    """What was said meanwhile."""
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
        run.lines += [*found.skipped, *printed_otherwise(found.jobs, wishes)]
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
                    run.failed += [under(job.name, line) for line in made.lines]
                else:
                    run.files += [*made.documents, *((path, 0) for path in (*made.texts, *made.drawings))]
                    run.lines += [under(job.name, note) for note in made.notes]
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
