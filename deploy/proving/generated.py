"""Is what was generated and committed still what its source would give?"""

from __future__ import annotations

import difflib
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from deploy.launch.places import FRONTEND, ROOT

SCHEMA = ROOT / "docs" / "openapi.json"
TYPES = FRONTEND / "src" / "lib" / "api" / "schema.d.ts"
MOST_LINES = 60


def generate_schema(file: Path) -> None:
    """The OpenAPI schema, validated; a warning of drf-spectacular is an error."""
    words = ["spectacular", "--validate", "--fail-on-warn", "--format", "openapi-json"]
    command = [sys.executable, "-m", "shop", *words, "--file", str(file)]
    subprocess.run(command, cwd=ROOT, check=True)


def generate_types(file: Path) -> None:
    program = FRONTEND / "node_modules" / "openapi-typescript" / "bin" / "cli.js"
    command = ["node", str(program), str(SCHEMA), "-o", str(file)]
    subprocess.run(command, cwd=FRONTEND, check=True)


KINDS: dict[str, tuple[Path, Callable[[Path], None], str]] = {
    "schema": (SCHEMA, generate_schema, "python -m deploy.proving.generated schema --write"),
    "types": (TYPES, generate_types, "npm run types"),
}


def differences(committed: str, generated: str) -> list[str]:
    """The first lines in which they differ; none when they are the same."""
    lines = difflib.unified_diff(
        committed.splitlines(), generated.splitlines(), "committed", "generated", lineterm="", n=1
    )
    return list(lines)[:MOST_LINES]


def main(kind: str, *words: str) -> int:
    committed, generate, remedy = KINDS[kind]
    if "--write" in words:
        generate(committed)
        return 0
    with tempfile.TemporaryDirectory() as folder:
        fresh = Path(folder) / committed.name
        try:
            generate(fresh)
        except subprocess.CalledProcessError as failed:
            return failed.returncode  # it has said why
        kept = committed.read_text() if committed.exists() else ""
        found = differences(kept, fresh.read_text())
    if found:
        print("\n".join(found))
        print(f"{committed.relative_to(ROOT)} is out of date; run: {remedy}")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
