"""What stops a start: told in lines a person can act on, never as a traceback."""

from __future__ import annotations

import sys


class CannotStart(Exception):
    """One or more reasons, each a single line that names the remedy."""

    def __init__(self, *lines: str) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


def tell(problem: CannotStart) -> int:
    """Write the reasons to the error output; answers with the exit code of a failed start."""
    for line in problem.lines:
        print(f"Cannot start: {line}", file=sys.stderr)
    return 1
