"""The commented recipe that ``rimfold new`` writes."""

from __future__ import annotations

from generator.base.assets import data_folder


def starter() -> str:
    """Text of the starter recipe. Raises FileNotFoundError only if the installation is broken."""
    return (data_folder("templates") / "starter.yaml").read_text(encoding="utf-8")
