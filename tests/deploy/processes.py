"""Looking at processes and waiting for what the kernel does in its own time."""

import time


def is_running(pid):
    """A zombie has ended, though its number is still taken."""
    try:
        with open(f"/proc/{pid}/stat") as file:  # noqa: PTH123 - one line of the kernel's
            return file.read().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def until(true, seconds=10.0):
    deadline = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < deadline, "did not happen in time"
        time.sleep(0.05)
