"""`python -m shop calc <name> '<json>'`: one calculator, its answer as JSON.

`python -m shop calc --pages docs/calculations` writes the generated parts of the documentation.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from shop.calc.pages import write
from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

USAGE = "usage: python -m shop calc <name> '<json>'   (no arguments: the list of names)"


def run(arguments: list[str]) -> int:
    """Print an answer, or one clear line on stderr. Returns 0, or 2 for bad input."""
    if not arguments:
        print("\n".join(f"{name}  {one.title}" for name, one in calculators().items()))
        return 0
    if len(arguments) != 2:
        return _refuse(USAGE)
    name, text = arguments
    if name == "--pages":
        write(Path(text))
        return 0
    try:
        answer = work_out(name, _read_json(text))
    except KeyError:
        return _refuse(f"there is no calculator called {name!r}")
    except BadInput as error:
        return _refuse(str(error))
    print(json.dumps(answer_as_json(answer), indent=2, ensure_ascii=False))
    return 0


def _read_json(text: str) -> dict[str, object]:
    try:
        given = json.loads(text)
    except ValueError as error:
        raise BadInput("input", f"is not JSON: {error}") from error
    if not isinstance(given, dict):
        raise BadInput("input", "must be a JSON object")
    return given


def _refuse(reason: str) -> int:
    print(reason, file=sys.stderr)
    return 2
