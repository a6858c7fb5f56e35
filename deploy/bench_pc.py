"""Make a PC at a bench ready to read instruments: `python3 deploy/bench_pc.py`.

This file stays readable for every old Python, so that too old a one gets one clear line.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an old Python may well read this
    have = "%d.%d" % sys.version_info[:2]  # noqa: UP031 - it may not know other ways
    sys.exit("Cannot start: this is Python " + have + "; lampledger needs Python 3.11 or newer.")

from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[1])

from deploy.launch.environment import ensure_instruments  # noqa: E402 - needs the folder above
from deploy.launch.places import VENV_PYTHON  # noqa: E402
from deploy.launch.problems import CannotStart, tell  # noqa: E402


def main() -> int:
    """Install, then say how to go on. Answers with an exit code."""
    try:
        ensure_instruments()
    except CannotStart as problem:
        return tell(problem)
    print(f"Ready. Which instruments are there: {VENV_PYTHON} -m shop meter list")
    return 0


if __name__ == "__main__":
    sys.exit(main())
