"""Templates of the page become HTML; words come from the catalogues of the sheets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape
from starlette.requests import Request
from starlette.responses import HTMLResponse

from generator.base.assets import data_folder, font_files, languages
from generator.base.edition import REFERENCE, Voice
from generator.page.fields import Field
from generator.sheets.said import is_said_in, said_in
from generator.sheets.wording import load_words

LANGUAGE = "rimfold-language"
"""The cookie that says which language the reader has chosen."""
_IN_ENGLISH = Markup('<span lang="en">{}</span>')


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(data_folder("templates") / "page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["drawing"] = drawing
    return environment


def drawing(svg: str) -> Markup:
    """A drawing of ours, put into the page as it is."""
    return Markup(svg[svg.index("<svg") :]) if svg else Markup("")


def language_of(request: Request) -> str:
    """The language that was chosen on the page, or the first that the browser asks for, or English."""
    known = languages()
    chosen = request.cookies.get(LANGUAGE, "")
    if chosen in known:
        return chosen
    for part in request.headers.get("accept-language", "").split(","):
        code = part.partition(";")[0].strip().partition("-")[0].lower()
        if code in known:
            return code
    return REFERENCE


def page(
    request: Request, template: str, values: Mapping[str, object] | None = None, *, status: int = 200
) -> HTMLResponse:
    """A page, or parts of one, in the reader's language; ``values`` are what its template names."""
    voice = Voice(language_of(request))
    words = load_words(voice)

    def say(key: str, **given: object) -> str:
        return words.say(f"browser.{key}", **given)

    def either(keys: Iterable[str], otherwise: str) -> str:
        """What the first of these keys says that there are words for."""
        return next((words.say(key) for key in keys if words.has(key)), otherwise)

    def described(field: Field) -> str:
        return (
            field.help if voice.language == REFERENCE else either([f"browser.help.{field.key}"], field.help)
        )

    def choice_of(name: str) -> str:
        # A name that says all by itself, such as a paper's, has no other.
        return either((f"browser.choice.{name}", f"stage.{name}"), name)

    def place_of(field: str) -> str:
        """What a field of the form is called: that of its value, or of the list that it stands in."""
        _, *place = field.split("/")
        if place[0] == "sizes":
            return f"{say('size', name=place[1])}, {say(f'dimension.{place[-1]}')}"
        keys = (f"field.{'.'.join(place)}", ".".join(place[:2]), f"group.{place[0]}")
        return either((f"browser.{key}" for key in keys), field)

    def called(name: str) -> str:
        """What people wait for or share, whether named as the technique does or as the recipe."""
        key = name.replace(" ", "-")
        return either((f"browser.class.of.{key}", f"tool.{key}"), name)

    def in_words(text: str) -> Markup:
        """A message in the reader's language, marked as English where that is all there is."""
        said = said_in(text, voice.language)
        return escape(said) if is_said_in(text, voice.language) else _IN_ENGLISH.format(said)

    text = (
        _environment()
        .get_template(template)
        .render(
            say=say,
            choice_of=choice_of,
            called=called,
            place_of=place_of,
            in_words=in_words,
            worded=lambda text: said_in(text, voice.language),
            help=described,
            words=words,
            language=voice.language,
            languages=languages(),
            **(values or {}),
        )
    )
    return HTMLResponse(text, status_code=status)


@cache
def static_file(name: str) -> tuple[bytes, str] | None:
    """A file that pages load, and its type; None for one that there is not."""
    fonts = {f"{weight}.ttf": path for weight, path in font_files().items()}
    folder = data_folder("templates") / "page" / "static"
    kinds = {".css": "text/css", ".js": "text/javascript", ".ttf": "font/ttf", ".svg": "image/svg+xml"}
    path: Path | None = fonts.get(name)
    if path is None:
        path = next((each for each in sorted(folder.iterdir()) if each.name == name), None)
    if path is None or path.suffix not in kinds:
        return None
    return path.read_bytes(), kinds[path.suffix]
