"""The stages of a full test run, as data: what is run, with what, and when it cannot be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from deploy.launch.node import Node
from deploy.launch.places import FRONTEND, ROOT, VENV

BROWSER_TESTS = "tests/e2e"
PICTURE_TESTS = "tests/scan"  # a minute of decoding that no database changes
ON_REAL_SERVERS = "postgresql or real_redis"


@dataclass(frozen=True)
class Tools:
    """What this machine has to offer; `missing` says in words why something is None."""

    node: Node
    reports: Path
    postgresql_url: str | None = None
    redis_url: str | None = None
    chromium: str | None = None
    missing: Mapping[str, str] = field(default_factory=dict)

    def why_without(self, *names: str) -> str | None:
        reasons = [self.missing[name] for name in names if name in self.missing]
        return "; ".join(reasons) or None


@dataclass(frozen=True)
class Stage:
    """One command with its name. `skip` says why it cannot run; `report` is its JUnit file."""

    name: str
    command: tuple[str, ...]
    cwd: Path = ROOT
    env: Mapping[str, str] = field(default_factory=dict)
    skip: str | None = None
    report: Path | None = None


NAMES = (
    "ruff", "format", "mypy-shop", "mypy-rest", "imports", "migrations", "check-deploy", "schema",
    "pytest-sqlite", "pytest-postgresql", "frontend-types", "frontend-check", "frontend-lint",
    "frontend-test", "frontend-build", "frontend-size", "browser", "lighthouse",
)  # fmt: skip

GROUPS = {
    "lint": (*NAMES[:8], "frontend-types", "frontend-check", "frontend-lint"),
    "unit": ("pytest-sqlite", "frontend-test"),
}


def all_stages(tools: Tools) -> list[Stage]:
    """In the order of NAMES: quick ones first, then the tests, then what needs a browser."""
    return [*_reading_the_code(), *_python_tests(tools), *_frontend(tools), *_in_browsers(tools)]


def tool(name: str) -> str:
    return str(VENV / "bin" / name)


def _reading_the_code() -> list[Stage]:
    python = tool("python")
    shop = (python, "-m", "shop")
    https = {
        "SECURE": "true",
        "ALLOWED_HOSTS": "shop.example",
        "PUBLIC_URL": "https://shop.example",
        "HSTS_SECONDS": "31536000",
    }
    return [
        Stage("ruff", (tool("ruff"), "check", ".")),
        Stage("format", (tool("ruff"), "format", "--check", ".")),
        Stage("mypy-shop", (tool("mypy"), "--strict", "shop")),
        Stage("mypy-rest", (tool("mypy"), "api", "deploy")),
        Stage("imports", (tool("lint-imports"),)),
        Stage("migrations", (*shop, "makemigrations", "--check", "--dry-run")),
        Stage("check-deploy", (*shop, "check", "--deploy", "--fail-level", "WARNING"), env=https),
        Stage("schema", (python, "-m", "deploy.proving.generated", "schema")),
    ]


def _python_tests(tools: Tools) -> list[Stage]:
    """On SQLite the tests that need a real server are left to the other stage when there is one.

    Two processes, each with a database of its own; tests that need a broker start their own.
    """
    why_not = tools.why_without("postgresql", "redis")
    elsewhere = () if why_not else ("-m", f"not ({ON_REAL_SERVERS})")
    on_servers = {
        "DATABASE_URL": tools.postgresql_url or "",
        "REDIS_URL": tools.redis_url or "",
    }
    in_two = ("-n", "2", f"--ignore={BROWSER_TESTS}")
    return [
        _pytest(tools, "pytest-sqlite", *in_two, *elsewhere),
        _pytest(
            tools,
            "pytest-postgresql",
            *in_two,
            f"--ignore={PICTURE_TESTS}",
            env=on_servers,
            skip=why_not,
        ),
    ]


def _in_browsers(tools: Tools) -> list[Stage]:
    """The browser tests, and Lighthouse, whose figures stand in its log and are not judged."""
    given = {
        "TEST_DATABASE_URL": tools.postgresql_url or "",
        "TEST_REDIS_URL": tools.redis_url or "",
        "DATABASE_URL": tools.postgresql_url or "",
        "REDIS_URL": tools.redis_url or "",
        "CHROMIUM": tools.chromium or "",
    }
    why_not = tools.why_without("chromium", "postgresql", "redis")
    lighthouse = (tool("python"), "-m", "tests.e2e.lighthouse")
    return [
        _pytest(tools, "browser", BROWSER_TESTS, env=given, skip=why_not),
        Stage("lighthouse", lighthouse, env=given, skip=why_not),
    ]


def _pytest(
    tools: Tools,
    name: str,
    *words: str,
    env: Mapping[str, str] | None = None,
    skip: str | None = None,
) -> Stage:
    report = tools.reports / f"{name}.xml"
    command = (tool("python"), "-m", "pytest", "-p", "no:cacheprovider", f"--junitxml={report}")
    return Stage(name, (*command, *words), env=env or {}, skip=skip, report=report)


def _frontend(tools: Tools) -> list[Stage]:
    report = tools.reports / "frontend-test.xml"
    npm = (str(tools.node.npm), "run", "--silent")
    env = tools.node.environment()
    vitest = ("test", "--", "--reporter=default", "--reporter=junit",
              f"--outputFile.junit={report}")  # fmt: skip
    types = (tool("python"), "-m", "deploy.proving.generated", "types")
    return [
        Stage("frontend-types", types, env=env),
        Stage("frontend-check", (*npm, "check"), FRONTEND, env),
        Stage("frontend-lint", (*npm, "lint"), FRONTEND, env),
        Stage("frontend-test", (*npm, *vitest), FRONTEND, env, report=report),
        Stage("frontend-build", (*npm, "build"), FRONTEND, env),
        Stage("frontend-size", (*npm, "size"), FRONTEND, env),
    ]
