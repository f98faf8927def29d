"""Numbers as they stand in a sentence of an error, a warning or a formula (English, mm)."""

from __future__ import annotations


def plain(value: float, digits: int = 1) -> str:
    """A number with at most ``digits`` decimals and without trailing zeros: 12, 3.5, 1099.6."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def mm(value: float) -> str:
    """A length in mm with its unit, to a tenth."""
    return f"{plain(value)} mm"
