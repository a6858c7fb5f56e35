"""Install what the tests need and run all of them: `python3 deploy/test.py`; `--list` names them.

This file stays readable for every old Python, so that too old a one gets one clear line.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an old Python may well read this
    have = "%d.%d" % sys.version_info[:2]  # noqa: UP031 - it may not know other ways
    sys.exit("Cannot start: this is Python " + have + "; lampledger needs Python 3.11 or newer.")

from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[1])

from deploy.proving.main import main  # noqa: E402 - needs the folder above on the path

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
