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
    """Where the suite runs in the background a shell makes it deaf to Ctrl-C, and so all that it starts.

    Tests of Ctrl-C would then prove nothing.
    """
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden", action="store_true", help="write the golden figures anew: look at them first"
    )
