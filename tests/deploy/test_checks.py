"""Each refusal is one line that names the remedy."""

import os
import socket
import tempfile
from pathlib import Path

import pytest

from deploy.launch import checks


@pytest.mark.parametrize("version", [(3, 11), (3, 12), (4, 0)])
def test_a_python_that_is_new_enough_passes(version):
    assert checks.python_new_enough(version) is None


@pytest.mark.parametrize("version", [(2, 7), (3, 6), (3, 10)])
def test_an_old_python_is_named_with_the_one_that_is_needed(version):
    line = checks.python_new_enough(version)

    assert f"Python {version[0]}.{version[1]};" in line
    assert "3.11" in line


def test_an_old_sqlite_is_named():
    assert "3.31.1" in checks.sqlite_new_enough((3, 31, 1))
    assert checks.sqlite_new_enough((3, 37, 0)) is None


def test_a_python_without_ensurepip_is_told_the_package():
    assert "apt-get install -y python3-venv" in checks.venv_can_be_made(("no_such_module",))
    assert checks.venv_can_be_made(("venv",)) is None


def test_missing_libraries_are_told_as_one_apt_line():
    line = checks.libraries_present(
        {"libc.so.6": "libc6", "libnot-a-1.so": "not-a", "libnot-b.so": "not-b"}
    )

    assert line.endswith("apt-get install -y --no-install-recommends not-a not-b")


def test_libraries_that_load_are_no_problem():
    assert checks.libraries_present({"libc.so.6": "libc6"}) is None


def test_a_busy_port_is_named_together_with_the_option():
    with socket.create_server(("127.0.0.1", 0)) as busy:
        port = busy.getsockname()[1]

        line = checks.port_free("127.0.0.1", port)

    assert f"port {port} " in line
    assert "--port" in line
    assert "\n" not in line
    assert checks.port_free("127.0.0.1", port) is None


def test_a_port_is_busy_even_for_a_server_that_would_share_it():
    with socket.socket() as busy:
        busy.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEPORT, 1)
        busy.bind(("127.0.0.1", 0))
        busy.listen(1)

        assert checks.port_free("127.0.0.1", busy.getsockname()[1])


def test_a_folder_is_made_and_left_empty(tmp_path):
    assert checks.folder_writable(tmp_path / "a" / "b") is None
    assert list((tmp_path / "a" / "b").iterdir()) == []


def test_a_folder_below_a_file_is_refused(tmp_path):
    (tmp_path / "file").write_text("")

    assert "cannot be written to" in checks.folder_writable(tmp_path / "file" / "data")


def test_a_read_only_folder_is_refused_for_an_ordinary_user():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "read-only"
        folder.mkdir(mode=0o555)
        Path(name).chmod(0o755)

        assert _line_for_ordinary_user(folder) == (
            f"the folder {folder} cannot be written to (Permission denied)."
        )


def _line_for_ordinary_user(folder):
    """Root may write anywhere, so a child gives up its rights first."""
    ear, mouth = os.pipe()
    child = os.fork()
    if child == 0:
        if os.getuid() == 0:
            os.setuid(65534)
        os.write(mouth, (checks.folder_writable(folder) or "").encode())
        os._exit(0)
    os.close(mouth)
    os.waitpid(child, 0)
    with os.fdopen(ear) as said:
        return said.read()


def test_too_little_room_is_told_in_gigabytes(tmp_path):
    assert "1000000.0 GB are needed" in checks.room_on_disk(tmp_path / "not-yet", 10**15)
    assert checks.room_on_disk(tmp_path, 1) is None


def test_a_folder_of_another_user_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "getuid", lambda: tmp_path.stat().st_uid + 1)

    assert "another user" in checks.folder_private(tmp_path)
    assert checks.folder_private(tmp_path / "not-yet") is None
