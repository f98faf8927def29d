"""What a bad recipe says of itself: ``# error: LINE:COLUMN fragment`` comments, in order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from generator.base.errors import Fault

_COMMENT = re.compile(r"^# error: (?P<line>\d+):(?P<column>\d+) (?P<fragment>.+)$", re.MULTILINE)


def expected_faults(path: Path) -> list[tuple[int, int, str]]:
    """Line, column and fragment of every fault that the file announces."""
    text = path.read_bytes().decode("utf-8", "replace")
    return [(int(m["line"]), int(m["column"]), m["fragment"].strip()) for m in _COMMENT.finditer(text)]


def differences(expected: Sequence[tuple[int, int, str]], faults: Sequence[Fault]) -> list[str]:
    """One line for each fault that is not as announced; none if all are."""
    found = []
    for index in range(max(len(expected), len(faults))):
        if index >= len(expected):
            found.append(f"not announced: {faults[index]}")
        elif index >= len(faults):
            line, column, fragment = expected[index]
            found.append(f"not found: {line}:{column} {fragment}")
        else:
            line, column, fragment = expected[index]
            fault = faults[index]
            if (fault.span.line, fault.span.column) != (line, column) or fragment not in str(fault):
                found.append(f"expected {line}:{column} {fragment}\n   found {fault}")
    return found
