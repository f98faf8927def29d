"""Writes which techniques of this installation are sound: ``.venv/bin/python -m tests.plan.sound``.

Do so after a change of a technique in ``recipes/techniques`` or of the English wording, when the tests pass.
"""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

from generator.plan.build import load_technique
from generator.plan.sound import FILE, Asked, folder, wording_hash


def told() -> dict[str, Any]:
    """What the file should hold. Raises TechniqueError for a technique that is not sound."""
    found = {}
    for path in sorted(folder().glob("*.yaml")):
        technique = load_technique(path.stem)
        keys = [field.name for field in fields(Asked)]
        asks = [
            {key: ask.holds.text if key == "holds" else getattr(ask, key) for key in keys}
            for ask in technique.asks
        ]
        found[path.stem] = {"sha256": technique.digest, "asks": asks}
    return {"wording": wording_hash(), "techniques": found}


if __name__ == "__main__":
    (folder() / FILE).write_text(json.dumps(told(), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
