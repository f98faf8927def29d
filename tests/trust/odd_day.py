"""Runs the command on a day long ago, and writes down every file, address and process that Python asks for.

Called as ``python odd_day.py LOG ARGUMENTS…``. The clock is that of Python alone; what libraries in C ask of
the system's clock is not moved.
"""

from __future__ import annotations

import datetime
import sys
import time
from typing import Any

BACK = 9 * 365.25 * 86400.0
LOG = open(sys.argv[1], "w", encoding="utf-8")  # noqa: SIM115 - it is needed to the end
FAR = ("socket", "subprocess", "urllib", "ftplib", "http", "smtplib")
PROGRAMS = ("os.system", "os.exec", "os.posix_spawn", "os.fork", "os.forkpty", "pty.spawn")


def note(event: str, arguments: tuple[Any, ...]) -> None:
    if event == "open" and isinstance(arguments[0], str | bytes) and arguments[0] != LOG.name:
        LOG.write(f"open\t{arguments[0]!r}\n")
    elif event.split(".")[0] in FAR or event in PROGRAMS:
        LOG.write(f"{event}\t{arguments!r}\n")


def main() -> None:
    real, real_local, real_utc, real_text = time.time, time.localtime, time.gmtime, time.strftime
    moved: Any = time
    moved.time = lambda: real() - BACK
    moved.time_ns = lambda: int((real() - BACK) * 1e9)
    moved.localtime = lambda seconds=None: real_local(real() - BACK if seconds is None else seconds)
    moved.gmtime = lambda seconds=None: real_utc(real() - BACK if seconds is None else seconds)
    moved.strftime = lambda form, when=None: real_text(form, moved.localtime() if when is None else when)

    class Then(datetime.datetime):
        @classmethod
        def now(cls, tz: Any = None) -> Any:
            return cls.fromtimestamp(real() - BACK, tz)

        @classmethod
        def utcnow(cls) -> Any:
            return cls.fromtimestamp(real() - BACK, datetime.UTC).replace(tzinfo=None)

        @classmethod
        def today(cls) -> Any:
            return cls.fromtimestamp(real() - BACK)

    datetime.datetime = Then  # type: ignore[misc]
    assert datetime.datetime.now().year < 2020
    sys.addaudithook(note)
    from generator.cli.run import run

    code = run(sys.argv[2:])
    LOG.flush()
    sys.exit(code)


if __name__ == "__main__":
    main()
