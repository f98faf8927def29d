"""Pydantic without what it looks for and we do not have.

Loading what looks for it takes a third as long as pydantic itself.
"""

from __future__ import annotations

import os
import sys
from importlib import import_module
from types import ModuleType
from typing import Any

_INSTALLED = "importlib.metadata"


def without_plugins() -> None:
    """Have pydantic look for no plug-ins, and not load what looks for them; before it builds a validator.

    Whoever has set the variable otherwise is left alone.
    """
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    if os.environ["PYDANTIC_DISABLE_PLUGINS"] != "__all__" or _INSTALLED in sys.modules:
        return
    # Its loader asks for the list of all that is installed when it is loaded itself, and with it for the
    # libraries for mail and archives. For that moment it gets a name in its place, which finds the list if it
    # is ever asked after all.
    stand_in = ModuleType(_INSTALLED)
    stand_in.__dict__["entry_points"] = _entry_points
    sys.modules[_INSTALLED] = stand_in
    try:
        import_module("pydantic.plugin._loader")
    except ImportError:
        # Another version of pydantic has it elsewhere; then all is loaded as ever.
        return
    finally:
        del sys.modules[_INSTALLED]


def _entry_points(**wanted: Any) -> Any:
    from importlib.metadata import entry_points

    return entry_points(**wanted)
