"""The test command: what it counts, when it fails, and the servers it starts for a run."""

import os
from pathlib import Path

import psycopg
import pytest
import redis

from deploy.launch.node import Node
from deploy.proving import main as command
from deploy.proving.generated import differences
from deploy.proving.results import Counts, Result, counts_of, judged, summary
from deploy.proving.servers import (
    NoServer,
    newest,
    postgresql_programs,
    private_postgresql,
    private_redis,
)
from deploy.proving.stages import NAMES, Stage, Tools, all_stages
from tests.deploy.processes import is_running, until

REPORT = """<testsuites><testsuite>
<testcase classname="a" name="good"/>
<testcase classname="a" name="bad"><failure message="no"/></testcase>
<testcase classname="a" name="broken"><error message="no"/></testcase>
<testcase classname="a" name="left"><skipped message="needs PostgreSQL"/></testcase>
</testsuite></testsuites>"""


def tools(**missing):
    return Tools(Node(Path("/node"), "v20.19.0"), Path("/reports"), missing=missing)


def test_counts_come_from_the_report_with_the_reasons_of_what_was_skipped(tmp_path):
    (tmp_path / "report.xml").write_text(REPORT)

    assert counts_of(tmp_path / "report.xml") == Counts(1, 2, 1, ("a: left: needs PostgreSQL",))


def test_where_skipping_is_forbidden_a_skipped_stage_or_test_has_failed():
    stage = Result("browser", "skipped", note="no Chromium")
    case = Result("pytest-sqlite", "passed", counts=Counts(5, 0, 1, ("one",)))
    clean = Result("pytest-sqlite", "passed", counts=Counts(5))

    assert [judged(one, skips_allowed=False).outcome for one in (stage, case, clean)] == [
        "failed",
        "failed",
        "passed",
    ]
    assert [judged(one, skips_allowed=True).outcome for one in (stage, case)] == [
        "skipped",
        "passed",
    ]


def test_the_summary_names_every_stage_every_reason_and_the_totals():
    said = summary(
        [
            Result("ruff", "passed", 1.5),
            Result("pytest-sqlite", "passed", 9, "5 passed", Counts(5, 0, 1, ("x: needs Redis",))),
            Result("browser", "skipped", note="no Chromium; run: apt-get install -y chromium"),
        ]
    )

    assert "ruff" in said
    assert "  pytest-sqlite: x: needs Redis" in said
    assert "apt-get install -y chromium" in said
    assert said.endswith(
        "Stages: 2 passed, 0 failed, 1 skipped. Tests: 5 passed, 0 failed, 1 skipped."
    )


def test_stages_and_their_list_of_names_agree():
    assert tuple(stage.name for stage in all_stages(tools())) == NAMES


def test_without_servers_their_stages_say_why_and_sqlite_runs_everything_it_can():
    stages = {stage.name: stage for stage in all_stages(tools(postgresql="no PostgreSQL"))}

    assert stages["pytest-postgresql"].skip == "no PostgreSQL"
    assert stages["browser"].skip == "no PostgreSQL"
    assert "-m" not in stages["pytest-sqlite"].command[3:]


def test_with_servers_sqlite_leaves_to_them_what_only_they_can_show():
    stages = {stage.name: stage for stage in all_stages(tools())}

    assert "not (postgresql or real_redis)" in stages["pytest-sqlite"].command


@pytest.fixture
def logs(tmp_path, monkeypatch):
    monkeypatch.setattr(command, "LOGS", tmp_path)
    monkeypatch.setattr(command, "ROOT", tmp_path)
    return tmp_path


def test_a_failed_stage_shows_the_end_of_its_log(logs, capfd):
    result = command.run(Stage("broken", ("sh", "-c", "echo reason; exit 3"), logs))

    assert (result.outcome, result.note) == ("failed", "exit code 3, see broken.log")
    assert "reason" in capfd.readouterr().err


def test_what_a_stage_left_running_ends_with_it(logs):
    stage = Stage("leaves", ("sh", "-c", "sleep 60 & echo $!"), logs)

    assert command.run(stage).outcome == "passed"

    pid = int((logs / "leaves.log").read_text())
    until(lambda: not is_running(pid))


def test_a_test_sees_nothing_of_a_shop_that_runs_here(logs, monkeypatch):
    monkeypatch.setenv("DATABASE_URL", "postgresql://the-real-shop")
    monkeypatch.setenv("DATA_DIR", "/the/real/shop")
    stage = Stage("env", ("sh", "-c", "echo [$DATABASE_URL] $DATA_DIR"), logs)

    command.run(stage)

    said = (logs / "env.log").read_text()
    assert said.startswith("[] ")
    assert "real" not in said


def test_the_newest_version_is_a_matter_of_numbers_not_of_letters(tmp_path):
    folders = [tmp_path / name for name in ("9.6", "15", "common")]

    assert newest(folders) == tmp_path / "15"
    assert newest([]) is None


def test_differences_are_shown_line_by_line():
    assert differences("a\nb\n", "a\nb\n") == []
    assert "+c" in differences("a\nb\n", "a\nc\n")


def test_a_machine_without_postgresql_is_told_the_package(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))

    with pytest.raises(NoServer, match="apt-get install -y postgresql"):
        postgresql_programs(tmp_path)


@pytest.mark.postgresql
def test_the_private_postgresql_answers_with_its_password_only_and_is_gone_afterwards():
    with private_postgresql() as url:
        with psycopg.connect(url) as connection:
            assert connection.execute("SHOW fsync").fetchone() == ("off",)
        with pytest.raises(psycopg.OperationalError, match="password"):
            psycopg.connect(url.replace("lampledger:", "lampledger:wrong"))
        kept = [name for name in os.listdir("/tmp") if name.startswith("lampledger-pg-")]  # noqa: PTH208

    assert kept
    with pytest.raises(psycopg.OperationalError):
        psycopg.connect(url, connect_timeout=2)


@pytest.mark.real_redis
def test_the_private_redis_answers_with_its_password_only_and_is_gone_afterwards():
    with private_redis() as url:
        client = redis.Redis.from_url(url)
        assert client.ping()
        client.close()
        stranger = redis.Redis.from_url(url.replace("redis://:", "redis://:wrong"))
        with pytest.raises(redis.AuthenticationError):
            stranger.ping()
        stranger.close()

    gone = redis.Redis.from_url(url, retry=None)
    with pytest.raises(redis.ConnectionError):
        gone.ping()
    gone.close()
