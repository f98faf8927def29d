"""A place in a file."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """File as the user named it, line and column counted from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"

    @property
    def order(self) -> tuple[int, int]:
        """Sort key: reading order within the file."""
        return (self.line, self.column)
