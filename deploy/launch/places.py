"""Where things lie in the project folder."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / "bin" / "python"
NODE_WHEEL = ROOT / ".venv-node"
FRONTEND = ROOT / "frontend"
BUILT_APP = FRONTEND / "dist"
CONSTRAINTS = ROOT / "deploy" / "constraints.txt"
PYPROJECT = ROOT / "pyproject.toml"
SCRATCH = ROOT / "var"
