"""Who may talk to the page: only the browser that was opened with the secret, from the page itself.

What is held off: a page elsewhere that sends forms here (its Origin is another; OWASP *Cross-Site Request
Forgery Prevention Cheat Sheet*, verifying origin, from memory), a name elsewhere that is made to point to
this machine (its Host is another: DNS rebinding), other programs on the machine that do not know the secret,
and texts too long to be a recipe.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

BODY_LIMIT = 1024 * 1024
"""Bytes of a form: a recipe has at most a quarter of it, and a form spells it out."""
ENTRY = "/enter"
SECURITY = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
        "font-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "DENY",
}


TOO_LONG = "this is longer than a recipe can be\n"
BROKEN = "this went wrong inside Rimfold; your files are as they were\n"


class TooLongError(Exception):
    """A form is longer than any form of this page."""


class Guard:
    """Lets in what comes from the page, and says what else is wrong, before any of it is read."""

    def __init__(
        self, app: ASGIApp, port: int, secret: str, report: Callable[[Exception], None] = lambda error: None
    ) -> None:
        """``report`` gets what went wrong inside."""
        self.app = app
        self.report = report
        self.host = f"127.0.0.1:{port}"
        self.cookie = f"rimfold-{port}"
        self.secret = secret

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or hand on to the page; with every answer go the rules that the browser keeps."""
        if scope["type"] != "http":
            # The server's own start and end; sockets of another kind are not served.
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        refused = self._refused(scope)
        if refused is not None:
            await refused(scope, receive, _guarded(send))
            return
        try:
            await self.app(scope, _counted(receive), _guarded(send))
        except Exception as error:
            # Told already, in words: nobody at a bench can read a traceback.
            self.report(error)

    def _refused(self, scope: Scope) -> Response | None:
        headers, method = Headers(scope=scope), scope["method"]
        if headers.getlist("host") != [self.host]:
            return _told(421, "this page answers under its own address only")
        if scope["path"] == ENTRY and method == "GET":
            return self._entered(scope)
        if not self._known(headers):
            return _told(403, "open the page with the address that rimfold page has shown")
        if method in ("GET", "HEAD"):
            return None
        if method != "POST":
            return _told(405, "this page is read and sent to, nothing else")
        if headers.getlist("origin") != [f"http://{self.host}"]:
            return _told(403, "this was sent from another page")
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > BODY_LIMIT:
            return _told(413, TOO_LONG.strip())
        return None

    def _entered(self, scope: Scope) -> Response:
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        if not secrets.compare_digest(given.encode(), self.secret.encode()):
            return _told(403, "open the page with the address that rimfold page has shown")
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(self.cookie, self.secret, httponly=True, samesite="strict")
        return answer

    def _known(self, headers: Headers) -> bool:
        given = [
            value
            for part in headers.get("cookie", "").split(";")
            for name, _, value in [part.strip().partition("=")]
            if name == self.cookie
        ]
        return len(given) == 1 and secrets.compare_digest(given[0].encode(), self.secret.encode())


def _told(status: int, words: str) -> Response:
    return PlainTextResponse(f"{words}\n", status_code=status)


def _counted(receive: Receive) -> Receive:
    """The same, but no more than a form has: who sends without saying how much is stopped on the way."""
    read = 0

    async def counted() -> Message:
        nonlocal read
        message = await receive()
        read += len(message.get("body", b""))
        if read > BODY_LIMIT:
            raise TooLongError
        return message

    return counted


def _guarded(send: Send) -> Send:
    async def guarded(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in SECURITY.items():
                headers[name] = value
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return guarded
