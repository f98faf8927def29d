"""The server: on this machine alone, a port that is free, an address with a secret in it."""

from __future__ import annotations

import secrets
import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from generator.page.app import application
from generator.page.guard import ENTRY

LOOPBACK = "127.0.0.1"


def serve(
    folder: Path,
    out: Path,
    told: Callable[[str], None],
    port: int = 0,
    report: Callable[[Exception], None] = lambda error: None,
) -> None:
    """Answer until the process is stopped. ``told`` gets the address to open as soon as it answers.

    Raises OSError where the port is taken.
    """
    secret = secrets.token_urlsafe(32)
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((LOOPBACK, port))
        taken = listening.getsockname()[1]
        config = uvicorn.Config(
            application(folder, out, taken, secret, report),
            log_level="error",
            access_log=False,
            server_header=False,
            date_header=False,
            ws="none",
            lifespan="off",
            timeout_graceful_shutdown=2,
        )
        server = _Announced(config, lambda: told(f"http://{LOOPBACK}:{taken}{ENTRY}?key={secret}"))
        server.run(sockets=[listening])


class _Announced(uvicorn.Server):
    """Says that it answers when it does, not before."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._ready()
