"""Settings for all tests."""

from __future__ import annotations

import os
import signal

import pytest
from hypothesis import settings

# A loaded machine is no failure, and a run of CI must be repeatable.
settings.register_profile("rimfold", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("rimfold")


def pytest_configure() -> None:
    """No test hangs on the machine's language, nor on whether Ctrl-C is heard.

    Where the suite runs in the background a shell makes it deaf to Ctrl-C, and so all that it starts.

    Tests of Ctrl-C would then prove nothing.
    """
    # Faults are told in the language of whoever runs the command: here that is nobody's.
    os.environ["LC_ALL"] = "C.UTF-8"
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden", action="store_true", help="write the golden figures anew: look at them first"
    )
