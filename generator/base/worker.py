"""How a worker process lives and ends: with the process that started it, and without a word of its own."""

from __future__ import annotations

import os
import signal
import threading
from multiprocessing import parent_process


def start() -> None:
    """To be called first in a worker.

    Ctrl-C reaches every process of a terminal: the one that started the work says that it was stopped, a
    worker just ends. And a worker whose starter was killed would go on, write into its folder and then wait
    for ever. What it is writing is in its place whole or not at all, so it may end at any moment.
    """
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    starter = parent_process()
    if starter is None:
        return

    def end_with_it() -> None:
        starter.join()
        os._exit(1)

    threading.Thread(target=end_with_it, daemon=True).start()
