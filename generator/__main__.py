"""The command ``rimfold``."""

from __future__ import annotations

import gc
import sys

OBJECTS = 50_000
"""New objects between two searches for what nobody needs any more. Python's 700 would mean some hundreds of
searches while all is loaded, with nothing to find: a tenth of the start."""


def main() -> None:
    """Run the command line and end the process with its exit code."""
    gc.set_threshold(OBJECTS)
    from generator.cli.run import run

    code = run(sys.argv[1:])
    # Before it ends, Python searches everything once more. Files are closed and processes ended by then.
    gc.freeze()
    sys.exit(code)


if __name__ == "__main__":
    main()
