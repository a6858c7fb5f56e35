"""The folder as a broker: a message is taken whole or not at all."""

import json
import multiprocessing
import time

import pytest
from kombu import Connection

from shop import folder_broker

MESSAGES = 300


def connection(folder):
    options = {
        "data_folder_in": str(folder), "data_folder_out": str(folder),
        "control_folder": str(folder.parent / "control"), "polling_interval": 0.01,
    }  # fmt: skip
    return Connection(f"{folder_broker.SCHEME}://", transport_options=options)


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "queue" / "messages"  # made by whoever uses it first


def send(folder, first):
    with connection(folder) as link, link.SimpleQueue("bench") as queue:
        for number in range(first, first + MESSAGES):
            queue.put({"number": number, "filling": "x" * 5000})


def test_messages_written_by_two_processes_are_all_read_whole_and_once(folder):
    writers = [
        multiprocessing.get_context("fork").Process(target=send, args=(folder, first))
        for first in (0, MESSAGES)
    ]
    for writer in writers:
        writer.start()

    seen = []
    end = time.monotonic() + 30
    with connection(folder) as link, link.SimpleQueue("bench") as queue:
        while len(seen) < 2 * MESSAGES and time.monotonic() < end:
            try:
                message = queue.get(timeout=1)
            except queue.Empty:
                continue
            seen.append(message.payload["number"])
            message.ack()
    for writer in writers:
        writer.join()

    assert sorted(seen) == list(range(2 * MESSAGES))
    assert list(folder.iterdir()) == []


def test_a_message_that_is_not_written_to_its_end_is_not_seen(folder):
    folder.mkdir(parents=True)
    (folder / "0198.part").write_bytes(json.dumps({"half": 1}).encode()[:5])

    with connection(folder) as link:
        queue = link.SimpleQueue("bench")
        with pytest.raises(queue.Empty):
            queue.get(timeout=0.2)
