"""Settings for all tests."""

from __future__ import annotations

import os

from hypothesis import settings

# A loaded machine is no failure, and a run of CI must be repeatable.
settings.register_profile("rimfold", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("rimfold")
